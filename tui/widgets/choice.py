"""One of a few things to choose, each on its own row; nothing is chosen until somebody does."""

from __future__ import annotations

from collections.abc import Sequence

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.strip import Strip
from textual.widget import Widget

from upkeep.wording.text import fit

_FOCUSED = Style(reverse=True)


class Choice(Widget, can_focus=True):
    """Rows of which one is marked ``(x)``; up and down move, and so does the first letter or figure of a row.

    ``chosen`` is the place of the marked row; None: nothing chosen yet.
    """

    DEFAULT_CSS = "Choice { height: auto; width: 1fr; }"

    def __init__(self, rows: Sequence[str], chosen: int | None = None, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._rows = tuple(rows)
        self.chosen = chosen

    def choose(self, place: int) -> None:
        """Marks a row."""
        self.chosen = place
        self.refresh()

    def get_content_height(self, container: object, viewport: object, width: int) -> int:
        """One row each."""
        return len(self._rows)

    def render_line(self, y: int) -> Strip:
        """A row with its mark."""
        width, style = self.size.width, self.rich_style
        if y >= len(self._rows):
            return Strip.blank(width, style)
        marked = y == self.chosen
        if self.has_focus and (marked or (self.chosen is None and y == 0)):
            style += _FOCUSED
        return Strip([Segment(fit(f" ({'x' if marked else ' '}) {self._rows[y]}", width), style)])

    def on_key(self, event: events.Key) -> None:
        """Moves the mark."""
        place = self._place_for(event)
        if place is not None:
            event.stop()
            self.choose(max(0, min(place, len(self._rows) - 1)))

    def _place_for(self, event: events.Key) -> int | None:
        if event.key in ("up", "down", "space"):
            step = -1 if event.key == "up" else 1
            return 0 if self.chosen is None else self.chosen + step
        if event.character is None or not event.character.isalnum():
            return None
        starts = [row[:1].casefold() == event.character.casefold() for row in self._rows]
        return starts.index(True) if True in starts else None

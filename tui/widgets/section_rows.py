"""Rows under headings: up and down go from row to row, whatever heading is between."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

from tui.keys import Where, bindings_at
from tui.messages import RowSelected
from tui.present.sections import Shown
from upkeep.wording.text import fit

Row = TypeVar("Row")

_SELECTED, _HEADING = Style(reverse=True), Style(bold=True, underline=True)


class SectionRows(Widget, Generic[Row], can_focus=True):
    """A list of rows and headings, of which only rows are selected.  ``name`` gives what a row is known by, whatever
    has changed about it."""

    DEFAULT_CSS = "SectionRows { height: 1fr; width: 1fr; min-height: 3; }"
    BINDINGS = bindings_at(Where.LIST)

    def __init__(self, name: Callable[[Row], object]) -> None:
        super().__init__()
        self._known_by = name
        self._shown: tuple[Shown[Row], ...] = ()
        self.cursor = self.top = 0

    def show(self, shown: tuple[Shown[Row], ...]) -> None:
        """Shows these rows; the selected one stays selected where what it stands for is still among them."""
        kept = self.selected
        self._shown = shown
        known_by = None if kept is None else self._known_by(kept)
        rows = ((place, one.row) for place, one in enumerate(shown) if one.row is not None)
        places = [place for place, row in rows if kept is not None and self._known_by(row) == known_by]
        self._select(places[0] if places else min(self.cursor, len(shown) - 1))

    @property
    def selected(self) -> Row | None:
        """What the selected row stands for; None: there is none."""
        return self._shown[self.cursor].row if 0 <= self.cursor < len(self._shown) else None

    def go_to(self, heading: str) -> None:
        """Selects the first row of the part whose heading begins so."""
        for place, one in enumerate(self._shown):
            if one.row is None and one.text.startswith(heading):
                self.top = place
                self._select(place + 1)

    def render_line(self, y: int) -> Strip:
        """A row, or a heading."""
        width, style, place = self.size.width, self.rich_style, self.top + y
        if place >= len(self._shown):
            return Strip.blank(width, style)
        one = self._shown[place]
        if one.row is None:
            style += _HEADING
        elif place == self.cursor:
            style += _SELECTED
        return Strip([Segment(fit(f" {one.text}", width), style)]).adjust_cell_length(width, style)

    def on_resize(self) -> None:
        """Keeps the selected row in sight."""
        self._select(self.cursor)

    def _select(self, place: int, step: int = 1) -> None:
        """Selects the row at a place or the next one in a direction, and brings it and its heading in sight."""
        places = [index for index, one in enumerate(self._shown) if one.row is not None]
        if places:
            ahead = [index for index in places if (index >= place if step > 0 else index <= place)]
            self.cursor = (ahead[0] if step > 0 else ahead[-1]) if ahead else places[-1 if step > 0 else 0]
        high, above = max(self.size.height, 1), self.cursor - 1
        heading = above if above >= 0 and self._shown[above].row is None else self.cursor
        self.top = max(0, min(max(self.top, self.cursor - high + 1), heading))
        self.refresh()
        self.post_message(RowSelected())

    def action_move(self, rows: int) -> None:
        """Selects the row so many below (above: negative)."""
        self._select(self.cursor + rows, rows)

    def action_page(self, screens: int) -> None:
        """Goes so many screenfuls down (up: negative)."""
        self._select(self.cursor + screens * self.size.height, screens)

    def action_first(self) -> None:
        """Selects the first row."""
        self._select(0)

    def action_last(self) -> None:
        """Selects the last row."""
        self._select(len(self._shown) - 1, -1)

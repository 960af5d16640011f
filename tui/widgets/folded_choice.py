"""One of a few things to choose, which takes one row until somebody comes to choose."""

from __future__ import annotations

from collections.abc import Sequence

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.strip import Strip

from tui.messages import Chosen
from tui.widgets.choice import Choice
from upkeep.said import said
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import fit

_STRONG = Style(bold=True)
LABEL_WIDTH = 19
"""Letters of a label, where a form has none wider."""


class FoldedChoice(Choice):
    """A label with the chosen row beside it; all rows below while it has the keys.  A number chooses and tells it."""

    def __init__(
        self, label: str, rows: Sequence[str], chosen: int | None, reader: Reader, width: int = LABEL_WIDTH
    ) -> None:
        super().__init__(rows, chosen)
        self._label, self._label_width = label, width
        self._open, self._none = text(said("press its number"), reader), text(said("there is none"), reader)

    def get_content_height(self, container: object, viewport: object, width: int) -> int:
        """One row; the others below it while one chooses."""
        return 1 + (len(self._rows) if self.has_focus else 0)

    def render_line(self, y: int) -> Strip:
        """The label with what is chosen, or a row to choose."""
        if y:
            return super().render_line(y - 1)
        chosen = self._open if self.chosen is None else self._rows[self.chosen]
        shown = fit(fit(self._label, self._label_width) + (chosen if self._rows else self._none), self.size.width)
        return Strip([Segment(shown, self.rich_style + _STRONG)])

    def on_focus(self) -> None:
        """Unfolds."""
        self.refresh(layout=True)

    def on_blur(self) -> None:
        """Folds."""
        self.refresh(layout=True)

    def on_key(self, event: events.Key) -> None:
        """Moves the mark; a number or letter that chose tells so."""
        before = self._place_for(event)
        super().on_key(event)
        if before is not None and event.key not in ("up", "down", "space"):
            self.post_message(Chosen())

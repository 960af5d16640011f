"""The lines of a round: up to nine in sight, each with the number that signs it."""

from __future__ import annotations

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

from tui.keys import Where, bindings_at
from tui.messages import LineSelected
from tui.present.moments import Now
from tui.present.walk import number_cap, numbered_row
from upkeep.views.board import BoardLine

_SELECTED = Style(reverse=True)
_CAP = Style(reverse=True, bold=True)
_MOST_NUMBERS = 9


class NumberedLines(Widget, can_focus=True):
    """Lines with numbers 1 to 9, which belong to the lines in sight; on key caps while the numbers sign."""

    DEFAULT_CSS = "NumberedLines { height: 1fr; width: 1fr; min-height: 3; }"
    BINDINGS = bindings_at(Where.LIST)

    def __init__(self) -> None:
        super().__init__()
        self._lines: tuple[BoardLine, ...] = ()
        self._shift: str | None = None
        self._now: Now | None = None
        self.cursor, self.top = 0, 0

    def show(self, lines: tuple[BoardLine, ...], shift: str | None, now: Now) -> None:
        """Shows these lines in this shift; the selected one stays selected where it is still among them."""
        kept = self.selected
        self._lines, self._shift, self._now = lines, shift, now
        places = [index for index, line in enumerate(lines) if kept and line.line == kept.line]
        self._select(places[0] if places else self.cursor)

    @property
    def selected(self) -> BoardLine | None:
        """The selected line; None if there is none."""
        return self._lines[self.cursor] if self.cursor < len(self._lines) else None

    def numbered(self, number: int) -> BoardLine | None:
        """The line that carries this number now; None if no line does."""
        index = self.top + number - 1
        return self._lines[index] if number <= self._shown and index < len(self._lines) else None

    def select_number(self, number: int) -> None:
        """Selects the line that carries this number."""
        self._select(self.top + number - 1)

    def select_item(self, item: str) -> None:
        """Selects the first line of an item; none where it has none here."""
        places = [index for index, line in enumerate(self._lines) if line.item == item]
        if places:
            self._select(places[0])

    @property
    def _shown(self) -> int:
        return max(1, min(self.size.height, _MOST_NUMBERS))

    def render_line(self, y: int) -> Strip:
        """A line with its number."""
        width, style = self.size.width, self.rich_style
        index = self.top + y
        if y >= self._shown or index >= len(self._lines) or self._now is None:
            return Strip.blank(width, style)
        cap = Segment(number_cap(y + 1), style + _CAP if self.has_focus else style)
        shown = style + _SELECTED if self.has_focus and index == self.cursor else style
        row = numbered_row(self._lines[index], self._shift, self._now, width - len(cap.text) - 1)
        return Strip([cap, Segment(f" {row}", shown)]).adjust_cell_length(width, shown)

    def on_resize(self) -> None:
        """Keeps the selected line in sight."""
        self._select(self.cursor)

    def _select(self, index: int) -> None:
        self.cursor = max(0, min(index, len(self._lines) - 1))
        lowest = max(len(self._lines) - self._shown, 0)
        self.top = min(max(self.top, self.cursor - self._shown + 1), self.cursor, lowest)
        self.refresh()
        self.post_message(LineSelected(self.selected))

    def action_move(self, rows: int) -> None:
        """Selects the line so many rows below (above: negative)."""
        self._select(self.cursor + rows)

    def action_page(self, screens: int) -> None:
        """Goes so many screenfuls down (up: negative)."""
        self._select(self.cursor + screens * self._shown)

    def action_first(self) -> None:
        """Selects the first line."""
        self._select(0)

    def action_last(self) -> None:
        """Selects the last line."""
        self._select(len(self._lines) - 1)

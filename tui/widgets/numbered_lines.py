"""The lines of a round, each under the number that it keeps for the whole shift; those done stay, ticked."""

from __future__ import annotations

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.strip import Strip
from textual.widget import Widget

from tui.keys import Where, bindings_at
from tui.looks import ink_of
from tui.messages import LineSelected
from tui.present.moments import Now
from tui.present.walk import number_cap, numbered_row, title_cells
from upkeep.views.board import BoardLine
from upkeep.views.round import RoundRow

_SELECTED = Style(reverse=True)
_CAP = Style(reverse=True, bold=True)


class NumberedLines(Widget, can_focus=True):
    """Lines under their numbers, which stand on key caps while the numbers sign."""

    DEFAULT_CSS = "NumberedLines { height: 1fr; width: 1fr; min-height: 3; }"
    BINDINGS = bindings_at(Where.LIST)

    def __init__(self) -> None:
        super().__init__()
        self._lines: tuple[RoundRow, ...] = ()
        self._shift: str | None = None
        self._now: Now | None = None
        self.cursor, self.top = 0, 0

    def show(self, rows: tuple[RoundRow, ...], shift: str | None, now: Now) -> None:
        """Shows these rows in this shift; the selected line stays selected, unless it was done just now: then the next
        one that is still to do is."""
        kept = self._selected_row
        self._lines, self._shift, self._now = rows, shift, now
        place = next((index for index, row in enumerate(rows) if kept and row.line.line == kept.line.line), None)
        if kept is None:
            place = self._to_do_from(0)
        elif place is not None and rows[place].done and not kept.done:
            place = self._to_do_from(place)
        self._select(self.cursor if place is None else place)

    def _to_do_from(self, place: int) -> int:
        """The first row to do from a place on, and after the last one from the first on; the place where none is."""
        order = [*range(place, len(self._lines)), *range(place)]
        return next((index for index in order if not self._lines[index].done), place)

    @property
    def _selected_row(self) -> RoundRow | None:
        return self._lines[self.cursor] if self.cursor < len(self._lines) else None

    @property
    def selected(self) -> BoardLine | None:
        """The selected line; None if there is none."""
        row = self._selected_row
        return row.line if row else None

    @property
    def highest(self) -> int:
        """The highest number here; 0 if there is none."""
        return max((row.number for row in self._lines), default=0)

    def select_number(self, number: int) -> BoardLine | None:
        """Selects the line that carries this number; None if no line does."""
        for index, row in enumerate(self._lines):
            if row.number == number:
                self._select(index)
                return row.line
        return None

    def select_item(self, item: str) -> None:
        """Selects the first line of an item; none where it has none here."""
        places = [index for index, row in enumerate(self._lines) if row.line.item == item]
        if places:
            self._select(places[0])

    @property
    def _shown(self) -> int:
        return max(1, self.size.height)

    def render_line(self, y: int) -> Strip:
        """A line with its number."""
        width, style = self.size.width, self.rich_style
        index = self.top + y
        if index >= len(self._lines) or self._now is None:
            return Strip.blank(width, style)
        row = self._lines[index]
        cap = Segment(number_cap(row.number), style + _CAP if self.has_focus and not row.done else style)
        ink = style if row.done else style + ink_of(self.app, row.line.state)
        shown = ink + _SELECTED if self.has_focus and index == self.cursor else ink
        room = width - len(cap.text) - 1
        told = numbered_row(row, title_cells(self._lines, self._now, room), self._shift, self._now, room)
        return Strip([cap, Segment(f" {told}", shown)]).adjust_cell_length(width, shown)

    def on_click(self, event: events.Click) -> None:
        """Selects the row that was clicked; one that is selected is signed."""
        index = self.top + event.y
        if index < len(self._lines):
            if index == self.cursor:
                self.app.simulate_key("enter")
            self._select(index)

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

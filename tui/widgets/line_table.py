"""The list of lines: only the rows on the screen exist, however long the board is."""

from __future__ import annotations

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from tui.keys import Where, bindings_at
from tui.messages import LineSelected, RowsWanted
from tui.present.board import Layout, layout
from tui.present.moments import Now
from upkeep.views.board import Board, BoardLine

_SELECTED = Style(reverse=True)
_HEADS = Style(bold=True, underline=True)
_ON_ITS_WAY = " …"


class LineTable(Widget, can_focus=True):
    """Lines with one of them selected.  Holds one window of rows and asks for another with :class:`RowsWanted`."""

    DEFAULT_CSS = "LineTable { height: 1fr; width: 1fr; }"
    BINDINGS = bindings_at(Where.LIST)

    def __init__(self) -> None:
        super().__init__()
        self._board: Board | None = None
        self._now: Now | None = None
        self._layout: Layout = layout(80)
        self._asked: tuple[int, int] | None = None
        self._told: tuple[BoardLine | None, range] | None = None
        self.cursor, self.top = 0, 0
        self._stale: set[int] = set()
        self._moved = False
        self.empty_text = ""

    # What is shown

    def show(self, board: Board, now: Now) -> None:
        """Takes a window of rows; the line that was selected stays selected where it is still among them."""
        kept = self.selected
        self._board, self._now, self._asked = board, now, None
        moved_to = self._index_of(kept.line) if kept else None
        self._select(self.cursor if moved_to is None else moved_to)
        self.refresh()

    def start_over(self) -> None:
        """Forgets the rows and selects the first: another question is asked of the book."""
        self._board, self._asked = None, None
        self.cursor, self.top = 0, 0

    def _index_of(self, line: str) -> int | None:
        if self._board is None:
            return None
        places = (index for index, row in enumerate(self._board.rows, self._board.offset) if row.line == line)
        return next(places, None)

    def _row(self, index: int) -> BoardLine | None:
        if self._board is None:
            return None
        place = index - self._board.offset
        return self._board.rows[place] if 0 <= place < len(self._board.rows) else None

    @property
    def selected(self) -> BoardLine | None:
        """The selected line; None while there is none or its row is on its way."""
        return self._row(self.cursor)

    @property
    def total(self) -> int:
        """How many lines there are, shown or not."""
        return self._board.total if self._board else 0

    @property
    def rows_high(self) -> int:
        """How many lines fit under the heads."""
        return max(self.size.height - 1, 1)

    @property
    def in_sight(self) -> range:
        """The rows on the screen, by their place in the list."""
        return range(self.top, min(self.top + self.rows_high, self.total))

    def window(self) -> tuple[int, int]:
        """Offset and number of the rows worth holding: what is in sight and a screenful on either side."""
        return max(0, self.top - self.rows_high), self.rows_high * 3

    # Drawing

    def render_line(self, y: int) -> Strip:
        """The heads in the first row, a line in each other."""
        width, style = self.size.width, self.rich_style
        if y == 0:
            return Strip([Segment(self._layout.heads(), style + _HEADS)]).adjust_cell_length(width, style + _HEADS)
        index = self.top + y - 1
        if index == self.cursor and index < self.total:
            style += _SELECTED
        return Strip([Segment(self._text(index), style)]).adjust_cell_length(width, style)

    def _text(self, index: int) -> str:
        row, now = self._row(index), self._now
        if row is not None and now is not None:
            return self._layout.row(row, now)
        if index < self.total:
            return _ON_ITS_WAY
        return f" {self.empty_text}" if index == 0 and self._board is not None else ""

    def on_resize(self) -> None:
        """Chooses the columns anew and keeps the selected line in sight."""
        self._layout = layout(self.size.width)
        self._select(self.cursor)
        self.refresh()

    # Moving

    def _select(self, index: int) -> bool:
        """Selects the line at this place or the nearest there is, brings it in sight and asks for rows not held.

        Whether that was told with :class:`LineSelected`.
        """
        self.cursor = max(0, min(index, self.total - 1))
        lowest = max(self.total - self.rows_high, 0)
        self.top = min(max(self.top, self.cursor - self.rows_high + 1), self.cursor, lowest)
        self._ask()
        if (self.selected, self.in_sight) == self._told:
            return False
        self._told = (self.selected, self.in_sight)
        self.post_message(LineSelected(self.selected))
        return True

    def _ask(self) -> None:
        missing = any(self._row(index) is None for index in self.in_sight)
        if missing and self.window() != self._asked:
            self._asked = self.window()
            self.post_message(RowsWanted(*self._asked))

    def _go(self, index: int) -> None:
        """Selects as a key does; leaves the drawing to the screen where that has something to say of it as well."""
        before, top = self.cursor, self.top
        told = self._select(index)
        self._stale |= {before, self.cursor}
        self._moved |= self.top != top
        if not told:
            self.redraw()

    def redraw(self) -> None:
        """Draws what keys have changed since the last time: two rows a key, or all of them when the list moved.

        The screen asks for it once it has shown what it says of the selected line: both are painted in one go then,
        and not in one frame after the other.
        """
        if self._moved:
            self.refresh()
        elif self._stale:
            self.refresh(*(Region(0, row - self.top + 1, self.size.width, 1) for row in self._stale))
        self._stale, self._moved = set(), False

    def action_move(self, rows: int) -> None:
        """Selects the line so many rows below (above: negative)."""
        self._go(self.cursor + rows)

    def action_page(self, screens: int) -> None:
        """Goes so many screenfuls down (up: negative)."""
        self._go(self.cursor + screens * self.rows_high)

    def action_first(self) -> None:
        """Selects the first line."""
        self._go(0)

    def action_last(self) -> None:
        """Selects the last line."""
        self._go(self.total - 1)

"""The list of lines: only the rows on the screen exist, however long the board is."""

from __future__ import annotations

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from tui.keys import Where, bindings_at
from tui.looks import ink_of
from tui.messages import LineSelected, RowsWanted
from tui.present.columns import Layout, layout
from tui.present.moments import Now
from upkeep.views.board import Board, BoardLine
from upkeep.wording.sentences import Reader
from upkeep.wording.text import fit

_SELECTED = Style(reverse=True)
_HEADS = Style(bold=True, underline=True)
_ON_ITS_WAY = " …"


MARK = "+"
"""Stands before the place of a line that is marked."""


class LineTable(Widget, can_focus=True):
    """Lines with one of them selected.  Holds one window of rows and asks for another with :class:`RowsWanted`."""

    DEFAULT_CSS = "LineTable { height: 1fr; width: 1fr; }"
    BINDINGS = bindings_at(Where.LIST)

    def __init__(self, reader: Reader) -> None:
        super().__init__()
        self._reader = reader
        self._board: Board | None = None
        self._now: Now | None = None
        self._layout: Layout = layout(80, reader)
        self._asked: tuple[int, int] | None = None
        self._told: tuple[BoardLine | None, range] | None = None
        self.cursor, self.top = 0, 0
        self._stale: set[int] = set()
        self._moved, self._goes_up = False, False
        self._texts: dict[int, str] = {}
        self._style: Style | None = None
        self.empty_text = ""
        self.marked: dict[str, None] = {}
        """The lines that are marked, to be written about at once, in the order in which they were."""

    # What is shown

    def show(self, board: Board, now: Now) -> None:
        """Takes a window of rows; the line that was selected stays selected where it is still among them.

        Rows fetched ahead change nothing that is in sight, and then nothing is drawn.
        """
        kept, before = self.selected, self._seen()
        self._board, self._now, self._asked, self._texts = board, now, None, {}
        if now.reader is not self._reader and self.size.width:  # words of another language may be longer
            self._reader, self._layout = now.reader, layout(self.size.width, now.reader)
        moved_to = self._index_of(kept.line) if kept else None
        self._select(self.cursor if moved_to is None else moved_to)
        if before is None or self._seen() != before:
            self.refresh()
        self.call_after_refresh(self._prepare)

    def _seen(self) -> tuple[object, ...] | None:
        """What there is to see; None before the first rows."""
        if self._board is None:
            return None
        rows = range(self.top, self.top + self.rows_high)
        return self.cursor, self.top, *(self._text(index) for index in rows)

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
        """Offset and number of the rows worth holding: those in sight, a screenful behind, two where keys go."""
        behind = self.rows_high * (2 if self._goes_up else 1)
        return max(0, self.top - behind), self.rows_high * 4

    # Drawing

    def render_line(self, y: int) -> Strip:
        """The heads in the first row, a line in each other."""
        width, style = self.size.width, self._plain_style()
        if y == 0:
            heads = Segment(self._layout.heads(self._reader), style + _HEADS)
            return Strip([heads]).adjust_cell_length(width, style + _HEADS)
        index = self.top + y - 1
        row = self._row(index)
        if row is not None:
            style += ink_of(self.app, row.state)
        if index == self.cursor and index < self.total:
            style += _SELECTED
        text = self._text(index)
        # Other letters are measured again: how wide a terminal draws some of them is judged by who draws.
        return Strip([Segment(text, style)], width if text.isascii() else None).adjust_cell_length(width, style)

    def on_click(self, event: events.Click) -> None:
        """Selects the row that was clicked; one that is selected is opened."""
        index = self.top + event.y - 1
        if event.y and index < self.total:
            if index == self.cursor:
                self.app.simulate_key("enter")
            self._select(index)
            self.refresh()

    def _plain_style(self) -> Style:
        """The style of all rows, looked up once: the search through all that is around the list takes longer than the
        row itself."""
        if self._style is None:
            self._style = self.rich_style
        return self._style

    def notify_style_update(self) -> None:
        """Looks the style up anew."""
        self._style = None
        super().notify_style_update()

    def _text(self, index: int) -> str:
        """A row as wide as the list."""
        if index not in self._texts:
            row, now, width = self._row(index), self._now, self.size.width
            if row is None or now is None:
                return fit(self._instead_of_row(index), width)
            text = self._layout.row(row, now)
            text = text if self._layout.cells == width else fit(text, width)
            if row.line in self.marked:  # in the gap behind the state: nothing of the row gives way to it
                gap = self._layout.columns[0][1]
                text = f"{text[:gap]}{MARK}{text[gap + 1 :]}"
            self._texts[index] = text
        return self._texts[index]

    def turn_mark(self) -> None:
        """Marks the selected line, or takes its mark off, and goes to the next."""
        if self.selected is None:
            return
        name = self.selected.line
        if name in self.marked:
            del self.marked[name]
        else:
            self.marked[name] = None
        self._texts.pop(self.cursor, None)
        self._go(self.cursor + 1)

    def clear_marks(self) -> None:
        """Takes all marks off."""
        self.marked, self._texts = {}, {}
        self.refresh()

    def _instead_of_row(self, index: int) -> str:
        if index < self.total:
            return _ON_ITS_WAY
        return f" {self.empty_text}" if index == 0 and self._board is not None else ""

    def _prepare(self) -> None:
        """Makes the texts of the next screenful while nobody waits for them."""
        first = self.top + (-self.rows_high if self._goes_up else self.rows_high)
        for index in range(max(first, 0), min(first + self.rows_high, self.total)):
            self._text(index)

    def on_resize(self) -> None:
        """Chooses the columns anew and keeps the selected line in sight."""
        self._layout, self._texts = layout(self.size.width, self._reader), {}
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
        """Asks for rows before they come in sight: a screenful ahead where keys go is always held."""
        first = self.top - (self.rows_high if self._goes_up else 0)
        last = self.top + self.rows_high * (1 if self._goes_up else 2) - 1
        missing = self.total and any(self._row(max(0, min(row, self.total - 1))) is None for row in (first, last))
        if missing and self.window() != self._asked:
            self._asked = self.window()
            self.post_message(RowsWanted(*self._asked))

    def _go(self, index: int) -> None:
        """Selects as a key does; leaves the drawing to the screen where that has something to say of it as well."""
        before, top = self.cursor, self.top
        self._goes_up = index < before
        moved = self._select(index)
        self._stale |= {before, self.cursor}
        self._moved |= self.top != top
        if not moved:
            self.redraw()

    def redraw(self) -> None:
        """Draws what keys have changed since the last time: two rows a key, or all of them when the list moved.

        The screen asks for it once it has shown what it says of the selected line: both are painted in one go then,
        and not in one frame after the other.
        """
        if self._moved:
            self.refresh()
            self.call_after_refresh(self._prepare)
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

"""The board: what is due and overdue in the plant, most urgent first."""

from __future__ import annotations

from dataclasses import replace

from textual.app import ComposeResult
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.messages import HomeWanted, LineSelected, OverviewWanted, RoundWanted, RowsWanted
from tui.present.board import head_rows, named_in, nothing_said, reason_text
from tui.present.moments import Now
from tui.present.words import wrapped
from tui.screens.frame.desk import Desk
from tui.screens.frame.doing import DoingScreen
from tui.screens.frame.pick import PickScreen
from tui.widgets.labelled_field import LabelledField
from tui.widgets.line_table import LineTable
from upkeep.due.states import BOARD_ORDER, CALLING, State
from upkeep.plant.model import Kind, Role
from upkeep.said import said, said_many, term
from upkeep.views.board import Board, BoardLine, BoardQuery
from upkeep.views.scanned import Scanned, ScannedItem

_CALLING = BoardQuery(states=frozenset(CALLING), holds_by_item=True)
_WHY_ROWS = 3


class BoardScreen(DoingScreen):
    """The lines that call for somebody, or all; one is selected and its reason stands below."""

    BINDINGS = bindings_at(Where.BOARD)
    WHERE = Where.BOARD
    DEFAULT_CSS = """
    BoardScreen #search { display: none; }
    BoardScreen #search.-open { display: block; }
    BoardScreen #why { height: 3; }
    """

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._query = _CALLING
        self._table = LineTable(desk.reader)
        self._search = LabelledField(desk.words(said("Find item, task, title or place:")), id="search")
        self._board: Board | None = None
        self._now: Now | None = None
        self._window: tuple[int, int] | None = None

    @property
    def selected(self) -> BoardLine | None:
        """The selected line."""
        return self._table.selected

    def compose(self) -> ComposeResult:
        """Head, search, lines, why, foot."""
        yield self.rows("title", "-loud")
        yield self.rows("head")
        yield self._search
        yield self._table
        yield self.rows("why")
        yield from self.foot()

    def on_mount(self) -> None:
        """The lines take the keys."""
        self._table.focus()

    # Showing

    async def view(self) -> None:
        """Fetches the window of rows that is in sight."""
        at, query = self.desk.now(), await self._in_words_of_reader()
        offset, limit = self._window or self._table.window()
        board = await self.desk.clerk.ask(lambda book: book.board(at, query, offset=offset, limit=limit))
        self._board, self._now = board, self.desk.standing_at(at)
        self._table.empty_text = self.desk.words(nothing_said(query))
        self._table.show(board, self._now)
        self._show_head()

    async def _in_words_of_reader(self) -> BoardQuery:
        """What is asked for, in the titles of whoever reads as well as in those the plant wrote first."""
        query, reader = self._query, self.desk.reader
        if not query.search or not reader.texts:
            return query
        titles = await self.desk.clerk.ask(lambda book: {task.id: task.title for task in book.known.tasks.values()})
        return replace(query, also=named_in(query.search, titles, reader))

    def _show_head(self) -> None:
        if self._board is None or self._now is None:
            return
        person = self.desk.here.name if self.desk.here else ""
        width = self.app.size.width
        title, *rest = head_rows(self._board, self._query, self._now, person, width, self._table.in_sight)
        self.rows("title").show([title])
        self.rows("head").show(rest)

    def look(self) -> None:
        """Shows the book as it is now, at the place in the list where one is."""
        self._window = None
        super().look()

    def on_rows_wanted(self, message: RowsWanted) -> None:
        """Fetches rows that came in sight."""
        self._window = (message.offset, message.limit)
        self.do(self.view, group="view")

    def on_line_selected(self, message: LineSelected) -> None:
        """Shows why the selected line stands as it does."""
        line, now = message.line, self.desk.standing_at(self.desk.now())
        rows = wrapped(reason_text(line, now) if line else "", max(self.app.size.width - 2, 10), _WHY_ROWS)
        # Always as many rows: another number of them would lay the whole screen out anew at each key.
        self.rows("why").show([f" {row}" for row in (*rows, *[""] * (_WHY_ROWS - len(rows)))])
        self._show_head()
        self._table.redraw()

    def _ask_for(self, query: BoardQuery) -> None:
        self._query = query
        self._table.start_over()
        self.say(None)
        self.look()

    # Which lines

    def action_search(self) -> None:
        """Opens the search."""
        self._search.add_class("-open")
        self._search.field.focus()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Finds as one types."""
        self._ask_for(replace(self._query, search=event.value.strip()))

    def on_input_submitted(self) -> None:
        """Goes from the search to the lines found."""
        self.action_end_search()

    def action_end_search(self) -> None:
        """Closes the search; what was found stays.  Without a search a station goes home."""
        if not self._search.has_class("-open"):
            self.app.post_message(HomeWanted())
            return
        self._table.focus()
        self._search.remove_class("-open")

    def take_scanned(self, scanned: Scanned) -> None:
        """Shows all lines of an item that was scanned, and what it is."""
        if isinstance(scanned, ScannedItem):
            with self.prevent(Input.Changed):
                self._search.field.value = scanned.item
            self._ask_for(BoardQuery(search=scanned.item))
        super().take_scanned(scanned)

    def action_turn_states(self) -> None:
        """Shows the lines to do, or all."""
        states = frozenset[State]() if self._query.states else frozenset(CALLING)
        self._ask_for(replace(self._query, states=states))

    def action_clear(self) -> None:
        """Shows the lines to do of the whole plant again."""
        self._query = _CALLING
        self._search.field.value = ""
        self._ask_for(_CALLING)

    def action_which(self) -> None:
        """Asks which lines to show."""
        self.bring(self._which)

    async def _which(self) -> None:
        places, items = await self.desk.clerk.ask(lambda book: (book.places(), book.items()))
        presses = [(item.id, item.title) for item in items if item.kind is Kind.PRESS]
        stands = dict([*((place.id, place.title) for place in places), *presses])
        options = [("state:", said("all states"))]
        options += [(f"state:{state}", said("state {state}", state=term(state, "state"))) for state in BOARD_ORDER]
        areas = sorted({place.area for place in places})
        options += [(f"area:{area}", said("area {area}", area=area)) for area in areas]
        options += [
            (f"place:{key}", said("place {place} {title}", place=key, title=title))
            for key, title in sorted(stands.items())
        ]
        options += [(f"role:{role.value}", said("role {role}", role=term(role, "role"))) for role in Role]
        answer = await self.asked(PickScreen(self.desk, said("Which lines?"), options))
        if answer is not None:
            self._ask_for(_narrowed(self._query, *answer.split(":", 1)))

    # Going on

    async def person_came(self) -> None:
        """Turns to the page of the lead when one has come, unless lines are marked for what comes next."""
        here = self.desk.here
        if here is None or self.desk.station is not None or self._table.marked:
            return
        if await self.desk.clerk.ask(lambda book: Role.LEAD in book.known.person(here.id).roles):
            self.app.post_message(OverviewWanted())

    def action_lists(self) -> None:
        """Asks which page to read."""
        self.bring(self.read_a_page)

    def action_open_line(self) -> None:
        """Opens the page of the selected line, or shows the lines a row stands for."""
        from tui.screens.board.detail import DetailScreen

        line = self.selected
        if line is not None and line.for_item:
            self._ask_for(BoardQuery(states=frozenset({State.HELD}), item=line.item))
        elif line is not None:
            self.app.push_screen(DetailScreen(self.desk, line.line))

    # Several lines at once

    def chosen_lines(self) -> tuple[str, ...]:
        """The marked lines, else the selected one."""
        return tuple(self._table.marked) or super().chosen_lines()

    def item_selected(self) -> str | None:
        """The item of the selected line; None where several lines are marked."""
        return None if len(self._table.marked) > 1 else super().item_selected()

    def action_mark(self) -> None:
        """Marks the selected line, or takes its mark off."""
        self._table.turn_mark()
        marked = len(self._table.marked)
        told = said_many("{n} line is marked: what you write next is about it.",
                         "{n} lines are marked: what you write next is about all of them.", n=marked)  # fmt: skip
        self.say(told if marked else None)

    def action_sign(self) -> None:
        """Signs the selected line, or all that are marked."""
        if len(self._table.marked) > 1:
            self.action_deed("sign")
        else:
            super().action_sign()

    def was_written(self) -> None:
        """What was marked was written about."""
        self._table.clear_marks()

    def sign(self, line: BoardLine | None) -> None:
        """Opens the sign-off of a line; a row that stands for several shows them first."""
        if line is not None and line.for_item:
            self.action_open_line()
            self.say(said("Select the line to sign. Press x to show the whole plant again."))
        else:
            super().sign(line)

    def action_home(self) -> None:
        """Shows the page the lead begins with."""
        self.app.post_message(OverviewWanted())

    def action_round(self) -> None:
        """Walks the round of the place the selected line is at."""
        if self.selected is not None:
            self.app.post_message(RoundWanted(self.selected.place))


def _narrowed(query: BoardQuery, field: str, value: str) -> BoardQuery:
    """The query with one field set."""
    if field == "state":
        return replace(query, states=frozenset({State(value)}) if value else frozenset())
    if field == "area":
        return replace(query, area=value)
    return replace(query, place=value) if field == "place" else replace(query, role=value)

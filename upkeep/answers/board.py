"""The board: a window of all lines, and one line by name."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from functools import cached_property
from typing import TYPE_CHECKING

from upkeep.answers.line_states import moment, state_of
from upkeep.due.reason_json import reasons_from
from upkeep.due.states import BOARD_ORDER, State
from upkeep.errors import NotFound
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import near_misses
from upkeep.plant.model import Role
from upkeep.said import listed, said
from upkeep.store.lines import conditions, first_of_holds
from upkeep.store.rows.lines import LineRow
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.views.board import Board, BoardLine, BoardQuery

if TYPE_CHECKING:
    from upkeep.answers.missed import Missed
    from upkeep.answers.under_way.jobs import WorkUnderWay
    from upkeep.views.jobs import Lock


class Boards:
    """Makes the board of one book at the moment of its context."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment

    def window(self, query: BoardQuery, offset: int, limit: int) -> Board:
        """A window of the lines that match, most urgent first.

        Raises :class:`NotFound` where a word of the query names nothing in the book.
        """
        self._check_named(query)
        now = utc_text(self._at)
        where, filters = conditions(
            query.place, query.area, query.item, query.task, query.role, query.search, query.also
        )
        with self._context.file.reading():
            counts = self._context.tallies.at(now, where, filters)
            states = [state for state in BOARD_ORDER if not query.states or state in query.states]
            shown = counts
            if query.holds_by_item and counts[State.HELD]:
                shown = {**counts, State.HELD: self._context.lines.items_held(where, filters)}
                where = first_of_holds(where)
            window = self._context.lines.window(now, states, where, filters, offset, limit, shown)
            rows = tuple(self._lines([(row, state) for state, row in window], by_item=query.holds_by_item))
            oldest, press = self.oldest_count() or (None, None)
            locks = tuple(lock for on_press in self._locks.values() for lock in on_press)
        return Board(
            at=self._at,
            plant=self._known.facts.name,
            zone=self._known.facts.zone,
            offset=offset,
            total=sum(shown[state] for state in states),
            rows=rows,
            by_state={state: counts[state] for state in BOARD_ORDER},
            counts_as_of=oldest,
            oldest_count_press=press,
            locks=locks,
        )

    def _check_named(self, query: BoardQuery) -> None:
        """A slip of the pen is not answered with a board on which nothing is due."""
        for key, look_up in (
            (query.place, self._known.press_or_place),
            (query.area, self._known.area),
            (query.item, self._known.item),
            (query.task, self._known.task),
        ):
            if key is not None:
                look_up(key)
        if query.role is not None and query.role not in list(Role):
            raise NotFound(said("role"), query.role, [], said("Its roles: {roles}.", roles=listed(Role)))

    def oldest_count(self) -> tuple[datetime, str] | None:
        """The press in use whose latest count is the oldest, and when it was taken; None while none was read."""
        marks = [row for row in self._context.tallies.last_marks() if not self._known.items[row.press].scrapped]
        oldest = min(marks, key=lambda row: (row.at, row.press), default=None)
        return (from_utc_text(oldest.at), oldest.press) if oldest else None

    def line(self, name: str) -> BoardLine:
        """One line by name; raises :class:`NotFound` with near misses."""
        line = self.line_if_any(name)
        if line is None:
            names = self._context.lines.all_names()
            raise NotFound(
                said("line"), name, near_misses(name, names), said("Lines are named item/task, as on the board.")
            )
        return line

    def line_if_any(self, name: str) -> BoardLine | None:
        """One line by name; None: there is none, or its item or its task is no more."""
        row = self._context.lines.row(name)
        return None if row is None else self._lines([(row, state_of(row, self._at))])[0]

    def lines_of(self, items: list[str]) -> list[BoardLine]:
        """The lines of some items as they stand at the moment, by name; none for an item without tasks."""
        return self._lines([(row, state_of(row, self._at)) for row in self._context.lines.of_items(items)])

    def _lines(self, rows: list[tuple[LineRow, State]], *, by_item: bool = False) -> list[BoardLine]:
        lines = [(row, state, _is_late(row, state)) for row, state in rows]
        late = [row for row, _, is_late in lines if is_late]
        if len(late) > 1:
            self._missed.read(late)
        items_held = {row.item for row, state, _ in lines if state is State.HELD}
        held = self._context.lines.held_of(items_held) if items_held else {}
        return [
            self._line(*line, held[line[0].item] if line[1] is State.HELD else 0, by_item=by_item) for line in lines
        ]

    def _line(self, row: LineRow, state: State, is_late: bool, held: int, *, by_item: bool) -> BoardLine:
        counted, day = row.due_strokes is not None, date.fromisoformat(row.due_day) if row.due_day else None
        left = None if row.due_strokes is None or row.strokes is None else row.due_strokes - row.strokes
        # In order, since names would cost a window of the board a sixth more.
        return BoardLine(
            row.line, row.item, row.item_kind, row.item_title, row.task, row.title, state, row.place, row.area,
            row.inside, moment(row.opens_at), moment(row.due_at), moment(row.overdue_at), moment(row.stop_at), day,
            row.strokes, row.strokes_high, row.due_strokes, left, counted and row.strokes_high != row.strokes_low,
            self._missed.after(row, day) if is_late else 0,
            row.occurrence, row.deferred_to, reasons_from(row.reasons),
            moment(row.last_done_at), row.last_done_by, row.unverified, row.minutes, row.energy,
            tuple(row.roles.strip(";").split(";")), row.second_signature,
            bool(row.statutory), bool(row.each_shift), row.source,
            bool(row.at_next_stop), moment(row.stopped_at) if row.stopped_at else None, held, by_item and held > 1,
            self._under_way.job_on(row.item, row.task) if self._under_way else None,
            row.owner,
            self._locks.get(row.place, ()),
        )  # fmt: skip

    @cached_property
    def _under_way(self) -> WorkUnderWay | None:
        """What is under way; None: nothing is, and then nothing has to be loaded for it."""
        if not self._context.rows.under_way():
            return None
        from upkeep.answers.under_way.jobs import WorkUnderWay

        return WorkUnderWay(self._context)

    @cached_property
    def _locks(self) -> Mapping[str, tuple[Lock, ...]]:
        """The locks on each press that is locked; what is on a press has it for its place."""
        by_press: dict[str, tuple[Lock, ...]] = {}
        for lock in self._under_way.locks() if self._under_way else ():
            by_press[lock.press] = (*by_press.get(lock.press, ()), lock)
        return by_press

    @cached_property
    def _missed(self) -> Missed:
        from upkeep.answers.missed import Missed  # with the rules of triggers, which only a late line needs

        return Missed(self._context)


_LATE = (State.OVERDUE, State.STOP)


def _is_late(row: LineRow, state: State) -> bool:
    """Whether planned shifts or days may have gone by since the one that is open."""
    return bool(row.each_shift or row.fixed) and state in _LATE

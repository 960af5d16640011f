"""The page the lead begins with: each part gathered from the room that knows it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from functools import partial
from itertools import chain

from upkeep.answers.board import Boards
from upkeep.answers.faults.faults import FaultViews
from upkeep.answers.home.ahead import Days, soonest
from upkeep.answers.shelf.kits import jobs_of_lines, short_for
from upkeep.answers.under_way.jobs import WorkUnderWay
from upkeep.answers.under_way.shifts import not_accepted
from upkeep.answers.unseen import unseen
from upkeep.due.holds import Gone
from upkeep.due.states import State
from upkeep.entries.standing import Standing
from upkeep.keeping.context import Context
from upkeep.keeping.holds import permit_left
from upkeep.said import Said, listed, said, term
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.units.quantities import in_strokes
from upkeep.views.board import BoardLine, BoardQuery
from upkeep.views.hints import Hints
from upkeep.views.jobs import Lock
from upkeep.views.overview.home import GoingOn, Home, HomePart, HomeRow, Part
from upkeep.wording.jobs import LOCKED, going_on, not_accepted_said
from upkeep.wording.shelf import missing_said

NOWHERE = "-"
"""The place of what stands at none."""

MOST = 200
"""Lines of one state that are gone through; the board has them all."""

_WEEK = timedelta(days=7)


def home(context: Context, hints: Hints | None, area: str | None = None) -> Home:
    """What waits for the lead at the moment of a context, in the whole plant or an area; ``hints`` are theirs alone
    (None: nobody looks), whatever area.  Raises :class:`NotFound` for an area that is none."""
    if area is not None:
        context.known.area(area)
    pages, within, days = _Pages(context, area), partial(_within, context, area), Days(context)
    parts = [
        within(_held(context)),
        pages.part(Part.STOP, State.STOP),
        pages.part(Part.OVERDUE, State.OVERDUE),
        pages.today(days.ends_today),
        pages.opening(days.ends_today, days.start + _WEEK),
        within(_questions(context)),
        within(_faults(context)),
        _hints(hints),
        within(_permits(context)),
    ]
    return Home(
        context.moment,
        context.known.facts.name,
        tuple(parts),
        days.week(pages.ahead(days.start + _WEEK)),
        soonest(context, pages.by_strokes()),
        _in_area(context, area, chain(_now(context), _waiting_for_parts(context, pages.asked()))),
    )


def _within(context: Context, area: str | None, part: HomePart) -> HomePart:
    """A part, one row of which is one thing, as far as it stands in an area."""
    rows = _in_area(context, area, part.rows)
    return HomePart(part.part, len(rows), rows)


def _in_area(context: Context, area: str | None, rows: Iterable[HomeRow]) -> tuple[HomeRow, ...]:
    """The rows at places of an area, and those at no place at all."""
    areas = context.whereabouts.area_and_route
    return tuple(row for row in rows if area is None or row.place == NOWHERE or areas(row.place)[0] == area)


def _now(context: Context) -> Iterator[HomeRow]:
    """The presses that are locked, the shift whose handover nobody has accepted, the jobs under way."""
    work = WorkUnderWay(context)
    locks: dict[str, list[Lock]] = {}
    for lock in work.locks():
        locks.setdefault(lock.press, []).append(lock)
    for press, hung in locks.items():
        whose = listed(said("{name} at {point}", name=lock.name, point=lock.point) for lock in hung)
        yield HomeRow(
            GoingOn.LOCKED, press, press, since=hung[0].at, what=said("{sign}: {locks}", sign=LOCKED, locks=whose)
        )
    left = not_accepted(context)
    if left is not None:
        ended = context.known.calendar.named(left).end
        yield HomeRow(GoingOn.HANDOVER, NOWHERE, since=ended, what=not_accepted_said(left))
    for job in work.jobs():
        (sign,) = going_on((), job)
        goes_on = said("{sign}, {name}: {title}", sign=sign, name=job.name, title=job.title)
        yield HomeRow(GoingOn.JOB, job.place, job.item, since=job.began_at, what=goes_on)


def _waiting_for_parts(context: Context, lines: Iterable[BoardLine]) -> Iterator[HomeRow]:
    """The work that is asked for and cannot be finished with what lies on the shelf; the most urgent takes first."""
    if context.known.spares:
        for kit in short_for(jobs_of_lines(lines, context), context):
            what = said("{title}: {missing}", title=kit.title, missing=missing_said(kit.missing))
            yield HomeRow(GoingOn.PARTS, kit.place, kit.item, what=what)


class _Pages:
    """The lines of the board by state, each state read once."""

    def __init__(self, context: Context, area: str | None) -> None:
        self._boards, self._at, self._area = Boards(context), context.moment, area
        self._read: dict[State, tuple[tuple[BoardLine, ...], int]] = {}

    def of(self, state: State) -> tuple[tuple[BoardLine, ...], int]:
        """The most urgent lines of a state, and how many there are in all."""
        if state not in self._read:
            board = self._boards.window(BoardQuery(states=frozenset({state}), area=self._area), 0, MOST)
            self._read[state] = board.rows, board.total
        return self._read[state]

    def part(self, part: Part, state: State) -> HomePart:
        """All lines of a state."""
        lines, total = self.of(state)
        return HomePart(part, total, tuple(_folded(part, lines)))

    def today(self, ends: datetime) -> HomePart:
        """What is due now, and what falls due before the day ends."""
        due, total = self.of(State.DUE)
        still = [line for line in self._coming() if line.due_at is not None and line.due_at < ends]
        return HomePart(Part.TODAY, total + len(still), tuple(_folded(Part.TODAY, [*due, *still])))

    def opening(self, after: datetime, until: datetime) -> HomePart:
        """What may be done this week: its window is open or opens, and it is not due today."""
        opens = (line for line in self.of(State.LATER)[0] if line.opens_at is not None and line.opens_at < until)
        lines = [line for line in (*self.of(State.OPEN)[0], *opens) if line.due_at is None or line.due_at >= after]
        return HomePart(Part.OPENING, len(lines), tuple(_folded(Part.OPENING, lines)))

    def ahead(self, until: datetime) -> Iterator[BoardLine]:
        """What is late, due or going to be due before a moment, but what every shift brings."""
        for state in (State.STOP, State.OVERDUE, State.DUE):
            yield from (line for line in self.of(state)[0] if not line.each_shift)
        for line in self._coming():
            if line.due_at is not None and line.due_at < until and not line.each_shift:
                yield line

    def asked(self) -> Iterator[BoardLine]:
        """What may be done now, the most urgent first."""
        for state in (State.STOP, State.OVERDUE, State.DUE, State.OPEN):
            yield from self.of(state)[0]

    def by_strokes(self) -> list[BoardLine]:
        """The lines by strokes that are not due yet, the nearest to their limit first."""
        lines = [line for line in self._coming() if line.remaining is not None and line.due_strokes]
        return sorted(lines, key=lambda line: (line.remaining or 0) / (line.due_strokes or 1))

    def _coming(self) -> Iterator[BoardLine]:
        yield from self.of(State.OPEN)[0]
        yield from self.of(State.LATER)[0]


def _folded(part: Part, lines: Iterable[BoardLine]) -> Iterator[HomeRow]:
    """A row a line, in their order; the work of every shift at one place is one row."""
    groups: dict[str, list[BoardLine]] = {}
    for line in lines:
        groups.setdefault(line.place if line.each_shift else f"= {line.line}", []).append(line)
    for group in groups.values():
        item = group[0].item if len(group) == 1 else None
        yield HomeRow(part, group[0].place, item, tuple(group), group[0].due_at)


def _held(context: Context) -> HomePart:
    """One row an item, the newest hold first; what is gone for good nobody releases."""
    held = ((row, context.known.reason_of(row)) for row in context.rows.standings(Standing.HOLD))
    rows = [
        HomeRow(Part.HELD, _place_of(context, row.item), row.item, since=from_utc_text(row.since), reason=reason)
        for row, reason in held
        if not isinstance(reason, Gone)
    ]
    rows.sort(key=lambda row: (row.since or context.moment, row.item or ""), reverse=True)
    return HomePart(Part.HELD, len(rows), tuple(rows))


def _place_of(context: Context, item: str) -> str:
    known = context.known.items.get(item)
    return context.whereabouts.place_of(known) if known is not None else NOWHERE


def _questions(context: Context) -> HomePart:
    """Each what the page of questions asks, but for faults and permits, which have parts of their own."""
    asked = unseen(context)
    rows = [
        HomeRow(Part.QUESTIONS, _place_of(context, one.about), one.about, since=one.since, what=one.asks)
        for one in asked
    ]
    return HomePart(Part.QUESTIONS, len(rows), tuple(rows))


def _faults(context: Context) -> HomePart:
    faults = FaultViews(context).listing(only_open=True).faults
    rows = [
        HomeRow(
            Part.FAULTS, _place_of(context, fault.item), fault.item, since=fault.at, fault=fault.number,
            what=said("{symptom}: {state}", symptom=term(fault.symptom), state=term(fault.state, "state of a fault")),
        )
        for fault in faults
    ]  # fmt: skip
    return HomePart(Part.FAULTS, len(rows), tuple(rows))


def _hints(hints: Hints | None) -> HomePart:
    seen = hints.hints if hints is not None else ()
    rows = [
        HomeRow(Part.HINTS, NOWHERE, since=hint.at, what=said("{name}: {seen}", name=hint.name, seen=hint.seen))
        for hint in seen
    ]
    return HomePart(Part.HINTS, len(rows), tuple(rows))


def _permits(context: Context) -> HomePart:
    """Items with leave to run although they are held or past their stop, and what is left of it."""
    at = utc_text(context.moment)
    rows: list[HomeRow] = []
    for row in context.rows.standings(Standing.HOLD):
        left = permit_left(context, row.item, context.moment)
        permit = context.findings.last_permit(row.item, at) if left else None
        if permit is not None:
            rows.append(
                HomeRow(
                    Part.PERMITS, _place_of(context, row.item), row.item, since=from_utc_text(permit.at),
                    what=_left_said(left, permit.strokes),
                )
            )  # fmt: skip
    return HomePart(Part.PERMITS, len(rows), tuple(rows))


def _left_said(left: int, granted: int) -> Said:
    return said("{left} left of {granted}", left=in_strokes(left), granted=in_strokes(granted))

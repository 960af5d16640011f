"""What the manager's page asks of single rooms: hard stops, blocked jobs, gauges, counts."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from upkeep.answers.board import Boards
from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.answers.figures.overdue import line_over, lines_in
from upkeep.answers.printed.frame import never_read
from upkeep.answers.suspect.hold_lists import SuspectViews
from upkeep.answers.under_way.jobs import WorkUnderWay
from upkeep.due.compliance import Share
from upkeep.due.states import State
from upkeep.entries.suspect import Permit
from upkeep.keeping.context import Context
from upkeep.plant.model import Kind
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.views.board import BoardQuery
from upkeep.views.overview.manager import (
    Blocked,
    BlockedJob,
    CountsRead,
    GaugeDue,
    Gauges,
    PermitGiven,
    Stops,
)
from upkeep.views.overview.shelf import KitList
from upkeep.views.planned.week_plan import Unplaced, WeekPlan

SOON = timedelta(days=30)
"""How far ahead gauges are told whose time ends.  Plant default, no source."""

BEHIND = timedelta(days=1)
"""After so much working time without a count a press is behind.  Plant default, no source."""

_IN_USE = frozenset(set(State) - {State.PAUSED, State.NOT_REQUIRED})

_WAITS = {
    Unplaced.NOBODY: Blocked.PEOPLE,
    Unplaced.HOURS: Blocked.PEOPLE,
    Unplaced.WINDOW: Blocked.PRODUCTION,
    Unplaced.HELD: Blocked.RELEASE,
}


def stops(context: Context, boards: Boards, start: datetime, end: datetime) -> Stops:
    """Hard stops passed now, and what was let run over [start, end)."""
    lists = SuspectViews(context).lists()
    permits = context.entries.of_kind(Permit, utc_text(start), utc_text(end))
    return Stops(
        lines=boards.window(BoardQuery(states=_IN_USE), 0, 1).total,
        past=tuple(line_over(line) for line in lines_in(boards, BoardQuery(states=frozenset({State.STOP})))),
        permits=tuple(
            PermitGiven(told.item, told.strokes, context.names.of(told.by, recorded.id), recorded.id)
            for recorded in permits
            if isinstance(told := recorded.entry, Permit)
        ),
        lists_open=len(lists),
        strokes_waiting=sum(line.strokes for one in lists for line in one.lines if line.open),
    )


def blocked_jobs(context: Context, kits: KitList, plan: WeekPlan) -> Iterator[BlockedJob]:
    """Jobs that cannot be done, each once: those begun that wait, those short of parts, those nobody could place."""
    told: set[str] = set()
    for job in WorkUnderWay(context).jobs():
        if job.interrupted_at is not None:
            told.add(job.line)
            yield BlockedJob(job.line, job.title, Blocked.OTHER, job.why)
    for kit in kits.kits:
        if kit.line not in told and any(part.short for part in kit.parts):
            told.add(kit.line)
            yield BlockedJob(kit.line, kit.title, Blocked.PARTS)
    for row in plan.rows:
        if row.line not in told and row.why in _WAITS and row.done_at is None:
            told.add(row.line)
            yield BlockedJob(row.line, row.title, _WAITS[row.why])


def gauges_due(context: Context) -> Gauges:
    """The gauges in use: which do not count now, and which stop doing so soon."""
    known, at = context.known, context.moment
    today, states = known.zone.day(at), GaugeStates(context)
    gauges = [
        item
        for item in known.items.values()
        if item.kind is Kind.GAUGE and not (item.scrapped is not None and item.scrapped <= today)
    ]
    invalid, soon = [], []
    for gauge in gauges:
        state = states.at(gauge.id, at)
        if not state.valid:
            invalid.append(GaugeDue(gauge.id, gauge.title, None))
        elif state.until is not None and state.until < at + SOON:
            soon.append(GaugeDue(gauge.id, gauge.title, known.zone.day(state.until)))
    return Gauges(len(gauges), tuple(invalid), tuple(sorted(soon, key=lambda one: (one.until or today, one.gauge))))


def counts_read(context: Context, in_time: Share) -> CountsRead:
    """How old the counts of the presses in use are; ``in_time`` is the share of the week."""
    known, calendar = context.known, context.known.calendar
    today = known.zone.day(context.moment)
    presses = {
        item.id
        for item in known.items.values()
        if item.kind is Kind.PRESS and not (item.scrapped is not None and item.scrapped <= today)
    }
    read = {row.press: from_utc_text(row.at) for row in context.tallies.last_marks() if row.press in presses}
    oldest = min(read, key=lambda press: (read[press], press), default=None)
    behind = [press for press, at in read.items() if calendar.worked_between(at, context.moment) > BEHIND]
    return CountsRead(
        presses=len(presses),
        oldest=oldest,
        oldest_at=read[oldest] if oldest is not None else None,
        behind=tuple(sorted(behind)),
        never=never_read(context),
        in_time=in_time,
    )

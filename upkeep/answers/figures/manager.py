"""The page the plant manager reads on Monday, gathered from the rooms that know its ten things."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta
from functools import cached_property

from upkeep.answers.board import Boards
from upkeep.answers.figures.counts_told import data_quality
from upkeep.answers.figures.indicators import Figured, Span
from upkeep.answers.figures.managed import blocked_jobs, counts_read, gauges_due, stops
from upkeep.answers.figures.on_time import figures
from upkeep.answers.figures.overdue import LATE, line_over, lines_in, overdue
from upkeep.answers.planned.week_plans import WeekPlans
from upkeep.due.compliance import Share
from upkeep.entries.jobs import Interrupt
from upkeep.entries.signing import Defer
from upkeep.entries.suspect import Permit
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.plant.model import Kind
from upkeep.progress import Watch, nobody
from upkeep.said import said
from upkeep.units.instants import utc_text
from upkeep.units.weeks import iso_week, week_days
from upkeep.views.board import BoardQuery
from upkeep.views.figures import Answered, Figures
from upkeep.views.overview.manager import (
    Changes,
    DeferralSigned,
    Faults,
    Hours,
    LateByLaw,
    ManagerPage,
    Repeated,
    Topic,
)
from upkeep.views.overview.shelf import KitList

WEEKS = 8
"""How many weeks the page looks back."""

_NAMED = 3


def reported_week(day: date) -> str:
    """The last whole ISO week before a day."""
    return iso_week(day - timedelta(days=day.weekday() + 1))


def coming_week(day: date) -> str:
    """The week whose hours are told: the one that begins on the day, or the next one to begin."""
    return iso_week(day + timedelta(days=-day.weekday() % 7))


class Managing:
    """Makes the page of one moment."""

    def __init__(self, context: Context, watch: Watch = nobody) -> None:
        """Raises :class:`Refused` where the book began only in the running week."""
        self._context, self._known, self._watch = context, context.known, watch
        self._zone, self._at = context.known.zone, context.moment
        self._figured = Figured(context)
        self._week = reported_week(self._zone.day(self._at))
        began = self._zone.day(self._figured.definitions.began)
        first, last = week_days(self._week)
        if last < began:
            raise Refused(
                said("The page tells of whole weeks, and the book began on {began}: it is made from Monday on.",
                     began=began)
            )  # fmt: skip
        self._weeks = [iso_week(first - timedelta(weeks=back)) for back in reversed(range(WEEKS))]
        self._began = began

    def page(self, kits: KitList) -> ManagerPage:
        """The page; ``kits`` are those of the week to come."""
        context, boards = self._context, Boards(self._context)
        first, last = week_days(self._week)
        week, plan = self._span(self._week), WeekPlans(context, kits.week).plan()
        return ManagerPage(
            plant=self._known.facts.name,
            zone=self._zone.name,
            at=self._at,
            week=self._week,
            first_day=first,
            last_day=last,
            weeks=tuple(self._weeks),
            statutory=self._statutory(boards),
            stops=stops(context, boards, week.start, week.end),
            overdue=overdue(context),
            on_time=self._on_time.by_week.get(self._week, Share(0, 0)),
            by_area=self._of_the_week.by_area if self._of_the_week is not None else {},
            faults=self._faults(week),
            blocked=tuple(blocked_jobs(context, kits, plan)),
            hours=Hours(kits.week, plan.capacity.roles, sum(1 for row in plan.rows if row.asks)),
            gauges=gauges_due(context),
            changes=self._changes(week),
            counts=counts_read(context, self._in_time(week)),
            trend=self._trend(),
        )

    def _span(self, week: str) -> Span:
        return self._figured.span(*week_days(week))

    @cached_property
    def _on_time(self) -> Figures:
        """What was on time in the eight weeks, or since the book began."""
        first, last = week_days(self._weeks[0])[0], week_days(self._week)[1]
        return figures(self._context, self._at, first, last, None, self._watch)

    @cached_property
    def _of_the_week(self) -> Figures | None:
        first, last = week_days(self._week)
        return figures(self._context, self._at, first, last, None, self._watch) if last >= self._began else None

    # The ten

    def _statutory(self, boards: Boards) -> LateByLaw:
        lines = [line for line in lines_in(boards, BoardQuery(states=LATE)) if line.statutory]
        by_law = {task.id for task in self._known.tasks.values() if task.statutory}
        counted = sum(boards.window(BoardQuery(task=task), 0, 1).total for task in by_law)
        return LateByLaw(counted, tuple(line_over(line) for line in lines))

    def _faults(self, week: Span) -> Faults:
        told, spans = self._figured.faults, self._span_of_all
        cases, eight = told.of(week.start, week.end), told.of(spans.start, spans.end)
        times: dict[tuple[str, str], int] = {}
        for case in eight:
            key = case.report.item, case.report.symptom
            times[key] = times.get(key, 0) + 1
        again = sorted(((n, key) for key, n in times.items() if n > 1), key=lambda one: (-one[0], one[1]))
        return Faults(
            week=len(cases),
            stopped=sum(1 for case in cases if case.report.stopped),
            open=sum(1 for case in told.all() if case.way.ended is None and case.report.at <= self._at),
            between=self._figured.between(spans),
            restored=told.restored(spans.start, spans.end),
            repeated=tuple(Repeated(item, symptom, n) for n, (item, symptom) in again[:_NAMED]),
        )

    @property
    def _span_of_all(self) -> Span:
        return self._figured.span(max(week_days(self._weeks[0])[0], self._began), week_days(self._week)[1])

    def _changes(self, week: Span) -> Changes:
        deferred = self._context.entries.of_kind(Defer, utc_text(week.start), utc_text(week.end))
        names = self._context.names
        return Changes(
            tuple(change for change in self._on_time.changes if week.start <= change.at < week.end),
            tuple(
                DeferralSigned(
                    f"{one.item}/{one.task}", one.occurrence, one.to, names.of(one.by, recorded.id), one.risk,
                    recorded.id,
                )
                for recorded in deferred
                if isinstance(one := recorded.entry, Defer)
            ),
            self._context.entries.number_of("cancel", utc_text(week.start), utc_text(week.end)),
        )  # fmt: skip

    def _in_time(self, week: Span) -> Share:
        return data_quality(self._context, self._figured.counts, None, week.start, week.end).in_time

    # Eight weeks

    def _trend(self) -> Mapping[Topic, tuple[float | None, ...]]:
        late = self._on_time.late
        gauges = {item.id for item in self._known.items.values() if item.kind is Kind.GAUGE}
        return {
            Topic.STATUTORY: self._late_in([one for one in late if one.statutory]),
            Topic.STOPS: self._told(Permit),
            Topic.OVERDUE: self._late_in(late),
            Topic.ON_TIME: tuple(self._on_time.by_week.get(week, Share(0, 0)).percent for week in self._weeks),
            Topic.FAULTS: self._each(lambda span: len(self._figured.faults.of(span.start, span.end))),
            Topic.BLOCKED: self._told(Interrupt),
            Topic.HOURS: self._each(lambda span: self._figured.minutes(span).planned / 60),
            Topic.GAUGES: self._late_in([one for one in late if one.line.split("/")[0] in gauges]),
            Topic.CHANGES: self._each(self._moved),
            Topic.COUNTS: self._each(lambda span: self._in_time(span).percent),
        }

    def _each(self, value: Callable[[Span], float | None]) -> tuple[float | None, ...]:
        """A value for each week; None for those before the book began."""
        return tuple(None if week_days(week)[1] < self._began else value(self._span(week)) for week in self._weeks)

    def _late_in(self, late: Sequence[Answered]) -> tuple[float | None, ...]:
        return self._each(lambda span: sum(1 for one in late if span.start <= one.due_at < span.end))

    def _told(self, kind: type[Permit | Interrupt]) -> tuple[float | None, ...]:
        entries = self._context.entries
        return self._each(lambda span: len(entries.of_kind(kind, utc_text(span.start), utc_text(span.end))))

    def _moved(self, span: Span) -> float:
        deferred = self._context.entries.number_of("defer", utc_text(span.start), utc_text(span.end))
        return deferred + sum(1 for change in self._on_time.changes if span.start <= change.at < span.end)

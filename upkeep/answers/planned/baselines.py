"""The baseline of a new book: which lines have no history, how risky that is, and the hours of the weeks to come."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from functools import cached_property

from upkeep.answers.board import Boards
from upkeep.answers.planned.hours import WeekHours
from upkeep.answers.planned.jobs import minutes_of
from upkeep.due.days import interval_of
from upkeep.due.states import State
from upkeep.due.usage import stroke_interval
from upkeep.entries.signing import Stated
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.planning.baselines import FirstWork, OpenWeek, Planned, spread
from upkeep.plant.model import Item, Role, Task
from upkeep.said import said
from upkeep.units.weeks import iso_week
from upkeep.views.board import BoardLine, BoardQuery
from upkeep.views.planned.baselines import Baseline, BaselineHours, BaselineRow, Risk

SHORT_DAYS = 28
"""Work that comes back sooner than this needs no baseline: its first time is near anyway.  Plant default, no source."""

_LATE = (State.OVERDUE, State.STOP)
_OUT = (State.HELD, State.PAUSED, State.NOT_REQUIRED)


class Baselines:
    """Plans a baseline at the moment of a context, over some weeks after the one that runs."""

    def __init__(self, context: Context, weeks: int) -> None:
        self._context, self._known, self._count = context, context.known, weeks
        self._today = context.known.zone.day(context.moment)

    # Lines

    @cached_property
    def _lines(self) -> tuple[BoardLine, ...]:
        return Boards(self._context).window(BoardQuery(), 0, 10**9).rows

    @cached_property
    def _without_history(self) -> list[BoardLine]:
        """The lines to plan: never signed, and either nobody knows of a time before or that is so long ago that they
        are overdue."""
        return [line for line in self._lines if self._wants_first_time(line) and not self._first(line)]

    def _wants_first_time(self, line: BoardLine) -> bool:
        task, item = self._known.tasks[line.task], self._known.items[line.item]
        if line.last_done_at or line.state in _OUT or task.each_shift or task.while_resting:
            return False
        if self._stated(line) is not None:
            return line.state in _LATE and self._comes_back(task, item) is not None
        days = self._comes_back(task, item)
        return days is not None and (days >= SHORT_DAYS or task.statutory or task.graded)

    def _comes_back(self, task: Task, item: Item) -> int | None:
        """After how many days a task comes back (by strokes: :data:`SHORT_DAYS`); None: by neither."""
        if task.every or task.rule:
            return interval_of(task, self._today)
        return SHORT_DAYS if stroke_interval(task, item) is not None else None

    def _first(self, line: BoardLine) -> bool:
        row = self._context.rows.last_stated(line.item, line.task)
        return row is not None and bool(row.first)

    def _stated(self, line: BoardLine) -> date | None:
        row = self._context.rows.last_stated(line.item, line.task)
        return date.fromisoformat(row.done) if row is not None and row.done else None

    # Risk

    def _risk(self, line: BoardLine) -> Risk:
        if line.statutory:
            return Risk.LAW
        if self._known.items[line.item].owner:
            return Risk.CUSTOMER
        if line.state in _LATE:
            return Risk.OVERDUE
        return Risk.INSPECTION if self._known.tasks[line.task].graded else Risk.OTHER

    def _rank(self, line: BoardLine) -> tuple[int, ...]:
        """Law first, then what belongs to a customer, then what is known to be late, then inspections; of these the
        item first that is oldest, or of which nobody knows how old it is."""
        since = self._known.items[line.item].since
        return list(Risk).index(self._risk(line)), since.toordinal() if since else 0

    def _role(self, line: BoardLine) -> str:
        """Whose hours it takes: of the roles it names the first that somebody has, else the lead's."""
        return next((role for role in line.roles if role in self._roles), Role.LEAD.value)

    @cached_property
    def _roles(self) -> set[str]:
        return {role for person in self._known.people.values() for role in person.roles[:1]}

    # Weeks

    @cached_property
    def _weeks(self) -> tuple[str, ...]:
        """The weeks to come that have a working day."""
        weeks: list[str] = []
        day = self._today
        while len(weeks) < self._count:
            day += timedelta(days=7)
            if self._working_days(week := iso_week(day)):
                weeks.append(week)
            if day > self._today + timedelta(days=7 * 120):
                raise Refused(said("The plant has no working days in the next two years: see 'closed' in plant.toml."))
        return tuple(weeks)

    def _working_days(self, week: str) -> tuple[date, ...]:
        first = WeekHours(self._context, week).first
        days = (first + timedelta(days=passed) for passed in range(7))
        return tuple(day for day in days if self._known.workdays.is_working(day))

    def _open_week(self, week: str) -> OpenWeek:
        return OpenWeek(self._working_days(week), self._free(week) if self._hours_known else {})

    @cached_property
    def _hours_known(self) -> bool:
        return bool(self._known.facts.shifts) and bool(self._known.people)

    def _free(self, week: str) -> dict[str, int]:
        """The minutes each role has left, after its reserve, work of every shift and what falls due anyway."""
        hours = WeekHours(self._context, week)
        free: Counter[str] = Counter()
        for attendance in hours.attendances:
            free[attendance.person.roles[0]] += attendance.minutes * (100 - self._known.facts.planning.reserve) // 100
        planned = {line.line for line in self._without_history}
        for line in self._lines:
            if line.of_rounds and line.state not in _OUT:
                free[self._role(line)] -= round(line.minutes * len(hours.shifts))
            elif line.line not in planned and line.due_day and hours.first <= line.due_day <= hours.last:
                free[self._role(line)] -= minutes_of(line)
        return {role: max(0, minutes) for role, minutes in free.items()}

    # The plan

    @cached_property
    def _planned(self) -> tuple[tuple[BoardLine, Planned], ...]:
        by_name = {line.line: line for line in self._without_history}
        work = (
            FirstWork(line.line, line.item, self._role(line), minutes_of(line), self._rank(line))
            for line in self._without_history
        )
        planned = spread(work, [self._open_week(week) for week in self._weeks])
        return tuple((by_name[one.work.line], one) for one in planned)

    def baseline(self) -> Baseline:
        """The plan, for people."""
        return Baseline(
            plant=self._known.facts.name,
            zone=self._known.facts.zone,
            at=self._context.moment,
            weeks=self._weeks,
            rows=tuple(self._row(line, one) for line, one in self._planned),
            hours=tuple(self._hours()),
            known=sum(self._wants_first_time(line) and self._first(line) for line in self._lines),
            hours_known=self._hours_known,
        )

    def _row(self, line: BoardLine, one: Planned) -> BaselineRow:
        return BaselineRow(
            line.line, line.item, line.task, line.title, line.owner, self._risk(line), one.work.role, one.work.minutes,
            self._weeks[one.week], one.day, self._stated(line), one.fits,
        )  # fmt: skip

    def _hours(self) -> Iterator[BaselineHours]:
        minutes: Counter[tuple[int, str]] = Counter()
        for _, one in self._planned:
            minutes[one.week, one.work.role] += one.work.minutes
        for place, role in sorted(minutes):
            free = self._free(self._weeks[place]).get(role, 0) if self._hours_known else 0
            yield BaselineHours(self._weeks[place], role, minutes[place, role], free)

    def statements(self, at: datetime, by: str) -> Sequence[Stated]:
        """The plan as entries: what was stated before stays stated."""
        return [
            Stated(
                at=at,
                by=by,
                item=line.item,
                task=line.task,
                done=str(self._stated(line) or ""),
                first=one.day.isoformat(),
            )
            for line, one in self._planned
        ]

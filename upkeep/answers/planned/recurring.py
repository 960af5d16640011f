"""Recurring work as a year sees it: when each line is due next, how often it comes back, how fast its item runs."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cached_property

from upkeep.answers.board import Boards
from upkeep.answers.forecast import Forecasts
from upkeep.answers.planned.jobs import minutes_of
from upkeep.due.days import interval_of
from upkeep.due.states import State
from upkeep.due.usage import stroke_interval
from upkeep.frozen import frozen
from upkeep.keeping.context import Context
from upkeep.units.recurrence import interval_after
from upkeep.views.board import BoardLine, day_due

_YEAR = 364


def days_of(interval: str, start: date) -> int:
    """The calendar days of an interval like "14 days" from a day on; raises :class:`Unreadable` for another text."""
    return (interval_after(start, interval) - start).days


@frozen
class Pace:
    """Strokes of an item a working day: mean and standard deviation."""

    item: str
    mean: float
    scatter: float


@frozen
class Paced:
    """A line with its rhythm: the working day from today on which it is due next (below 0: it is late), how many
    working days it takes to come back, the strokes left and those of its interval, and the working days it may be late
    (each None where it does not go by that)."""

    line: BoardLine
    minutes: float
    first: int | None
    every: int | None
    left: float | None
    strokes: float | None
    grace: int
    pace: Pace | None


class RecurringLines:
    """All recurring lines at the moment of a context; what is held counts, what rests or is not required does not."""

    def __init__(self, context: Context) -> None:
        self._context, self._known = context, context.known
        self.today: date = context.known.zone.day(context.moment)
        self._forecasts = Forecasts(context)
        self._paces: dict[str, Pace | None] = {}

    @cached_property
    def share(self) -> float:
        """The share of days that are worked, over the year to come."""
        return self._known.workdays.count(self.today, self.today + timedelta(days=_YEAR)) / _YEAR

    def working_days(self, days: float) -> int:
        """An interval of calendar days in working days, at least one."""
        return max(1, round(days * self.share))

    @cached_property
    def _every_line(self) -> list[BoardLine]:
        boards = Boards(self._context)
        lines = boards.lines_of([item.id for item in self._known.items.values() if not item.scrapped])
        resting = (State.PAUSED, State.NOT_REQUIRED)
        return [line for line in lines if line.state not in resting]

    @cached_property
    def shift_care(self) -> int:
        """Lines of every shift: they take their share of each shift, and are not played."""
        return sum(self._known.task(line.task).each_shift for line in self._every_line)

    @cached_property
    def lines(self) -> tuple[Paced, ...]:
        """Those that come back by days or by strokes."""
        made = (self._paced(line) for line in self._every_line if not self._known.task(line.task).each_shift)
        return tuple(paced for paced in made if paced.every is not None or paced.strokes is not None)

    @property
    def unpaced(self) -> int:
        """Lines by strokes of whose item there is no rate: they come back by days or not at all."""
        return sum(paced.strokes is not None and paced.pace is None for paced in self.lines)

    def pace(self, item: str) -> Pace | None:
        """How fast an item runs; None where too few days of it are counted."""
        if item not in self._paces:
            ahead = self._forecasts.ahead_of(self._known.item(item))
            self._paces[item] = None if ahead is None else Pace(item, ahead.rate.mean, ahead.rate.spread)
        return self._paces[item]

    def _paced(self, line: BoardLine) -> Paced:
        task, item = self._known.task(line.task), self._known.item(line.item)
        interval = interval_of(task, self.today) if task.every or task.rule else 0
        strokes = stroke_interval(task, item)
        day = day_due(line, self._known.zone) if interval else None
        by_strokes = strokes is not None and line.remaining is not None
        late = 0
        if line.overdue_at is not None and line.due_at is not None:
            late = self.working_days((line.overdue_at - line.due_at).total_seconds() / 86_400) - 1
        return Paced(
            line=line,
            minutes=float(minutes_of(line)),
            first=None if not interval else self.distance(day) if day else 0,
            every=self.working_days(interval) if interval else None,
            left=float(line.remaining or 0) if by_strokes else None,
            strokes=float(strokes) if by_strokes and strokes is not None else None,
            grace=max(0, late),
            pace=self.pace(line.item) if by_strokes else None,
        )

    def distance(self, day: date) -> int:
        """The working days from today to a day; below 0: it is past."""
        workdays = self._known.workdays
        return workdays.count(self.today, day) if day >= self.today else -workdays.count(day, self.today)

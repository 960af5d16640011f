"""On which day recurring work begins, so that the weeks of the year are level.

Method.  The heaviest work first (minutes by the working day), each begins on the day of its first interval on which the
sum of squares of all weeks grows least, then that of all days, the earliest of equal days; then each is taken up once
more and put where it then costs least.  Work that has a day already keeps it and only counts.

The bound: no spread whatever has a lightest busiest week below the mean of all weeks, with each work done as often as
it is done at least.  Within 1 % of it for 1,000 tasks of a year (``tests/planning/test_spreading.py``).  Where it
fails: what is done late begins its interval late, so a plant drifts from the days it was given; few heavy jobs cannot
be level, and then the bound is out of reach, not the spread bad.
"""

from __future__ import annotations

from collections.abc import Sequence
from operator import itemgetter

from upkeep.frozen import frozen

WEEK = 5
"""Working days of a week, as far as levelling goes (plant default, no source)."""

SWEEPS = 1
_WEEK_WEIGHT = 1000


@frozen
class Recurring:
    """Work that comes back: ``minutes`` each time, every so many working days (at least 1).

    ``first`` is the working day from today, counted from 0, on which it is due next; None: it may begin on any day of
    its first interval, or until ``latest``.
    """

    line: str
    minutes: float
    every: int
    first: int | None = None
    latest: int | None = None

    def choices(self, days: int) -> int:
        """How many first days it may have, from day 0 on."""
        return min(self.every, days, days if self.latest is None else self.latest + 1)


@frozen
class Spread:
    """The first day of each work, the minutes of each week, and the least that the busiest week can be."""

    firsts: tuple[int, ...]
    weeks: tuple[float, ...]
    bound: float

    @property
    def busiest(self) -> float:
        """The minutes of the busiest week."""
        return max(self.weeks, default=0.0)

    @property
    def gap(self) -> float:
        """By how much the busiest week is above the bound, as a share of it; 0 where there is no work."""
        return self.busiest / self.bound - 1 if self.bound else 0.0


class _Making:
    """Sums by week, and by day what one more minute there costs, so that a first day costs a look at its own days."""

    def __init__(self, days: int) -> None:
        self._days = days
        self._costs = [0.0] * days
        self.weeks = [0.0] * ((days + WEEK - 1) // WEEK)

    def add(self, work: Recurring, first: int, sign: int = 1) -> None:
        """Puts work on its days; with a sign of -1 takes it off."""
        minutes, costs = sign * work.minutes, self._costs
        for day in range(first, self._days, work.every):
            week = day // WEEK
            self.weeks[week] += minutes
            costs[day] += minutes
            for other in range(week * WEEK, min(week * WEEK + WEEK, self._days)):
                costs[other] += _WEEK_WEIGHT * minutes

    def best(self, work: Recurring) -> int:
        """The first day on which a minute of the work costs least on the mean of its days."""
        means = (_mean(self._costs[first :: work.every]) for first in range(work.choices(self._days)))
        return min(enumerate(means), key=itemgetter(1))[0]


def _mean(costs: Sequence[float]) -> float:
    return sum(costs) / len(costs)


def spread(works: Sequence[Recurring], days: int) -> Spread:
    """First days for works over so many working days; the same works give the same days."""
    made, firsts = _Making(days), [work.first or 0 for work in works]
    free = [at for at, work in enumerate(works) if work.first is None]
    for work in works:
        if work.first is not None:
            made.add(work, work.first)
    free.sort(key=lambda at: (-works[at].minutes / works[at].every, works[at].every, at))
    for at in free:
        firsts[at] = made.best(works[at])
        made.add(works[at], firsts[at])
    for _ in range(SWEEPS):
        for at in free:
            made.add(works[at], firsts[at], -1)
            firsts[at] = made.best(works[at])
            made.add(works[at], firsts[at])
    return Spread(tuple(firsts), tuple(made.weeks), least_busiest(works, days))


def together(works: Sequence[Recurring], days: int) -> tuple[float, ...]:
    """The minutes of each week where all that has no day begins on the first one."""
    made = _Making(days)
    for work in works:
        made.add(work, work.first or 0)
    return tuple(made.weeks)


def least_busiest(works: Sequence[Recurring], days: int) -> float:
    """The minutes below which the busiest week cannot be: the mean of all weeks, each work done as seldom as it can."""
    minutes = sum(work.minutes * _least_times(work, days) for work in works)
    return minutes / ((days + WEEK - 1) // WEEK)


def _least_times(work: Recurring, days: int) -> int:
    if work.first is not None:
        return len(range(work.first, days, work.every))
    return len(range(work.choices(days) - 1, days, work.every))

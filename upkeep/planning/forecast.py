"""When an item's strokes run out: the day expected, the chance of being due sooner, and the latest safe day.

Method.  Each working day to come brings the rate (``upkeep/planning/rate.py``); a day with planned orders brings those
instead, taken as they stand.  The sum over N days is taken as normally spread: its variance is that of the N days, plus
that of the rate itself, which is known only as well as the days it was made from.  The chance of being due within N
days is the chance that the sum reaches the strokes left; strokes never run backwards, so it never falls as N grows.
The latest safe day is the last working day by whose end that chance is at most 5 %, with the strokes left counted from
the high end of what is done, and as if the item ran on every working day at the rate of those days on which it did: a
die set that rests today may be on a press tomorrow.  Forecast with the best estimate, be safe with the high one.

Worked examples (invented figures): 12,000 left at 4,200 a working day are 2.9 working days; the same strokes spread
over calendar days, 3,000 a day, would say 4.0.  1,000 left at 300 +/- 500 a day are due within 5 days with a chance of
67 %, though the mean says 3.3 days.

Where it fails: orders that run for days on end make sums wider than independent days do; few days with large strokes
are lopsided, and a normal spread gives some chance to strokes below zero; a plan that is not kept moves the answer by
as much.  How often the latest safe day kept its word, in simulated shops and in the demo plant, is written in
``upkeep/planning/backtest.py``.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator, Mapping
from dataclasses import field
from datetime import date
from itertools import groupby, islice
from statistics import NormalDist

from upkeep.frozen import frozen
from upkeep.planning.rate import LEAST_DAYS, LOOKED_BACK, Rate, daily_rate, days_counted, running_rate
from upkeep.said import Figure, Said, in_turn, said
from upkeep.units.figures import HALF_OF_90_IN_SCATTERS, chance_text, estimate
from upkeep.units.quantities import in_strokes
from upkeep.units.workdays import WorkingDays

SAFE_CHANCE = 0.05
"""The chance of being due that is still called safe (plant default, no source)."""

FARTHEST = 500
"""Working days a forecast looks ahead, about two years (plant default, no source)."""

LISTED = 10
"""Working days for which a forecast lists the chance: two weeks of five."""

_NORMAL = NormalDist()


@frozen
class Left:
    """Strokes left until due: ``low`` when as much was done as can be, ``best`` by the estimate, ``high`` at most."""

    low: int
    best: int
    high: int

    @classmethod
    def exactly(cls, number: int) -> Left:
        """Strokes left that nobody had to guess."""
        return cls(number, number, number)

    @property
    def said(self) -> Said:
        """The number with its bounds."""
        if self.low == self.high:
            return in_strokes(self.best)
        return said("{best} ({low} to {high})", best=in_strokes(self.best), low=self.low, high=self.high)


@frozen
class Sum:
    """All strokes from the first day to the end of this one: what is expected, and its standard deviation."""

    day: date
    mean: float
    spread: float

    def chance_of(self, left: float) -> float:
        """The chance that the sum is at least ``left``."""
        if left <= 0:
            return 1.0
        if self.spread == 0:
            return float(self.mean >= left)
        return _NORMAL.cdf((self.mean - left) / self.spread)


@frozen
class Ahead:
    """What the days from ``first`` on will bring: the rate on each working day, or the orders planned for a day.

    ``first`` counts as a whole day; when part of it has passed, the answers are early by that part.  A day off with
    planned strokes is worked.
    """

    rate: Rate
    first: date
    days: WorkingDays
    planned: Mapping[date, int] = field(default_factory=dict)

    def sums(self) -> Iterator[Sum]:
        """The sum at the end of each worked day, in order, without end."""
        mean, unplanned = 0.0, 0
        for day in self._worked():
            if day in self.planned:
                mean += self.planned[day]
            else:
                mean, unplanned = mean + self.rate.mean, unplanned + 1
            yield Sum(day, mean, self.rate.spread * math.sqrt(unplanned + unplanned**2 / self.rate.worth))

    def chances(self, left: float) -> Iterator[tuple[date, float]]:
        """Each worked day and the chance that ``left`` strokes are done by its end."""
        chance = 0.0
        for so_far in self.sums():
            chance = max(chance, so_far.chance_of(left))
            yield so_far.day, chance

    def chance_within(self, left: float, n: int) -> float:
        """The chance that ``left`` strokes are done within n working days."""
        if n <= 0:
            return float(left <= 0)
        return next(chance for _, chance in islice(self.chances(left), n - 1, None))

    def _worked(self) -> Iterator[date]:
        extra = sorted(day for day, number in self.planned.items() if number and day >= self.first)
        return (day for day, _ in groupby(heapq.merge(self.days.starting(self.first), extra)))


@frozen
class Forecast:
    """When a line will be due by strokes.

    ``expected`` is the day on which the strokes left run out and ``working_days`` how many that takes; both None where
    nothing can be said.  ``latest_safe`` is the last working day to be safe until its end; None when there is none.
    ``chances`` are those of being due within 1, 2, 3 ... working days.  ``why`` is the arithmetic in one or more
    sentences, or the reason why there is no forecast.
    """

    why: Said
    expected: date | None = None
    working_days: float | None = None
    latest_safe: date | None = None
    chances: tuple[float, ...] = ()


def forecast_from(
    left: Left, done: Mapping[date, int], days: WorkingDays, first: date, planned: Mapping[date, int] | None = None
) -> Forecast:
    """The forecast from the strokes done by day before ``first``, the first day that is still to come.

    A day that is not in ``done`` has no count; one without strokes stands there with 0.
    """
    rate = daily_rate(done, days, first)
    if rate is None:
        counted = len(days_counted(done, days, first))
        return Forecast(
            said(
                "No forecast: of the last {days} working days {counted} have a count; {needed} are needed.",
                counted=counted,
                days=LOOKED_BACK,
                needed=LEAST_DAYS,
            )
        )
    planned = planned or {}
    running = running_rate(done, days, first)
    every_day = None if running is None else Ahead(running, first, days, planned)
    return forecast(left, Ahead(rate, first, days, planned), every_day)


def forecast(left: Left, ahead: Ahead, every_day: Ahead | None = None) -> Forecast:
    """The forecast from what the days ahead bring; refused without any strokes and beyond 500 working days.

    ``every_day`` is what they bring if the item runs on each of them; None: as ``ahead`` says.
    """
    if left.best <= 0:
        return Forecast(said("Nothing is left: it is already due."), ahead.first, 0.0, chances=(1.0,) * LISTED)
    if ahead.rate.mean == 0 and not any(ahead.planned.values()):
        return Forecast(
            said("No forecast: the rate is {rate}, and no strokes are planned.", rate=_rate_text(ahead.rate))
        )
    reached = _reached(left.best, ahead)
    if reached is None:
        return Forecast(
            said(
                "No forecast: {left} left at {rate} is more than {days} working days away.",
                left=left.said,
                rate=_rate_text(ahead.rate),
                days=FARTHEST,
            )
        )
    expected, working_days = reached
    safe = _latest_safe(left.low, every_day or ahead)
    chances = tuple(chance for _, chance in islice(ahead.chances(left.best), LISTED))
    why = in_turn(_why(left, ahead, reached, chances), _safe_text(left, safe, every_day))
    return Forecast(why, expected, working_days, safe, chances)


def _reached(left: int, ahead: Ahead) -> tuple[date, float] | None:
    """The day on which the expected sum reaches the strokes left, and the working days to it, with their fraction."""
    before = 0.0
    for number, so_far in enumerate(islice(ahead.sums(), FARTHEST)):
        if so_far.mean >= left:
            return so_far.day, number + (left - before) / (so_far.mean - before)
        before = so_far.mean
    return None


def _latest_safe(left: int, ahead: Ahead) -> date | None:
    safe = None
    for day, chance in islice(ahead.chances(left), FARTHEST):
        if chance > SAFE_CHANCE:
            break
        safe = day
    return safe


def _why(left: Left, ahead: Ahead, reached: tuple[date, float], chances: tuple[float, ...]) -> Said:
    expected, working_days = reached
    planned = sum(ahead.first <= day <= expected for day in ahead.planned)
    rate = _rate_text(ahead.rate)
    if planned:
        rate = said("{rate} and orders planned for {days} of those days", rate=rate, days=planned)
    return said(
        "{left} left at {rate} will last {days} working days: due on {day}. The chance that it is due within "
        "5 working days is {chance}.",
        left=left.said,
        rate=rate,
        days=Figure(working_days, ".1f"),
        day=expected,
        chance=chance_text(chances[4]),
    )


def _safe_text(left: Left, safe: date | None, every_day: Ahead | None) -> Said:
    chance = chance_text(SAFE_CHANCE)
    if left.low != left.high:
        chance = said("{chance}, if {left} are left", chance=chance, left=in_strokes(max(0, left.low)))
    if every_day is not None:
        chance = said(
            "{chance}, if it runs every working day at {rate} strokes, as it did on the days it ran",
            chance=chance,
            rate=_mean_of(every_day.rate),
        )
    if safe is None:
        return said(
            "Not safe even for the first working day: by its end the chance is more than {chance}.", chance=chance
        )
    return said("Latest safe day {day}: by the end of it the chance is at most {chance}.", day=safe, chance=chance)


def _mean_of(rate: Rate) -> int:
    """The strokes of a day as far as their spread lets one say them."""
    return estimate(rate.mean, HALF_OF_90_IN_SCATTERS * rate.spread)


def _rate_text(rate: Rate) -> Said:
    mean, spread = _mean_of(rate), estimate(rate.spread, rate.spread)
    if not rate.days:
        return said("{mean} +/- {spread} strokes a working day", mean=mean, spread=spread)
    return said(
        "{mean} +/- {spread} strokes a working day (from {days} of the last {of} working days; recent days "
        "weigh more, and one outlying day at each end is pulled in)",
        mean=mean,
        spread=spread,
        days=rate.days,
        of=LOOKED_BACK,
    )

"""How many strokes an item does on a working day, and how much that changes from day to day.

Method.  The last 20 working days are looked at, those without a count left out (a day with 0 strokes is not left out).
The highest day counts as the second highest and the lowest as the second lowest, so that one odd day each way moves
little.  The rate is the weighted mean: a day weighs half as much as one 10 working days later.  The spread is the
weighted standard deviation of the same values, divided by 1 - 2/n for n days, which makes up for the two days pulled in
(over simulated normal days it then came out 1 to 2 % too large, n from 8 to 20).

Assumptions: the days to come are like the last ones, and each is independent of the one before.  Where it fails: after
a change of product or shifts the rate follows only with the weights; lopsided days (many small, few large ones) pull
the rate down, by 5 % (20 days) to 12 % (8 days) where they are exponentially spread; an item that ran on one day only
shows a rate of 0.
The figures 20, 10, 8 and 4 are plant defaults, no source; those measured are from simulation.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import date
from statistics import fmean

from upkeep.frozen import frozen
from upkeep.units.workdays import WorkingDays

LOOKED_BACK = 20
"""Working days a rate is made from."""

HALF_AS_HEAVY = 10
"""After so many working days a day weighs half."""

LEAST_DAYS = 8
"""Fewer working days with a count give no rate."""

LEAST_RUN = 4
"""Fewer working days on which it ran give no mean of those."""


@frozen
class Rate:
    """Strokes a working day: ``mean``, and ``spread`` as the standard deviation of one day.

    ``days`` is how many working days it was made from, and ``worth`` how many equally heavy ones they are worth: the
    mean itself is unsure by spread / sqrt(worth).  A rate that is given, not made from days, is taken as known.
    """

    mean: float
    spread: float
    days: int = 0
    worth: float = math.inf


def days_counted(done: Mapping[date, int], days: WorkingDays, until: date) -> list[tuple[int, int]]:
    """The working days before ``until`` with a count, latest first: how many working days back, and their strokes.

    Strokes done on a day off count with the working day before it.
    """
    strokes: dict[date, int] = {}
    for day, did in done.items():
        if day < until:
            worked = days.on_or_before(day)
            strokes[worked] = strokes.get(worked, 0) + did
    back = [(n, days.add(until, -n)) for n in range(1, LOOKED_BACK + 1)]
    return [(n, strokes[day]) for n, day in back if day in strokes]


def daily_rate(done: Mapping[date, int], days: WorkingDays, until: date) -> Rate | None:
    """The rate from the strokes done by day before ``until``; None where fewer than 8 working days have a count."""
    counted = days_counted(done, days, until)
    return _rate_of(counted) if len(counted) >= LEAST_DAYS else None


def running_rate(done: Mapping[date, int], days: WorkingDays, until: date) -> Rate | None:
    """The rate of the days on which the item ran at all; None where it ran on each that has a count, or on none.

    Of fewer than 4 such days the fullest is taken as it stands.
    """
    counted = days_counted(done, days, until)
    ran = [(back, strokes) for back, strokes in counted if strokes]
    if not ran or len(ran) == len(counted):
        return None
    if len(ran) < LEAST_RUN:
        return Rate(max(strokes for _, strokes in ran), 0.0, len(ran))
    return _rate_of(ran)


def _rate_of(counted: Sequence[tuple[int, int]]) -> Rate:
    weights = [0.5 ** (back / HALF_AS_HEAVY) for back, _ in counted]
    values = pulled_in([strokes for _, strokes in counted])
    total, squared = sum(weights), sum(weight**2 for weight in weights)
    mean = values[0] + fmean([value - values[0] for value in values], weights)  # equal days: exactly their strokes
    around = fmean([(value - mean) ** 2 for value in values], weights) / (1 - squared / total**2)
    spread = math.sqrt(around) / (1 - 2 / len(values))
    return Rate(mean, spread, len(values), total**2 / squared)


def pulled_in(values: list[int]) -> list[int]:
    """The values with the highest as the second highest and the lowest as the second lowest (winsorised by one)."""
    ordered = sorted(values)
    low, high = ordered[1], ordered[-2]
    return [min(max(value, low), high) for value in values]

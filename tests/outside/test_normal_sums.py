"""The chance that a sum of days reaches the strokes left, against known values of the normal distribution.

Table: values of the standard normal distribution function as printed in statistics books (from memory).  Sums: the
standard library's ``NormalDist``, whose ``+`` adds independent variables.  Exact: the binomial distribution, counted
out.
"""

from __future__ import annotations

from datetime import date
from functools import reduce
from itertools import islice
from math import comb
from operator import add
from statistics import NormalDist

import pytest

from upkeep.planning.forecast import Ahead, Sum
from upkeep.planning.rate import Rate
from upkeep.units.instants import Zone
from upkeep.units.shifts import ShiftCalendar
from upkeep.units.workdays import WorkingDays

DAYS = WorkingDays(ShiftCalendar(Zone("UTC"), []))
MONDAY = date(2026, 3, 2)


@pytest.mark.parametrize(
    ("above", "chance"),
    [(0, 0.5), (1, 0.8413), (1.6449, 0.95), (1.96, 0.975), (2.3263, 0.99), (3, 0.9987), (-1, 0.1587), (-2, 0.0228)],
)
def test_chances_are_those_of_the_printed_table(above: float, chance: float) -> None:
    """A sum that is so many spreads above what is left reaches it with that chance."""
    assert Sum(MONDAY, 1000 + 200 * above, 200).chance_of(1000) == pytest.approx(chance, abs=5e-5)


@pytest.mark.parametrize("n", [1, 2, 5, 40])
def test_a_sum_of_days_is_spread_as_a_sum_of_independent_normals(n: int) -> None:
    """Mean times n, spread times the root of n, where the rate is known."""
    summed = reduce(add, [NormalDist(300, 500)] * n)
    (found,) = islice(Ahead(Rate(300, 500), MONDAY, DAYS).sums(), n - 1, n)
    assert (found.mean, found.spread) == pytest.approx((summed.mean, summed.stdev))
    assert found.chance_of(1000) == pytest.approx(1 - summed.cdf(1000))


@pytest.mark.parametrize("worth", [8, 17.3])
def test_a_rate_made_from_days_is_unsure_for_all_days_to_come_at_once(worth: float) -> None:
    """N days of an error of the mean that has the spread divided by the root of what the mean is worth."""
    (found,) = islice(Ahead(Rate(300, 500, 20, worth), MONDAY, DAYS).sums(), 9, 10)
    mean_error = NormalDist(0, 500 / worth**0.5) * 10
    assert found.spread == pytest.approx((reduce(add, [NormalDist(300, 500)] * 10) + mean_error).stdev)


@pytest.mark.parametrize("n", [9, 16, 25, 40])
def test_days_that_run_or_stand_still_are_near_the_exact_chance(n: int) -> None:
    """1,000 strokes or none, evenly: within 0.01 of the binomial at every half step."""
    for needed in range(1, n + 1):
        exact = sum(comb(n, runs) for runs in range(needed, n + 1)) / 2**n
        found = Ahead(Rate(500, 500), MONDAY, DAYS).chance_within(1000 * (needed - 0.5), n)
        assert found == pytest.approx(exact, abs=0.01)

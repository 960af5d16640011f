"""How often steady slug heights are taken for a jump, and how often a jump is seen at once: by simulation.

A difference of two checks scatters by the root of 2 more than one check does, so a limit of three scatters of one check
stops a steady set at 4 to 11 checks in 100; NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, limits it at
3.267 mean moving ranges (D4), which 0.9 in 100 pass where the scatter is known.
"""

from __future__ import annotations

from math import sqrt
from random import Random

import pytest

from tests.rates import at_least, at_most, share
from upkeep.quality.jumps import ENOUGH, SMALLEST, usual

FOUR_BETWEEN = 4 * sqrt(2)
"""Four times the standard deviation of the difference of two checks, in scatters of one check."""


def jumps(random: Random, before: int, scatter: float, jump: float = 0.0, wear: float = 0.0) -> bool:
    """Whether the check after so many is a jump, read to 0.001 mm; jump and wear a check in scatters."""
    heights = [round(1.2 + scatter * (wear * n + random.gauss(0, 1)), 3) for n in range(before + 1)]
    found = usual(heights[:-1])
    assert found is not None
    return found.jumped(heights[-1] + jump * scatter)


@pytest.fixture
def cases(long: bool) -> int:
    """How many steady sets are drawn."""
    return 20_000 if long else 400


@pytest.mark.parametrize("before", [4, 6, 11, 12, 20])
@pytest.mark.parametrize("scatter", [0.002, 0.004])
def test_a_steady_set_is_stopped_by_one_check_in_a_hundred_at_most(before: int, scatter: float, cases: int) -> None:
    """Also with four checks before, which hardly tell what is usual."""
    assert at_most(share(cases, lambda random: jumps(random, before, scatter)), 0.01, cases)


@pytest.mark.parametrize("before", [12, 20])
def test_a_set_that_wears_is_not_stopped_for_it(before: int, cases: int) -> None:
    """By four tenths of the scatter from check to check: the line goes with it."""
    assert at_most(share(cases, lambda random: jumps(random, before, 0.004, wear=0.4)), 0.01, cases)


def test_a_worn_set_with_few_checks_is_rarely_stopped_for_it(cases: int) -> None:
    """Their mean lags behind the wear, yet the wear is in their scatter too: 2 in 100."""
    assert at_most(share(cases, lambda random: jumps(random, 8, 0.004, wear=0.4)), 0.025, cases)


@pytest.mark.parametrize(("before", "found"), [(4, 0.45), (6, 0.79), (8, 0.90), (12, 0.90), (20, 0.97)])
def test_a_jump_of_four_scatters_between_checks_is_found_at_once(before: int, found: float, cases: int) -> None:
    """In 9 of 10 cases from eight checks before it on; up or down."""
    for jump in (FOUR_BETWEEN, -FOUR_BETWEEN):
        seen = share(cases, lambda random, jump=jump: jumps(random, before, 0.004, jump))  # type: ignore[misc]
        assert at_least(seen, found, cases)


def test_a_jump_is_found_in_a_set_that_wears(cases: int) -> None:
    """Also one back against the wear."""
    seen = share(cases, lambda random: jumps(random, 12, 0.004, -FOUR_BETWEEN, wear=0.4))
    assert at_least(seen, 0.90, cases)


def test_what_no_gauge_tells_apart_is_no_jump() -> None:
    """Heights all the same, then one 3 um off; 4 um off is one.  Below four checks nothing is usual."""
    found = usual([1.2] * 4)
    assert found is not None
    assert found.expected == pytest.approx(1.2)
    assert found.within == SMALLEST
    assert not found.jumped(1.2029)
    assert found.jumped(1.204)
    assert usual([1.2] * 3) is None
    assert usual([1.2] * ENOUGH) is not None

"""How often steady slug heights are taken for a jump, and how often a jump is seen at once: by simulation.

A difference of two checks scatters by the root of 2 more than one check does, so a limit of three scatters of one check
stops a steady set at 4 to 11 checks in 100; NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, limits it at
3.267 mean moving ranges (D4), which 0.9 in 100 pass where the scatter is known.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from random import Random
from statistics import stdev

import pytest

from tests.rates import at_least, at_most, share
from upkeep.quality.jumps import ENOUGH, LINE_FROM, SMALLEST, usual
from upkeep.stats.scatters import Scatter

FOUR_BETWEEN = 4 * sqrt(2)
"""Four times the standard deviation of the difference of two checks, in scatters of one check."""


def jumps(
    random: Random, before: int, scatter: float, jump: float = 0.0, wear: float = 0.0, sisters: Sequence[int] = (),
    own: float = 1.0,
) -> bool:  # fmt: skip
    """Whether the check after so many is a jump, read to 0.001 mm; jump and wear a check in scatters.

    ``sisters`` are the numbers of checks of sister sets; the set scatters ``own`` times what they do.
    """
    heights = [round(1.2 + scatter * (wear * n + own * random.gauss(0, 1)), 3) for n in range(before + 1)]
    theirs = {f"DS-{n}": scatter_found(random, n, scatter) for n in sisters}
    return usual(heights[:-1], theirs).jumped(heights[-1] + jump * scatter)


def scatter_found(random: Random, checks: int, scatter: float) -> Scatter:
    """What so many checks of a set that does not wear tell of its scatter: squares that go by chi-squared."""
    freedom = checks - (1 if checks < LINE_FROM else 2)
    return Scatter(scatter**2 * random.gammavariate(freedom / 2, 2), freedom)


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


FAMILIES = [(11,), (6, 7, 8), (20, 19, 18)]
"""Checks of sister sets: eleven of one, a few of three, many of three."""


@pytest.mark.parametrize("sisters", FAMILIES, ids=str)
@pytest.mark.parametrize("before", [4, 6, 8, 12, 20])
def test_sisters_make_no_more_false_stops(before: int, sisters: Sequence[int], cases: int) -> None:
    """1 in 100 at the most, with any number of checks before it."""
    for scatter in (0.002, 0.004):
        found = share(cases, lambda random, each=scatter: jumps(random, before, each, sisters=sisters))  # type: ignore[misc]
        assert at_most(found, 0.01, cases)


@pytest.mark.parametrize("sisters", FAMILIES, ids=str)
@pytest.mark.parametrize("before", [4, 6, 8, 12, 20])
def test_with_sisters_a_jump_of_four_scatters_is_found_at_once_after_few_checks(
    before: int, sisters: Sequence[int], cases: int
) -> None:
    """In 9 of 10 cases from four checks on."""
    jump = FOUR_BETWEEN if before % 4 else -FOUR_BETWEEN
    assert at_least(share(cases, lambda random: jumps(random, before, 0.004, jump, sisters=sisters)), 0.90, cases)


@pytest.mark.parametrize("before", [4, 8])
def test_what_sisters_cost_where_a_set_wears_or_scatters_more_than_they_do(before: int, cases: int) -> None:
    """6 in 100 of those that wear fast, 4 in 100 of those that scatter half as much again."""
    worn = share(cases, lambda random: jumps(random, before, 0.004, wear=0.4, sisters=(20, 19, 18)))
    assert at_most(worn, 0.06, cases)
    wild = share(cases, lambda random: jumps(random, before, 0.004, sisters=(20, 19, 18), own=1.5))
    assert at_most(wild, 0.04, cases)


def test_sisters_that_scatter_otherwise_are_not_asked() -> None:
    """One is as quiet as no set with this gauge, one as wild as three; the one that agrees is named, and tells more."""
    heights = [1.200, 1.204, 1.198, 1.203]
    alone = usual(heights)
    theirs = {"quiet": Scatter(1e-9, 19), "alike": Scatter(19 * 0.003**2, 19), "wild": Scatter(19 * 0.03**2, 19)}
    found = usual(heights, theirs)
    assert found.sisters == ("alike",)
    assert found.expected == alone.expected
    assert found.within < alone.within / 1.5
    assert usual(heights, {"quiet": theirs["quiet"]}) == alone


def test_quieter_sisters_do_not_make_a_set_quieter_than_its_own_checks_say() -> None:
    """What it scatters itself, with the surer t of all."""
    heights = [1.200, 1.204, 1.198, 1.203]
    found = usual(heights, {"calm": Scatter(19 * 0.0015**2, 19)})
    assert found.within == pytest.approx(2.8188 * stdev(heights) * sqrt(1.25), rel=1e-4)  # t at 99.5 %, 22 degrees


def test_what_no_gauge_tells_apart_is_no_jump() -> None:
    """Heights all the same, then one 3 um off; 4 um off is one."""
    found = usual([1.2] * 4)
    assert found.expected == pytest.approx(1.2)
    assert found.within == SMALLEST
    assert not found.jumped(1.2029)
    assert found.jumped(1.204)
    assert usual([1.2] * ENOUGH).within == SMALLEST

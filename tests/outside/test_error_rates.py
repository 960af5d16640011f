"""How often two tests call without cause, against what their sources promise.

* Slug heights: the moving-range limit of the NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, is 3.267 mean
  ranges (D4), which 0.9 % of steady differences pass where the scatter is known; a difference of two checks scatters by
  the root of 2 more than one check.
* Pooling of lives: a test at 5 % rejects 5 %; with three failures in each of two groups, the chi-square distribution of
  large samples rejects 19 %.  1,200 pairs may reach 8.5 % by chance.
"""

from __future__ import annotations

from random import Random

from tests.rates import share
from upkeep.quality.jumps import usual
from upkeep.stats.lives import Lives
from upkeep.wear.lives import agreement


def test_a_steady_slug_is_stopped_by_far_fewer_than_two_checks_in_a_hundred() -> None:
    """Twelve checks before it, or four, scatter 4 um."""

    def stopped(random: Random, before: int) -> bool:
        *heights, height = (round(random.gauss(1.2, 0.004), 3) for _ in range(before + 1))
        found = usual(heights)
        assert found is not None
        return found.jumped(height)

    for before in (4, 12):
        assert share(1_200, lambda random, before=before: stopped(random, before)) <= 0.02  # type: ignore[misc]


def test_alike_groups_of_three_failures_are_rarely_kept_apart() -> None:
    """Not more than 8.5 in 100 of 1,200 pairs."""

    def kept_apart(random: Random) -> bool:
        one, other = (Lives(tuple(random.weibullvariate(1, 2) for _ in range(3))) for _ in range(2))
        return not agreement({"one": one, "other": other}).agree

    assert share(1_200, kept_apart) <= 0.085

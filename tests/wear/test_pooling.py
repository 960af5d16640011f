"""How often the pooling test keeps alike groups of lives apart, and how often unlike ones: by simulation.

Case 7 of the outside cases: two groups of n failures from one Weibull distribution.  By the chi-square distribution of
large samples 33, 19, 11 and 8 in 100 were kept apart with 2, 3, 5 and 8 failures each.
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

import pytest

from tests.rates import at_least, at_most, share
from upkeep.stats.lives import Lives
from upkeep.wear.lives import agreement

SHAPE, SCALE = 3.0, 100_000.0


def lived(random: Random, n: int, scale: float, cut: bool) -> Lives:
    """Lives of which, where they are cut, about half still run."""
    ages = [random.weibullvariate(scale, SHAPE) for _ in range(n)]
    ends = [random.weibullvariate(scale, SHAPE) for _ in ages] if cut else ages
    failed = tuple(age for age, end in zip(ages, ends, strict=True) if age <= end)
    return Lives(failed, tuple(end for age, end in zip(ages, ends, strict=True) if age > end))


def kept_apart(random: Random, sizes: Sequence[int], scales: Sequence[float] = (), cut: bool = False) -> bool:
    """Whether groups of so many lives are not pooled."""
    scales = scales or [SCALE] * len(sizes)
    found = agreement({str(n): lived(random, *one, cut) for n, one in enumerate(zip(sizes, scales, strict=True))})
    return not found.agree


@pytest.fixture
def cases(long: bool) -> int:
    """How many pairs of groups are drawn."""
    return 20_000 if long else 400


@pytest.mark.parametrize("sizes", [(2, 2), (3, 3), (5, 5), (8, 8), (30, 30), (3, 10), (2, 2, 2, 2), (3, 3, 3)])
def test_alike_groups_are_kept_apart_in_5_of_100_cases(sizes: tuple[int, ...], cases: int) -> None:
    """With few failures as with many."""
    found = share(cases, lambda random: kept_apart(random, sizes))
    assert at_most(found, 0.05, cases)
    assert at_least(found, 0.045, cases)


@pytest.mark.parametrize("sizes", [(6, 6), (16, 16)])
def test_where_lives_were_cut_short_alike_groups_are_kept_apart_even_less_often(
    sizes: tuple[int, ...], cases: int
) -> None:
    """The failures alone count as size."""
    assert at_most(share(cases, lambda random: kept_apart(random, sizes, cut=True)), 0.05, cases)


@pytest.mark.parametrize(("n", "found"), [(3, 0.26), (5, 0.58), (8, 0.88)])
def test_groups_of_which_one_lives_half_as_long_are_told_apart(n: int, found: float, cases: int) -> None:
    """With eight failures each in 9 of 10 cases, with three in a quarter of them."""
    seen = share(cases, lambda random: kept_apart(random, (n, n), (SCALE, SCALE / 2)))
    assert at_least(seen, found, cases)


def test_that_few_failures_are_no_proof_is_said() -> None:
    """Of groups that agree with fewer than eight failures in one of them."""
    few, many = Lives((9.0, 11.0, 12.0)), Lives(tuple(float(age) for age in range(6, 16)))
    assert "With fewer than 8 failures in a group that proves little" in str(agreement({"a": few, "b": many}).why)
    assert "proves little" not in str(agreement({"a": many, "b": many}).why)

"""Scatters that agree and are pooled, against an open library."""

from __future__ import annotations

from random import Random
from statistics import fmean, variance

import pytest
from scipy.stats import bartlett as bartlett_of_scipy
from scipy.stats import chi2

from upkeep.stats.scatters import Scatter, agree, bartlett, pooled


def scatter(values: list[float]) -> Scatter:
    """How values scatter around their mean."""
    mean = fmean(values)
    return Scatter(sum((value - mean) ** 2 for value in values), len(values) - 1)


@pytest.mark.parametrize(("one", "other", "times"), [(4, 4, 1.0), (4, 20, 2.0), (11, 60, 0.3), (20, 5, 5.0)])
def test_bartletts_statistic_is_that_of_scipy(one: int, other: int, times: float) -> None:
    """And so is whether two groups agree at 1 %: scipy.stats.bartlett and chi2 with one degree of freedom."""
    random = Random(one)
    first = [random.gauss(0, 1) for _ in range(one)]
    second = [times * random.gauss(0, 1) for _ in range(other)]
    theirs = bartlett_of_scipy(first, second)
    assert bartlett(scatter(first), scatter(second)) == pytest.approx(theirs.statistic, rel=1e-9)
    for level in (0.5, 0.9, 0.99):
        assert agree(scatter(first), scatter(second), level) is bool(theirs.statistic <= chi2.ppf(level, 1))


def test_what_does_not_scatter_agrees_with_its_like_alone() -> None:
    """Values that are all the same have no variance to compare."""
    still, moving = Scatter(0.0, 5), Scatter(0.1, 5)
    assert agree(still, still, 0.99)
    assert not agree(still, moving, 0.99)
    assert not agree(moving, still, 0.99)


def test_the_pooled_variance_is_the_mean_of_the_variances_weighted_by_their_freedom() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.7."""
    first, second = [1.0, 2.0, 4.0], [3.0, 3.5, 5.0, 9.0]
    together = pooled([scatter(first), scatter(second)])
    assert together.freedom == 5
    assert together.deviation**2 == pytest.approx((2 * variance(first) + 3 * variance(second)) / 5)

"""What a sample proves: tolerance factors, bounds of a binomial share, and the age at which replacing pays.

Tolerance factors: values of printed tables (from memory), an example of the NIST/SEMATECH e-Handbook, 7.2.6.3 (its
numbers as quoted in public text), and scipy's noncentral t.  Binomial: scipy's own exact interval.  Age replacement:
the cost of Barlow and Proschan, Mathematical Theory of Reliability (1965), integrated and minimised by brute force.
What is marked "computed illustration" was worked out before this program was written, from the same formulas.
"""

from __future__ import annotations

import random
from math import exp, sqrt
from statistics import NormalDist

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import minimize_scalar
from scipy.stats import binom, binomtest, nct

from upkeep.stats.passes import clopper_pearson, not_excluded, passes_to_exclude
from upkeep.stats.replacement import age_replacement
from upkeep.stats.tolerance import k_factor, lower_bound


@pytest.mark.parametrize(("n", "factor"), [(5, 5.74), (10, 3.98), (25, 3.16)])
def test_factors_for_99_of_100_at_95_percent(n: int, factor: float) -> None:
    """Computed illustration, and the usual printed values 5.741, 3.981, 3.158 (from memory)."""
    assert k_factor(n) == pytest.approx(factor, abs=5e-3)


@pytest.mark.parametrize("n", [2, 3, 8, 43, 300])
@pytest.mark.parametrize(("cover", "level"), [(0.9, 0.99), (0.99, 0.95), (0.999, 0.5)])
def test_factors_are_quantiles_of_the_noncentral_t(n: int, cover: float, level: float) -> None:
    """scipy.stats has its own way to them."""
    theirs = nct.ppf(level, n - 1, NormalDist().inv_cdf(cover) * sqrt(n)) / sqrt(n)
    assert k_factor(n, cover, level) == pytest.approx(theirs, rel=1e-6)


def test_the_approximation_of_the_handbook_is_near() -> None:
    """NIST/SEMATECH e-Handbook, 7.2.6.3: 43 values, 90 % of them, 99 % sure: 1.8752 by Natrella's approximation."""
    assert k_factor(43, 0.90, 0.99) == pytest.approx(1.8752, abs=2e-3)


def test_bounds_cover_as_often_as_they_say() -> None:
    """3,000 samples of 6: in 95 % of them at least 99 % of the population lie above the bound."""
    chance, normal = random.Random(11), NormalDist()
    samples = ([normal.inv_cdf(chance.random()) for _ in range(6)] for _ in range(3000))
    covered = sum(normal.cdf(lower_bound(sample)) <= 0.01 for sample in samples)
    assert covered / 3000 == pytest.approx(0.95, abs=3 * sqrt(0.95 * 0.05 / 3000))


@pytest.mark.parametrize(("n", "percent"), [(1, 95), (3, 63), (5, 45), (25, 11), (59, 5)])
def test_a_few_good_pulls_exclude_little(n: int, percent: int) -> None:
    """Computed illustration: with 5 good pulls out of 5, 45 % bad are not excluded."""
    assert round(100 * not_excluded(n)) == percent


def test_59_good_pulls_exclude_one_bad_in_twenty() -> None:
    """Computed illustration; 93 and 124 with one and two failures are the usual values of such plans (from memory)."""
    assert [passes_to_exclude(0.05, failures=failures) for failures in (0, 1, 2)] == [59, 93, 124]


@pytest.mark.parametrize(("failures", "n"), [(0, 1), (0, 20), (1, 20), (3, 10), (17, 20), (20, 20)])
def test_shares_are_bounded_as_by_scipy(failures: int, n: int) -> None:
    """``binomtest(...).proportion_ci("exact")``, two-sided and one-sided."""
    theirs = binomtest(failures, n).proportion_ci(0.9, "exact")
    ours = clopper_pearson(failures, n, 0.9)
    assert (ours.low, ours.high) == pytest.approx((theirs.low, theirs.high), abs=1e-9)
    one_sided = binomtest(failures, n, alternative="less").proportion_ci(0.9, "exact")
    assert not_excluded(n, 0.9, failures) == pytest.approx(one_sided.high, abs=1e-9)


@pytest.mark.parametrize("failures", [0, 1, 4])
@pytest.mark.parametrize("fraction", [0.01, 0.05, 0.3])
def test_one_trial_less_would_not_exclude_it(fraction: float, failures: int) -> None:
    """Counted out with scipy's binomial: the chance of so few failures at that share is below 5 % from there on."""
    needed = passes_to_exclude(fraction, failures=failures)
    assert binom.cdf(failures, needed, fraction) <= 0.05 + 1e-12
    assert binom.cdf(failures, needed - 1, fraction) > 0.05


def cost(age: float, shape: float, ratio: float) -> float:
    """The long-run cost per unit of the scale when replacing at that age, in planned replacements."""
    survives = exp(-(age**shape))
    mean_age, _ = quad(lambda at: exp(-(at**shape)), 0, age, epsabs=1e-13, epsrel=1e-12)
    return float((survives + ratio * (1 - survives)) / mean_age)


@pytest.mark.parametrize("shape", [1.3, 1.5, 2.5, 6.0])
@pytest.mark.parametrize("ratio", [3.0, 10.0, 50.0])
def test_the_best_age_is_where_a_plain_search_finds_the_least_cost(shape: float, ratio: float) -> None:
    """Among ages up to five scales; what it saves is counted against running to failure."""
    found = age_replacement(shape, ratio)
    ages = np.geomspace(0.01, 5, 400)
    start = int(np.argmin([cost(age, shape, ratio) for age in ages]))
    best = minimize_scalar(
        lambda age: cost(age, shape, ratio),
        bounds=(ages[max(0, start - 1)], ages[min(399, start + 1)]),
        method="bounded",
        options={"xatol": 1e-9},
    )
    assert found.age_over_scale is not None
    assert cost(found.age_over_scale, shape, ratio) <= best.fun + 1e-9
    assert found.age_over_scale == pytest.approx(best.x, rel=1e-2)
    assert found.saving == pytest.approx(1 - best.fun / cost(30, shape, ratio), abs=1e-6)


@pytest.mark.parametrize(("shape", "age", "percent"), [(2.5, 0.35, 58), (1.5, 0.38, 25)])
def test_a_failure_ten_times_as_dear_makes_early_replacing_pay(shape: float, age: float, percent: int) -> None:
    """Computed illustration."""
    found = age_replacement(shape, 10)
    assert found.age_over_scale == pytest.approx(age, abs=5e-3)
    assert round(100 * found.saving) == percent


def test_where_no_age_saves_anything_worth_having_none_is_given() -> None:
    """Shape 1.2 and a failure only twice as dear: the cost falls by less than 1 in 100,000 at any age."""
    assert age_replacement(1.2, 2).age_over_scale is None
    assert min(cost(age, 1.2, 2) for age in np.geomspace(0.01, 30, 300)) == pytest.approx(cost(40, 1.2, 2), rel=1e-5)


def test_what_does_not_wear_is_not_replaced_by_age() -> None:
    """Computed illustration: shape 1."""
    assert (age_replacement(1.0, 10).age_over_scale, age_replacement(1.0, 10).saving) == (None, 0)

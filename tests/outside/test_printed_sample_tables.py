"""What a sample proves, against printed tables and worked values.

* One-sided tolerance factors: page of the R package cmstatr (read; 10 values, 90 %, 95 %); tables of D. B. Owen, A
  Survey of Properties and Applications of the Noncentral t-Distribution (1968), from memory; NIST/SEMATECH e-Handbook
  of Statistical Methods, 7.2.6.3, whose exact factor is 1.8740 (1.8752 is the approximation printed there).
* Trials that exclude a bad share: success-run tables, from memory; 2,995 in the documentation of a public reliability
  library (read).
* Intervals of a share: R. G. Newcombe, Two-Sided Confidence Intervals for the Single Proportion, Statistics in Medicine
  17 (1998), table I, from memory.
* Capability from 45 readings: a textbook example, from memory.
* Stiff readings: NIST Statistical Reference Datasets, univariate, NumAcc3, from memory.
* Rule of succession: P.-S. Laplace, Essai philosophique sur les probabilites (1814).
"""

from __future__ import annotations

import pytest

from upkeep.due.compliance import Share
from upkeep.quality.capability import capable
from upkeep.stats.capability import bissell_low
from upkeep.stats.passes import clopper_pearson, passes_to_exclude
from upkeep.stats.shares import ordered_shares
from upkeep.stats.tolerance import k_factor


@pytest.mark.parametrize(
    ("n", "cover", "level", "factor", "tolerance"),
    [
        (10, 0.90, 0.95, 2.35464, 5e-6),
        (5, 0.90, 0.95, 3.407, 1e-3),
        (30, 0.90, 0.95, 1.777, 1e-3),
        (100, 0.90, 0.95, 1.527, 1e-3),
        (30, 0.99, 0.95, 3.064, 1e-3),
        (43, 0.90, 0.99, 1.8740, 1e-4),
    ],
)
def test_tolerance_factors_are_the_printed_ones(
    n: int, cover: float, level: float, factor: float, tolerance: float
) -> None:
    assert k_factor(n, cover, level) == pytest.approx(factor, abs=tolerance)


@pytest.mark.parametrize(
    ("good", "level", "failures", "trials"),
    [
        (0.90, 0.90, 0, 22),
        (0.95, 0.90, 0, 45),
        (0.90, 0.95, 0, 29),
        (0.99, 0.95, 0, 299),
        (0.999, 0.95, 0, 2995),
        (0.90, 0.95, 1, 46),
        (0.99, 0.95, 1, 473),
    ],
)
def test_so_many_trials_prove_a_good_share(good: float, level: float, failures: int, trials: int) -> None:
    """Without a failure, and with one."""
    assert passes_to_exclude(1 - good, level, failures) == trials


@pytest.mark.parametrize(("hits", "n", "low", "high"), [(81, 263, 0.2553, 0.3662), (0, 20, 0.0, 0.1611)])
def test_the_score_interval_of_a_share(hits: int, n: int, low: float, high: float) -> None:
    """Method 3 of the table."""
    found = Share(hits, n)
    assert (found.low, found.high) == pytest.approx((100 * low, 100 * high), abs=1e-2)


@pytest.mark.parametrize(("hits", "n", "low", "high"), [(81, 263, 0.2527, 0.3676), (0, 20, 0.0, 0.1684)])
def test_the_exact_interval_of_a_share(hits: int, n: int, low: float, high: float) -> None:
    """Method 5 of the table."""
    found = clopper_pearson(hits, n)
    assert (found.low, found.high) == pytest.approx((low, high), abs=1e-4)


def test_a_capability_from_45_readings_lies_between() -> None:
    """Cpk 1.15: 0.89 to 1.41, two-sided 95 %; the lower end is the one-sided 97.5 % bound, the upper one mirrors it."""
    low = bissell_low(1.15, 45, 0.975)
    assert low == pytest.approx(0.89, abs=5e-3)
    assert 2 * 1.15 - low == pytest.approx(1.41, abs=5e-3)


def test_stiff_readings_keep_their_figures() -> None:
    """NumAcc3: 1000000.2 once, 1000000.1 and 1000000.3 500 times each: mean 1000000.2, deviation 0.1."""
    values = [1000000.2, *[1000000.1, 1000000.3] * 500]
    found = capable(values, 999_999, 1_000_001)
    assert found.mean == pytest.approx(1000000.2, rel=1e-8)
    assert found.scatter == pytest.approx(0.1, rel=1e-8)


def test_the_rule_of_succession() -> None:
    """8 and 2 counted, one each presumed: 9 and 3 of 12."""
    assert ordered_shares([1, 1], [8, 2], 2) == pytest.approx((9 / 12, 3 / 12), abs=1e-15)

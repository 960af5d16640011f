"""Events at a constant rate, and shares of few: bounds against scipy and against printed tables and factors.

* Garwood's exact limits of a Poisson mean, 95 %: any table of them, as in NIST/SEMATECH e-Handbook of Statistical
  Methods (2012), 7.3.3 and 8.4.5; the values here are from memory.
* Factors of the MTBF, 90 %: NIST/SEMATECH e-Handbook, 8.4.5.1, table of two-sided factors; from memory.
* Shares: R. G. Newcombe, Statistics in Medicine 17 (1998), table I, method 3 (score); from memory.
"""

from __future__ import annotations

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest, chi2, poisson

from upkeep.due.compliance import Share
from upkeep.stats.rates import mean_between, poisson_interval


@pytest.mark.parametrize(
    ("events", "low", "high"), [(0, 0.0, 3.689), (1, 0.0253, 5.572), (5, 1.623, 11.668), (10, 4.795, 18.390)]
)
def test_printed_limits_of_a_poisson_mean(events: int, low: float, high: float) -> None:
    """95 %, two-sided, to the last figure printed."""
    bounds = poisson_interval(events)
    assert [bounds.low, bounds.high] == [pytest.approx(low, abs=5e-4), pytest.approx(high, abs=5e-4)]


@pytest.mark.parametrize(("faults", "low", "high"), [(1, 0.2108, 19.4958), (3, 0.3869, 3.6689), (10, 0.5895, 1.8432)])
def test_printed_factors_of_the_mean_between_failures(faults: int, low: float, high: float) -> None:
    """What the mean is multiplied by; 90 %, two-sided, watched to the end of a time."""
    bounds = mean_between(faults, faults)
    assert [bounds.low, bounds.high] == [pytest.approx(low, rel=1e-4), pytest.approx(high, rel=1e-4)]


def test_three_faults_in_1_2_million_strokes() -> None:
    """The example of the trade brief: 400 k, and between 155 k and 1.47 M."""
    bounds = mean_between(1_200_000, 3)
    assert (round(bounds.low, -3), round(bounds.high, -4)) == (155_000, 1_470_000)
    assert mean_between(1_200_000, 0).high == inf


@given(events=st.integers(0, 400), level=st.floats(0.5, 0.999))
def test_bounds_are_those_of_scipy(events: int, level: float) -> None:
    """By chi-squared with 2r and 2r + 2 degrees of freedom; each bound makes what was seen just so unlikely."""
    bounds, side = poisson_interval(events, level), (1 - level) / 2
    assert bounds.high == pytest.approx(chi2.ppf(1 - side, 2 * events + 2) / 2, rel=1e-9)
    assert poisson.cdf(events, bounds.high) == pytest.approx(side, rel=1e-6)
    if events:
        assert bounds.low == pytest.approx(chi2.ppf(side, 2 * events) / 2, rel=1e-9)


@pytest.mark.parametrize(
    ("number", "base", "low", "high"), [(81, 263, 25.53, 36.62), (15, 148, 6.24, 16.05), (0, 20, 0, 16.11)]
)
def test_printed_score_intervals(number: int, base: int, low: float, high: float) -> None:
    """Newcombe's examples, in percent."""
    share = Share(number, base)
    assert [share.low, share.high] == [pytest.approx(low, abs=5e-3), pytest.approx(high, abs=5e-3)]


def test_eight_of_nine_is_56_to_98_percent() -> None:
    """The example of a small base in the trade brief: 89 %, 56 to 98 % there, cut off and not rounded at 56.5."""
    share = Share(8, 9)
    assert [round(value) for value in (share.percent or 0, share.low or 0, share.high or 0)] == [89, 57, 98]


@given(base=st.integers(1, 500), data=st.data())
def test_score_intervals_are_those_of_scipy(base: int, data: st.DataObject) -> None:
    """Without continuity correction."""
    number = data.draw(st.integers(0, base))
    theirs = binomtest(number, base).proportion_ci(method="wilson")
    share = Share(number, base)
    assert share.low == pytest.approx(100 * theirs.low, abs=1e-8)
    assert share.high == pytest.approx(100 * theirs.high, abs=1e-8)

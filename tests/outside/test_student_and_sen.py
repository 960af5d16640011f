"""Student's t and the line of Theil and Sen, worked out in plain Python, against a printed table and scipy.

The table: Critical Values of the Student's t Distribution, NIST/SEMATECH e-Handbook of Statistical Methods,
1.3.6.7.2, as reprinted in public lecture notes.  Sen's example: Estimates of the Regression Coefficient Based on
Kendall's Tau, Journal of the American Statistical Association 63 (1968), 1379-1389, from memory.
"""

from __future__ import annotations

import warnings
from math import atan, inf, isnan, pi, sqrt

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.special import stdtr, stdtrit
from scipy.stats import theilslopes

from upkeep.stats.student import chance_beyond, t_quantile
from upkeep.stats.trend import theil_sen

BEYOND = (0.10, 0.05, 0.025, 0.01, 0.005)
TABLE = {
    1: (3.078, 6.314, 12.706, 31.821, 63.657),
    2: (1.886, 2.920, 4.303, 6.965, 9.925),
    3: (1.638, 2.353, 3.182, 4.541, 5.841),
    4: (1.533, 2.132, 2.776, 3.747, 4.604),
    5: (1.476, 2.015, 2.571, 3.365, 4.032),
    10: (1.372, 1.812, 2.228, 2.764, 3.169),
    20: (1.325, 1.725, 2.086, 2.528, 2.845),
    30: (1.310, 1.697, 2.042, 2.457, 2.750),
    40: (1.303, 1.684, 2.021, 2.423, 2.704),
    60: (1.296, 1.671, 2.000, 2.390, 2.660),
    100: (1.290, 1.660, 1.984, 2.364, 2.626),
    1_000_000: (1.282, 1.645, 1.960, 2.326, 2.576),
}
"""By degrees of freedom; the last row is printed for infinitely many."""

FREEDOM = st.integers(1, 40) | st.floats(0, 6).map(lambda power: round(10**power))
EXPONENTS = st.floats(-12, -0.302)
"""Of the chance beyond: from 1e-12 to a little below a half."""


def tolerance(freedom: float) -> float:
    """Twelve figures, and fewer past 1,000 degrees of freedom, where scipy and the fraction lose some to rounding."""
    return max(1e-12, 1e-15 * freedom)


@pytest.mark.parametrize("freedom", TABLE)
def test_quantiles_are_the_printed_ones(freedom: int) -> None:
    """To the three decimals printed; and the chance beyond the printed value is that of its column."""
    assert [round(t_quantile(1 - beyond, freedom), 3) for beyond in BEYOND] == list(TABLE[freedom])
    chances = [chance_beyond(value, freedom) for value in TABLE[freedom]]
    assert chances == pytest.approx(BEYOND, rel=2e-3)


@given(FREEDOM, EXPONENTS)
@example(1, -12)
@example(3, -12)
@example(199, -12)
@example(201, -5)
@example(1_000_000, -12)
def test_quantiles_are_scipy_s_far_into_the_tails(freedom: int, exponent: float) -> None:
    """On both sides, and the way back leads to the chance again."""
    beyond: float = 10**exponent
    value = t_quantile(beyond, freedom)
    assert value == pytest.approx(float(stdtrit(freedom, beyond)), rel=tolerance(freedom), abs=1e-13)
    assert chance_beyond(-value, freedom) == pytest.approx(beyond, rel=tolerance(freedom))
    assert t_quantile(1 - beyond, freedom) == -t_quantile(1 - (1 - beyond), freedom)


@given(FREEDOM, st.floats(-3, 6), st.sampled_from([-1, 1]))
def test_chances_are_scipy_s(freedom: int, power: float, sign: int) -> None:
    """Down to 1e-30; a figure is lost on the way."""
    t = sign * 10**power
    theirs = float(stdtr(freedom, -t))
    if theirs > 1e-30:
        assert chance_beyond(t, freedom) == pytest.approx(theirs, rel=10 * tolerance(freedom))


@given(st.floats(1e-4, 1e4))
def test_one_and_two_degrees_of_freedom_are_closed_formulas(t: float) -> None:
    """Cauchy's distribution, and the algebraic one: Johnson, Kotz and Balakrishnan (1995), chapter 28, from memory."""
    assert chance_beyond(t, 1) == pytest.approx(atan(1 / t) / pi, rel=1e-13)
    assert chance_beyond(t, 2) == pytest.approx(1 / (2 + t * t + t * sqrt(2 + t * t)), rel=1e-13)


def test_the_middle_and_the_ends_are_exact() -> None:
    """No value is above infinity, all are above its opposite, half of them above 0."""
    for freedom in (1, 7, 1_000_000):
        assert t_quantile(0.5, freedom) == 0
        assert [chance_beyond(t, freedom) for t in (-inf, 0, 1e-200, inf)] == [1, 0.5, 0.5, 0]


NUMBERS = st.integers(-20, 20).map(lambda number: number / 8) | st.floats(-1e6, 1e6, allow_subnormal=False)
POINTS = st.lists(st.tuples(NUMBERS, NUMBERS), min_size=2, max_size=25).filter(lambda points: len(dict(points)) > 1)


@settings(max_examples=200)
@given(POINTS, st.sampled_from([0.6, 0.8, 0.9, 0.95, 0.99, 0.999]))
def test_the_line_of_theil_and_sen_is_scipy_s_with_ties_too(points: list[tuple[float, float]], level: float) -> None:
    """The very same floats; where ties leave no bounds, neither has them."""
    x, y = [x for x, _ in points], [y for _, y in points]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        slope, intercept, low, high = (float(each) for each in theilslopes(y, x, alpha=level))
    line = theil_sen(x, y, level)
    assert (line.slope, line.intercept) == (slope, intercept)
    assert [line.low, line.high] == [low, high] or (isnan(line.low) and isnan(line.high) and isnan(low))


def test_sens_own_example() -> None:
    """Slope 4, between 26/7 and 35/8 with a confidence of 93 %."""
    line = theil_sen([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78], 0.93)
    assert (line.slope, line.low, line.high) == pytest.approx((4, 26 / 7, 35 / 8), rel=1e-12)

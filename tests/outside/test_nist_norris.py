"""A straight line against certified values, and its prediction against other ways to work it out.

NIST Statistical Reference Datasets, linear regression, "Norris" (calibration of ozone monitors, J. Norris, NIST): data
and certified values as in the published file, read in a public repository.  scipy is the other reference.
"""

from __future__ import annotations

import random
from math import sqrt
from statistics import NormalDist

import numpy as np
import pytest
from scipy.stats import linregress, siegelslopes, t, theilslopes

from upkeep.stats.trend import Line, least_squares, theil_sen

PAIRS = """
0.1 0.2  338.8 337.4  118.1 118.2  888.0 884.6  9.2 10.1  228.1 226.5  668.5 666.3  998.5 996.3  449.1 448.6
778.9 777.0  559.2 558.2  0.3 0.4  0.1 0.6  778.1 775.5  668.8 666.9  339.3 338.0  448.9 447.5  10.8 11.6
557.7 556.0  228.3 228.1  998.0 995.8  888.8 887.6  119.6 120.2  0.3 0.3  0.6 0.3  557.6 556.8  339.3 339.1
888.0 887.2  998.5 999.0  778.9 779.0  10.2 11.1  117.6 118.3  228.9 229.2  668.4 669.1  449.2 448.9  0.2 0.5
"""
NUMBERS = [float(number) for number in PAIRS.split()]
Y, X = NUMBERS[::2], NUMBERS[1::2]

INTERCEPT, SLOPE = -0.262323073774029, 1.00211681802045
SLOPE_DEVIATION, RESIDUAL_DEVIATION = 0.429796848199937e-3, 0.884796396144373


def some_points(seed: int) -> tuple[list[float], list[float]]:
    """A dozen points or fewer around a random line."""
    chance = random.Random(seed)
    x = [chance.uniform(0, 300_000) for _ in range(chance.randint(4, 12))]
    slope = chance.uniform(-1e-4, 2e-4)
    return x, [3 + slope * each + chance.gauss(0, 2.3) for each in x]


def test_the_line_has_the_certified_values() -> None:
    """Twelve digits of 15 and more."""
    line = least_squares(X, Y)
    assert line.n == 36
    assert (line.slope, line.intercept) == pytest.approx((SLOPE, INTERCEPT), rel=1e-12)
    assert line.scatter == pytest.approx(RESIDUAL_DEVIATION, rel=1e-12)
    assert line.scatter / sqrt(line.spread_x) == pytest.approx(SLOPE_DEVIATION, rel=1e-12)


def test_the_bounds_of_the_slope_follow_from_the_certified_deviation() -> None:
    """Student's t with 34 degrees of freedom, by scipy."""
    line = least_squares(X, Y, level=0.9)
    wide = t.ppf(0.95, 34) * SLOPE_DEVIATION
    assert (line.slope_low, line.slope_high) == pytest.approx((SLOPE - wide, SLOPE + wide), rel=1e-12)


@pytest.mark.parametrize("seed", range(10))
def test_slope_and_its_chance_are_scipy_s(seed: int) -> None:
    """``linregress`` on random points."""
    x, y = some_points(seed)
    line, theirs = least_squares(x, y), linregress(x, y)
    assert (line.slope, line.intercept) == pytest.approx((theirs.slope, theirs.intercept), rel=1e-9)
    assert line.p_slope == pytest.approx(theirs.pvalue, rel=1e-8)


@pytest.mark.parametrize("seed", range(10))
def test_predictions_are_those_of_the_matrix_form(seed: int) -> None:
    """The variance of a new value: scatter squared times 1 + x0' (X'X)^-1 x0, with numpy."""
    x, y = some_points(seed)
    matrix = np.column_stack([np.ones(len(x)), np.array(x) / 1e5])
    (a, b), residual, *_ = np.linalg.lstsq(matrix, np.array(y), rcond=None)
    scatter = sqrt(residual[0] / (len(x) - 2))
    new = np.array([1, 4.2])
    wide = t.ppf(0.95, len(x) - 2) * scatter * sqrt(1 + new @ np.linalg.inv(matrix.T @ matrix) @ new)
    line = least_squares(x, y)
    assert line.prediction(420_000) == pytest.approx(a + 4.2 * b + wide)
    assert line.prediction(420_000, side="low") == pytest.approx(a + 4.2 * b - wide)


def test_a_new_value_stays_below_its_bound_as_often_as_the_level_says() -> None:
    """4,000 lines with a new value each: 95 % of them, within three deviations of such a count."""
    chance, noise = random.Random(7), NormalDist().inv_cdf
    x = [0.0, 1, 2, 3, 5, 8]
    below = 0
    for _ in range(4000):
        *y, new = (1 + 0.5 * at + noise(chance.random()) for at in (*x, 11.0))
        below += new <= least_squares(x, y).prediction(11)
    assert below / 4000 == pytest.approx(0.95, abs=3 * sqrt(0.95 * 0.05 / 4000))


@pytest.mark.parametrize("seed", range(5))
def test_the_line_of_ranks_is_scipy_s_and_near_siegel_s(seed: int) -> None:
    """``theilslopes`` gives slope, intercept and bounds; the repeated medians of Siegel lie within the bounds."""
    x, y = some_points(seed)
    line = theil_sen(x, y, level=0.99)
    assert (line.slope, line.intercept, line.low, line.high) == pytest.approx(tuple(theilslopes(y, x, alpha=0.99)))
    assert line.low <= siegelslopes(y, x).slope <= line.high


def test_replacing_at_the_mean_line_would_come_too_late() -> None:
    """Computed illustration: 8 inspections up to 280,000 strokes, 0.121 um per 1,000, scatter 2.3 um, limit 40 um.

    The line reaches the limit at 341,000 strokes, the bound that 95 % of new values stay below at about 295,000.
    """
    x = [40.0 * number for number in range(8)]
    mean_x = sum(x) / 8
    line = Line(
        slope=0.121,
        intercept=40 - 0.121 * 341,
        scatter=2.3,
        n=8,
        mean_x=mean_x,
        spread_x=sum((each - mean_x) ** 2 for each in x),
        slope_low=0.1,
        slope_high=0.14,
        p_slope=0.001,
        start=0,
    )
    assert line.crossing(40) == pytest.approx(341)
    assert line.crossing_of_prediction(40) == pytest.approx(295, abs=2)

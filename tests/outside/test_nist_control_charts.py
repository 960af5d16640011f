"""Control charts and capability against the NIST/SEMATECH e-Handbook of Statistical Methods (doi:10.18434/M32189).

6.3.2.2 "Individuals Control Charts", 6.3.2.4 "EWMA Control Charts" and 6.1.6 "What is Process Capability?": data and
printed values as quoted in public repositories.  The run rules are those of 6.3.2, "WECO" and trend rules, from memory.
The constants are worked out anew by integrating the distribution of the range of normal values.
"""

from __future__ import annotations

from math import sqrt
from statistics import NormalDist

import numpy as np
import pytest
from scipy.integrate import quad, simpson
from scipy.stats import norm

from upkeep.stats.capability import bissell_low, cpk
from upkeep.stats.charts import A2, D3, D4, d2, ewma, individuals

FLOW_RATES = (49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)

AVERAGED = (
    *(52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5),
    *(49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1),
)
AVERAGES = (
    *(50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33),
    *(50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99),
)


def test_the_individuals_chart_of_the_handbook() -> None:
    """6.3.2.2: mean 50.81, mean moving range 1.8778, limits 45.8159 and 55.8041; every batch lies within."""
    charts = individuals(FLOW_RATES)
    assert charts.values.centre == pytest.approx(50.81)
    assert charts.ranges.centre == pytest.approx(1.8778, abs=5e-5)
    assert (charts.values.low, charts.values.high) == pytest.approx((45.8159, 55.8041), abs=5e-5)
    assert charts.values.breaks == ()


def test_the_ewma_chart_of_the_handbook() -> None:
    """6.3.2.4: 20 averages from target 50 with weight 0.3, limits 47.4115 and 52.5884; every one lies within.

    The page rounds a factor on the way (0.4201), hence the tolerance of the limits.
    """
    chart = ewma(AVERAGED, lam=0.3, width=3, target=50, sigma=2.0539)
    assert chart.points == pytest.approx(AVERAGES, abs=5.001e-3)
    assert (chart.low, chart.high) == pytest.approx((47.4115, 52.5884), abs=2e-4)
    assert chart.breaks == ()


def test_the_capability_of_the_handbook() -> None:
    """6.1.6: limits 8 and 20, mean 16, standard deviation 2: 0.6667."""
    step = sqrt(99 / 100) * 2
    values = [16 + step, 16 - step] * 50
    found = cpk(values, 8, 20)
    assert found.n == 100
    assert found.cpk == pytest.approx(0.6667, abs=5e-5)
    half = NormalDist().inv_cdf(0.95) * sqrt(1 / 900 + found.cpk**2 / 198)
    assert found.low == pytest.approx(found.cpk - half)


@pytest.mark.parametrize(("n", "low"), [(5, 0.67), (25, 1.26), (50, 1.38)])
def test_a_capability_of_1_67_says_little_where_the_sample_is_small(n: int, low: float) -> None:
    """Computed illustration: Bissell's approximation."""
    assert bissell_low(1.67, n) == pytest.approx(low, abs=5e-3)


def mean_range(n: int) -> float:
    """The mean range of n standard normal values."""
    found, _ = quad(lambda x: 1 - norm.cdf(x) ** n - norm.sf(x) ** n, -9, 9, epsabs=1e-10)
    return float(found)


def range_deviation(n: int) -> float:
    """The standard deviation of the range of n standard normal values, from its distribution on a fine grid."""
    x, width = np.linspace(-9, 9, 901), np.linspace(0, 14, 701)
    inside = norm.cdf(x + width[:, None]) - norm.cdf(x)
    within = n * simpson(norm.pdf(x) * inside ** (n - 1), x=x)
    return sqrt(float(simpson(2 * width * (1 - within), x=width)) - mean_range(n) ** 2)


@pytest.mark.parametrize("n", range(2, 11))
def test_the_constants_of_the_means_follow_from_the_mean_range(n: int) -> None:
    """To the three places of the tables."""
    assert d2[n] == pytest.approx(mean_range(n), abs=5.1e-4)
    assert A2[n] == pytest.approx(3 / (mean_range(n) * sqrt(n)), abs=5.1e-4)


@pytest.mark.parametrize("n", range(2, 11))
def test_the_constants_of_the_ranges_follow_from_its_deviation(n: int) -> None:
    """Three deviations to both sides of the mean range, never below 0; to the three places of the tables."""
    wide = 3 * range_deviation(n) / mean_range(n)
    assert D3[n] == pytest.approx(max(0.0, 1 - wide), abs=5.1e-4)
    assert D4[n] == pytest.approx(1 + wide, abs=5.1e-4)

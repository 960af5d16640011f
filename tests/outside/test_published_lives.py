"""Lives in print, with suspensions, and what their books say about them.

* NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3 "Reliability analysis using Weibull data" (page apr413, read
  in a stored copy): 10 failures, 10 units removed at 500 hours.
* Meeker and Escobar, Statistical Methods for Reliability Data (1998).  Shock absorbers, table C.2: data as in a public
  repository; estimates and likelihood-ratio intervals of table 8.1 from memory.  Bearing cages, table C.3 and an
  example of chapter 8: data and values from memory (the 1,703 units add up).
* Lieblein and Zelen (1956), ball bearings: data and estimates as in the documentation of surpyval 0.25, the estimates
  also in Lawless, Statistical Models and Methods for Lifetime Data (1982), from memory.
* Freireich et al. (1963), remission under 6-MP: the usual textbook case of Kaplan-Meier (Cox and Oakes, 1984); survival
  and log(-log) bounds from memory.
"""

from __future__ import annotations

from math import gamma, log

import pytest

from upkeep.stats.lives import Lives, kaplan_meier
from upkeep.stats.weibull import bounds, fit, life_bounds

HANDBOOK = Lives((54, 187, 216, 240, 244, 335, 361, 373, 375, 386), (500,) * 10)

SHOCK_ABSORBERS = Lives(
    (6700, 9120, 12200, 13150, 14300, 17520, 20100, 20900, 22700, 26510, 27490),
    (
        *(6950, 7820, 8790, 9660, 9820, 11310, 11690, 11850, 11880, 12140, 12870, 13330, 13470, 14040),
        *(17540, 17890, 18420, 18960, 18980, 19410, 20100, 20150, 20320, 23490, 27410, 27890, 28100),
    ),
)

RUNNING_CAGES = {
    **{50: 288, 150: 148, 250: 124, 350: 111, 450: 106, 550: 99, 650: 110, 750: 114, 850: 119, 950: 127},
    **{1050: 123, 1150: 93, 1250: 47, 1350: 41, 1450: 27, 1550: 11, 1650: 6, 1850: 1, 2050: 2},
}
BEARING_CAGES = Lives(
    (230, 334, 423, 990, 1009, 1510),
    tuple(hours for hours, units in RUNNING_CAGES.items() for _ in range(units)),
)

BALL_BEARINGS = Lives(
    (
        *(17.88, 28.92, 33.0, 41.52, 42.12, 45.6, 48.4, 51.84, 51.96, 54.12, 55.56, 67.8),
        *(68.64, 68.64, 68.88, 84.12, 93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.4),
    )
)

REMISSION = Lives((6, 6, 6, 7, 10, 13, 16, 22, 23), (6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35))


def test_the_handbook_example_has_the_handbook_s_estimates() -> None:
    """NIST 8.4.1.3: shape 1.7208, scale 606.5280, log-likelihood -75.135, mean life 540.737 hours."""
    fitted = fit(HANDBOOK)
    assert fitted.shape == pytest.approx(1.7208, abs=5e-5)
    assert fitted.scale == pytest.approx(606.5280, abs=1e-3)
    assert fitted.log_likelihood == pytest.approx(-75.135, abs=5e-4)
    assert fitted.scale * gamma(1 + 1 / fitted.shape) == pytest.approx(540.737, abs=1e-3)


def test_shock_absorbers_have_the_book_s_estimates_and_intervals() -> None:
    """Location 10.23 and spread 0.3164 of the logarithms; intervals [10.06, 10.54] and [0.210, 0.527]."""
    fitted, found = fit(SHOCK_ABSORBERS), bounds(SHOCK_ABSORBERS)
    assert log(fitted.scale) == pytest.approx(10.23, abs=5e-3)
    assert 1 / fitted.shape == pytest.approx(0.3164, abs=5e-5)
    assert (log(found.scale.low), log(found.scale.high)) == pytest.approx((10.06, 10.54), abs=5e-3)
    assert (1 / found.shape.high, 1 / found.shape.low) == pytest.approx((0.210, 0.527), abs=5e-4)


def test_bearing_cages_have_the_book_s_estimates_though_six_of_1703_failed() -> None:
    """Shape 2.035, scale 11,792 hours, a tenth failed by 3,903 hours, which may be anything from 2,093 to 22,144."""
    assert len(BEARING_CAGES.failures) + len(BEARING_CAGES.suspensions) == 1703
    fitted, life = fit(BEARING_CAGES), life_bounds(BEARING_CAGES, 0.1)
    assert fitted.shape == pytest.approx(2.035, abs=5e-4)
    assert (fitted.scale, fitted.life(0.1)) == pytest.approx((11792, 3903), abs=0.5)
    assert (life.low, life.high) == pytest.approx((2093, 22144), rel=1e-3)


def test_ball_bearings_have_the_printed_estimates() -> None:
    """No suspensions: scale 81.875 million revolutions, shape 2.102."""
    fitted = fit(BALL_BEARINGS)
    assert (fitted.scale, fitted.shape) == pytest.approx((81.875, 2.102), abs=5e-4)


def test_survival_under_6_mp_is_the_textbook_s() -> None:
    """Weeks, patients at risk, survival, and its bounds."""
    table = [
        (6, 21, 0.8571, 0.6197, 0.9516),
        (7, 17, 0.8067, 0.5631, 0.9228),
        (10, 15, 0.7529, 0.5032, 0.8894),
        (13, 12, 0.6902, 0.4316, 0.8491),
        (16, 11, 0.6275, 0.3675, 0.8049),
        (22, 7, 0.5378, 0.2678, 0.7468),
        (23, 6, 0.4482, 0.1881, 0.6801),
    ]
    steps = kaplan_meier(REMISSION)
    assert [(step.age, step.at_risk) for step in steps] == [(weeks, at_risk) for weeks, at_risk, *_ in table]
    for step, (_, _, *printed) in zip(steps, table, strict=True):
        assert [step.survival, step.low, step.high] == pytest.approx(printed, abs=5e-5)

"""Lines through well-known points.

* R's data set cars: speeds (miles an hour) and stopping distances (feet) of the 1920s, from M. Ezekiel, Methods of
  Correlation Analysis (1930); its ``summary(lm(dist ~ speed))`` was read, the rest and ``predict`` are from memory.
* Anscombe's quartet, sets I to III: F. J. Anscombe, Graphs in Statistical Analysis, The American Statistician 27
  (1973), 17-21, from memory.
"""

from __future__ import annotations

import pytest

from upkeep.stats.trend import least_squares

STOPPING = {
    **{4: (2, 10), 7: (4, 22), 8: (16,), 9: (10,), 10: (18, 26, 34), 11: (17, 28), 12: (14, 20, 24, 28)},
    **{13: (26, 34, 34, 46), 14: (26, 36, 60, 80), 15: (20, 26, 54), 16: (32, 40), 17: (32, 40, 50)},
    **{18: (42, 56, 76, 84), 19: (36, 46, 68), 20: (32, 48, 52, 56, 64), 22: (66,), 23: (54,)},
    **{24: (70, 92, 93, 120), 25: (85,)},
}
SPEED = [speed for speed, distances in STOPPING.items() for _ in distances]
DISTANCE = [distance for distances in STOPPING.values() for distance in distances]


def test_the_line_of_the_cars() -> None:
    """Slope 3.932, intercept -17.579, scatter 15.38, p 1.49e-12, from 50 cars."""
    line = least_squares(SPEED, DISTANCE)
    assert line.n == 50
    assert line.slope == pytest.approx(3.932, abs=5e-4)
    assert line.intercept == pytest.approx(-17.579, abs=5e-4)
    assert line.scatter == pytest.approx(15.38, abs=5e-3)
    assert line.p_slope == pytest.approx(1.49e-12, abs=5e-15)


@pytest.mark.parametrize(("speed", "low", "high"), [(12, -1.75, 60.97), (19, 25.76, 88.51), (24, 44.75, 108.85)])
def test_the_prediction_interval_of_the_cars(speed: int, low: float, high: float) -> None:
    """Two-sided 95 %: to each side 97.5 %."""
    line = least_squares(SPEED, DISTANCE)
    assert line.prediction(speed, 0.975, "low") == pytest.approx(low, abs=0.01)
    assert line.prediction(speed, 0.975, "high") == pytest.approx(high, abs=0.01)


ALIKE = (10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5)
QUARTET = {
    "I": (8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68),
    "II": (9.14, 8.14, 8.74, 8.77, 9.26, 8.10, 6.13, 3.10, 9.13, 7.26, 4.74),
    "III": (7.46, 6.77, 12.74, 7.11, 7.81, 8.84, 6.08, 5.39, 8.15, 6.42, 5.73),
}


@pytest.mark.parametrize("name", QUARTET)
def test_three_sets_of_anscombe_have_one_line(name: str) -> None:
    """Slope 0.500, intercept 3.00, p 0.0022."""
    line = least_squares(ALIKE, QUARTET[name])
    assert line.slope == pytest.approx(0.500, abs=5e-4)
    assert line.intercept == pytest.approx(3.00, abs=5e-3)
    assert line.p_slope == pytest.approx(0.0022, abs=5e-5)

"""Lines through points: when they reach a limit, and when they say nothing."""

from __future__ import annotations

from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from upkeep.stats.few import TooFew
from upkeep.stats.trend import Line, least_squares, theil_sen

POINTS = st.lists(
    st.tuples(st.integers(0, 50).map(float), st.integers(-40, 40).map(float)), min_size=3, max_size=10
).filter(lambda points: len({x for x, _ in points}) > 1)


def line_through(points: list[tuple[float, float]], level: float = 0.95) -> Line:
    """The least-squares line."""
    return least_squares([x for x, _ in points], [y for _, y in points], level)


@settings(deadline=None)
@given(POINTS)
def test_no_other_line_lies_nearer(points: list[tuple[float, float]]) -> None:
    """Squared distances grow when slope or height is changed."""
    line = line_through(points)

    def distance(slope: float, height: float) -> float:
        return sum((y - height - slope * x) ** 2 for x, y in points)

    least = distance(line.slope, line.intercept)
    for slope, height in ((0.1, 0), (-0.1, 0), (0, 0.5), (0, -0.5), (0.1, -2)):
        assert distance(line.slope + slope, line.intercept + height) >= least - 1e-6
    assert line.scatter == pytest.approx((least / (len(points) - 2)) ** 0.5, abs=1e-6)


@settings(deadline=None)
@given(POINTS, st.floats(-100, 100), st.sampled_from(["low", "high"]))
def test_the_crossing_is_the_first_x_at_which_the_bound_reaches_the_limit(
    points: list[tuple[float, float]], limit: float, side: str
) -> None:
    """Nowhere before it, from the first point on; where there is none, nowhere at all."""
    line = line_through(points)
    sign = 1 if side == "high" else -1
    found = line.crossing_of_prediction(limit, 0.9, side)  # type: ignore[arg-type]
    end = line.start + 1000 if found is None else found
    steps = [line.start + (end - line.start) * part / 200 for part in range(200)]
    reached = [sign * (line.prediction(x, 0.9, side) - limit) for x in steps]  # type: ignore[arg-type]
    if found is None or found > line.start:
        assert max(reached) < 1e-6
    if found is not None:
        at = sign * (line.prediction(found, 0.9, side) - limit)  # type: ignore[arg-type]
        assert at >= -1e-6 * max(1, abs(found))


@settings(deadline=None)
@given(POINTS, st.floats(-100, 100))
def test_the_bound_reaches_a_limit_ahead_before_the_line_does(points: list[tuple[float, float]], limit: float) -> None:
    """The line itself would be at the limit with every second part."""
    line = line_through(points)
    mean, bound = line.crossing(limit), line.crossing_of_prediction(limit)
    if mean is not None and mean > line.start:
        assert bound is not None
        assert bound <= mean + 1e-6 * max(1, abs(mean))


def test_a_level_line_crosses_nothing() -> None:
    """No slope, no scatter: None for every limit but its own height."""
    line = line_through([(0, 5), (1, 5), (2, 5)])
    assert (line.slope, line.scatter, line.p_slope) == (0, 0, 1)
    assert not line.is_sloped()
    assert line.crossing(9) is None
    assert line.crossing_of_prediction(9) is None
    assert line.crossing_of_prediction(5) == 0


def test_points_on_a_line_leave_no_doubt() -> None:
    """The bound is the line."""
    line = line_through([(0, 1), (1, 3), (2, 5)])
    assert (line.slope_low, line.slope, line.slope_high) == (2, 2, 2)
    assert line.is_sloped(1e-9)
    assert line.crossing(9) == line.crossing_of_prediction(9) == 4
    assert line.prediction(10, side="low") == line.at(10) == 21


def test_a_line_that_falls_away_from_its_limit_never_reaches_it() -> None:
    """Unless the bound widens faster than the line falls."""
    falling = line_through([(x, -x + (0.1 if x % 2 else -0.1)) for x in range(10)])
    assert falling.crossing_of_prediction(20, side="high") is None
    unsure = line_through([(0, 0), (1, 3), (2, -3), (3, 0)])
    assert unsure.crossing_of_prediction(200, side="high") is not None


def test_past_its_limit_from_the_start_a_line_crosses_at_its_first_point() -> None:
    """The side says that it is a limit not to be risen above; without it, it would be taken for one from below."""
    line = line_through([(10, 6), (20, 7.1), (30, 8), (40, 9.2)])
    assert line.crossing_of_prediction(4, side="high") == 10
    below = line.crossing_of_prediction(4)
    assert below is None or below > 10


def test_a_steeper_level_moves_the_crossing_nearer() -> None:
    """Surer means earlier."""
    line = line_through([(0, 0), (1, 1.3), (2, 1.8), (3, 3.2), (4, 3.9)])
    crossings = [line.crossing_of_prediction(20, level) for level in (0.5, 0.9, 0.99)]
    assert crossings == sorted(crossings, key=lambda x: -(x or inf))
    assert crossings[0] == pytest.approx(line.crossing(20))


def test_a_wild_point_moves_the_line_of_ranks_less() -> None:
    """A misread value among ten."""
    x = [float(number) for number in range(10)]
    y = [2 * each for each in x]
    wild = [*y[:-1], 200.0]
    assert theil_sen(x, wild).slope == pytest.approx(2)
    assert least_squares(x, wild).slope > 5
    assert theil_sen(x, wild).low <= 2 <= theil_sen(x, wild).high


def test_too_few_points_give_no_line() -> None:
    """Two points leave no scatter, one x leaves no slope."""
    with pytest.raises(TooFew, match="at least 3 points"):
        least_squares([1, 2], [1, 2])
    with pytest.raises(TooFew, match="at least 2 points at different x"):
        least_squares([1, 1, 1], [1, 2, 3])
    with pytest.raises(TooFew, match="at least 2 points"):
        theil_sen([1], [1])

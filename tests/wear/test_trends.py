"""Trends of measured points: the strokes to the limit, on average and to plan by, and when nothing can be said."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import linregress, t

from upkeep.said import said
from upkeep.wear.interval import Bound, bound_of, proposal, two_figures
from upkeep.wear.trend import Limits, trend
from upkeep.wear.wording import distance_text, figures, slope_text

DONE = tuple(range(0, 280_001, 40_000))
UNEVEN = np.array([1.0, -1.5, -0.5, 2.0, 0.5, -2.0, -0.5, 1.0])
"""Adds up to 0, and its products with the strokes do, so that a line through it is level."""

SLOPE, SCATTER, REACHED, LIMIT = 0.1208e-6, 0.00234, 341_000, 0.040
"""The illustration: mm per stroke, mm, strokes, mm.  Invented figures; the values below are made to them."""


def illustration() -> list[float]:
    """Eight values, made so that slope, scatter and crossing of their line are those of the illustration."""
    x = np.array(DONE, dtype=float)
    uneven = UNEVEN - np.polyval(np.polyfit(x, UNEVEN, 1), x)
    uneven *= SCATTER / np.sqrt((uneven**2).sum() / (len(x) - 2))
    return [float(value) for value in LIMIT + SLOPE * (x - REACHED) + uneven]


def test_the_illustration_reaches_its_limit_at_341_000_and_is_planned_by_295_000() -> None:
    """Slope 0.121 um per 1,000, scatter 2.3 um (both rounded); on average 341,000, with 95 % not before 295,000."""
    found = trend(DONE, illustration(), Limits(upper=LIMIT), "mm", "since new")
    assert found.line is not None
    assert found.ahead is not None
    assert (found.line.slope, found.line.scatter) == pytest.approx((SLOPE, SCATTER), rel=1e-9)
    assert found.ahead.mean == pytest.approx(REACHED, abs=2)
    assert found.ahead.safe == pytest.approx(295_000, abs=500)
    assert "+0.121 um per 1,000 strokes from 8 values since new, scatter 2.34 um" in str(found.why)
    assert "plan to replace by 295," in str(found.why)


def test_the_prediction_limit_is_the_textbook_one() -> None:
    """At the strokes to plan by, scipy's line plus Student's t times the error of a new value is at the limit.

    Formula: e.g. Draper and Smith, Applied Regression Analysis (1998), section 3.1; from memory.
    """
    values, x = illustration(), np.array(DONE, dtype=float)
    found = trend(DONE, values, Limits(upper=LIMIT), "mm", "since new")
    assert found.ahead is not None
    line = linregress(x, values)
    residuals = np.array(values) - line.intercept - line.slope * x
    s = np.sqrt((residuals**2).sum() / 6)
    new = found.ahead.safe
    wide = t.ppf(0.95, 6) * s * np.sqrt(1 + 1 / 8 + (new - x.mean()) ** 2 / ((x - x.mean()) ** 2).sum())
    assert line.intercept + line.slope * new + wide == pytest.approx(LIMIT, abs=2e-7)


def test_a_value_that_falls_is_held_against_its_lower_limit() -> None:
    """A mirrored illustration is planned by the same strokes."""
    rising = trend(DONE, illustration(), Limits(upper=LIMIT), "mm", "since new")
    falling = trend(DONE, [-value for value in illustration()], Limits(lower=-LIMIT, upper=9), "mm", "since new")
    assert rising.ahead is not None
    assert falling.ahead is not None
    assert (falling.ahead.side, falling.ahead.mean, falling.ahead.safe) == ("low", rising.ahead.mean, rising.ahead.safe)


@pytest.mark.parametrize(
    ("done", "values", "limits", "said"),
    [
        ((0, 1, 2), (1, 2, 3), Limits(upper=9), "No trend: 3 values measured since new; 4 are needed."),
        ((), (), Limits(upper=9), "No trend: 0 values measured since new; 4 are needed."),
        ((7, 7, 7, 7), (1, 2, 3, 4), Limits(upper=9), "all 4 values since new were measured at the same strokes"),
        ((0, 1, 2, 3), (1, 3, 1, 3), Limits(upper=9), "no slope stands out from the scatter"),
        ((0, 1, 2, 3), (1, 1, 1, 1), Limits(upper=9), "no slope stands out from the scatter"),
        ((0, 1, 2, 3), (9, 8, 7.1, 6), Limits(upper=9.5), "it moves away from its limit of 9.5 mm, by -"),
        ((0, 1, 2, 3), (9, 8, 7.1, 6), Limits(), "no limit is set"),
    ],
)  # fmt: skip
def test_nothing_is_forecast_from_too_little(
    done: tuple[int, ...], values: tuple[float, ...], limits: Limits, said: str
) -> None:
    """The reason stands in the place of the number."""
    found = trend(done, values, limits, "mm", "since new")
    assert found.ahead is None
    assert said in str(found.why)


@pytest.mark.filterwarnings("error")
def test_many_values_at_the_same_strokes_are_no_noise_on_the_screen() -> None:
    """Ties leave the robust slope without bounds; nothing is printed besides."""
    found = trend((0, 0, 0, 0, 9), (1, 1, 1, 1, 2), Limits(upper=3), "mm", "since new")
    assert found.robust is not None
    assert found.robust.slope == pytest.approx(1 / 9)


def test_a_limit_many_times_as_far_as_was_measured_is_not_in_sight() -> None:
    """From the first three inspections of the illustration's line, and one more, 341,000 is far."""
    line = [SLOPE * done for done in (0, 20_000, 40_000, 60_000)]
    far = trend((0, 20_000, 40_000, 60_000), line, Limits(upper=LIMIT), "mm", "since new")
    assert "times as far as has been measured: too far ahead" in str(far.why)
    assert "in sight" not in str(trend(DONE, illustration(), Limits(upper=LIMIT), "mm", "since new").why)


def test_a_value_far_off_the_line_is_a_jump() -> None:
    """Three times the scatter of those before it, and more while they are few; a usual one is none."""
    values = illustration()
    assert trend(DONE, values, Limits(), "mm", "since new").jump is None
    values[-1] += 0.03
    assert "off the line through those before it" in str(trend(DONE, values, Limits(), "mm", "since new").jump)
    assert "Stop and look" in str(trend(DONE, values, Limits(), "mm", "since new").jump)
    back = [*values[:7], values[0]]
    assert "if the part was reworked or replaced, enter that" in str(trend(DONE, back, Limits(), "mm", "").jump)
    few = [*values[:4], values[4] + 0.03]
    assert trend(DONE[:5], few, Limits(), "mm", "since new").jump is None


def test_with_many_values_a_jump_is_three_times_their_scatter() -> None:
    """A level line of two values in turn, 400 of them: scatter 1, the next beyond 3 and a little."""
    done, values = range(401), [(-1.0) ** place for place in range(400)]
    assert trend(done, [*values, 2.9], Limits(), "mm", "since new").jump is None
    assert trend(done, [*values, 3.1], Limits(), "mm", "since new").jump


@given(
    st.lists(st.tuples(st.integers(0, 10**6), st.floats(-1, 1)), min_size=4, max_size=12),
    st.floats(0.5, 2),
)  # fmt: skip
def test_to_plan_by_is_never_later_than_the_line(values: list[tuple[int, float]], limit: float) -> None:
    """Whatever was measured; and no strokes are below 0."""
    found = trend(
        [done for done, _ in values], [value for _, value in values], Limits(-limit, limit), "mm", "since new"
    )
    if found.ahead is not None:
        assert 0 <= found.ahead.safe <= found.ahead.mean


def test_half_of_warning_to_limit_is_41_000_in_the_illustration() -> None:
    """10 um at 0.121 um per 1,000 strokes last some 82,800 strokes; the interval is a round number below half of it."""
    bound = bound_of(0.010, SLOPE, "mm")
    assert bound.strokes == 41_000
    assert "10 um, at +0.121 um per 1,000 strokes: 82,800 strokes, half of that 41,000" in str(bound.why)


@pytest.mark.parametrize(
    ("grades", "bound", "proposed"),
    [
        ((1, 0, 1), 60_000, 50_000),
        ((1, 0, 1), 41_000, 41_000),
        ((1, 1), 60_000, 40_000),
        ((1, 2, 1), 60_000, 40_000),
        ((3, 0, 0, 1), 60_000, 50_000),
        ((0, 0, 3), 60_000, 20_000),
        ((0, 0, 4), 10_000, 10_000),
        ((), 30_000, 30_000),
        ((), None, 40_000),
    ],
)
def test_steps_lengthen_and_halve_and_never_pass_the_bound(
    grades: tuple[int, ...], bound: int | None, proposed: int
) -> None:
    """From 40,000 strokes; the arithmetic stands beside it."""
    bounds = [] if bound is None else [Bound(bound, said("x")), Bound(10**6, said("y"))]
    found = proposal(40_000, grades, bounds)
    assert (found.strokes, found.changes) == (proposed, proposed != 40_000)
    assert "40,000 strokes now" in str(found.why)


def test_without_an_interval_the_wear_alone_proposes_one() -> None:
    """Without wear nothing does."""
    assert proposal(None, (0, 0, 0), [Bound(41_000, said("x"))]).strokes == 41_000
    assert proposal(None, (0, 0, 0), []).strokes is None


@given(st.floats(1, 1e9))
def test_a_round_number_is_never_longer(value: float) -> None:
    """And at most a tenth shorter."""
    assert value * 0.9 <= two_figures(value) + 1
    assert two_figures(value) <= value


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (str(slope_text(-1.5e-9, "mm")), "-0.0015 um per 1,000 strokes"),
        (str(slope_text(0.00002, "step")), "+0.02 step per 1,000 strokes"),
        (distance_text(0.0023, "mm"), "2.3 um"),
        (distance_text(12.5, "N"), "12.5 N"),
        (figures(0.000001234567), "0.00000123"),
        (figures(0.0), "0"),
        (figures(1_234_567.0), "1230000"),
    ],
)  # fmt: skip
def test_small_lengths_are_written_in_micrometres(text: object, wanted: str) -> None:
    """Never in powers of ten."""
    assert str(text) == wanted

"""Control charts: centre and limits from the points, and the least number of them."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from upkeep.stats.charts import D4, LEAST_POINTS, SETTLED_POINTS, ewma, individuals, xbar_r
from upkeep.stats.few import TooFew
from upkeep.stats.run_rules import Rule

HEIGHTS = st.lists(st.integers(1180, 1220).map(lambda um: um / 1000), min_size=LEAST_POINTS, max_size=30)


def test_a_chart_of_means_and_ranges_by_hand() -> None:
    """Eight subgroups of five: mean of means 10, mean range 2; A2 0.577, D4 2.114."""
    charts = xbar_r([[9, 9.5, 10, 10.5, 11]] * 8)
    assert (charts.means.centre, charts.ranges.centre) == (10, 2)
    assert (charts.means.low, charts.means.high) == pytest.approx((10 - 1.154, 10 + 1.154))
    assert (charts.ranges.low, charts.ranges.high) == pytest.approx((0, 4.228))
    assert charts.means.breaks == charts.ranges.breaks == ()


def test_a_shifted_subgroup_and_a_wide_one_are_found() -> None:
    """The mean breaks its limits in the one, the range in the other."""
    steady = [[9.0, 10.0, 11.0, 10.0, 10.0]] * 10
    charts = xbar_r([*steady, [13.0, 13.5, 14.0, 13.0, 13.5], [5.0, 15.0, 10.0, 10.0, 10.0]])
    assert (10, Rule.BEYOND_3) in [(found.index, found.rule) for found in charts.means.breaks]
    assert [(found.index, found.rule) for found in charts.ranges.breaks] == [(11, Rule.BEYOND_3)]


@settings(deadline=None)
@given(HEIGHTS)
def test_single_values_are_judged_by_their_moving_ranges(values: list[float]) -> None:
    """One range fewer than values; the limits lie 2.66 mean ranges from the mean."""
    charts = individuals(values)
    assert charts.values.points == tuple(values)
    assert len(charts.ranges.points) == len(values) - 1
    assert charts.values.high - charts.values.centre == pytest.approx(2.66 * charts.ranges.centre, rel=1e-3)
    assert charts.ranges.high == pytest.approx(D4[2] * charts.ranges.centre)
    assert charts.values.settled is (len(values) >= SETTLED_POINTS)


@pytest.mark.parametrize("value", [0.1, 1.203, 1 / 3])
def test_values_that_never_change_break_no_rule(value: float) -> None:
    """Not even by the last digit of their mean."""
    values = [value] * 23
    assert individuals(values).values.breaks == ()
    assert xbar_r([[value] * 3] * 23).means.breaks == ()
    assert ewma(values).breaks == ()


@settings(deadline=None)
@given(HEIGHTS.filter(lambda values: len(set(values)) > 1))
def test_an_average_with_all_weight_on_the_latest_is_the_value(values: list[float]) -> None:
    """Weight 1 forgets at once; a smaller weight stays nearer to the target."""
    assert ewma(values, lam=1).points == pytest.approx(values)
    slow = ewma(values, lam=0.2)
    assert max(slow.points) - min(slow.points) <= max(values) - min(values)
    assert slow.high - slow.centre == pytest.approx((ewma(values, lam=1).high - slow.centre) / 3)


def test_a_small_lasting_shift_shows_in_the_average_before_it_shows_in_the_values() -> None:
    """One and a half deviations up for twelve points."""
    values = [0.5, -0.5] * 6 + [1.5 + 0.5 * (-1) ** number for number in range(12)]
    chart = ewma(values, lam=0.2, target=0, sigma=1)
    assert chart.breaks
    assert chart.breaks[0].index >= 12
    assert all(abs(value) < 3 for value in values)


def test_too_few_points_make_no_chart() -> None:
    """Fewer than the longest run to one side."""
    for chart in (individuals, ewma):
        with pytest.raises(TooFew, match="at least 8 values are needed; there are only 7"):
            chart([1.0] * 7)
    with pytest.raises(TooFew, match="at least 8 subgroups"):
        xbar_r([[1.0, 2.0]] * 7)


@pytest.mark.parametrize("subgroups", [[[1.0]] * 8, [[1.0] * 11] * 8, [[1.0, 2.0]] * 7 + [[1.0, 2.0, 3.0]]])
def test_subgroups_of_another_or_a_changing_size_are_refused(subgroups: list[list[float]]) -> None:
    """The constants are for one size from 2 to 10."""
    with pytest.raises(ValueError, match="one size, from 2 to 10"):
        xbar_r(subgroups)


@pytest.mark.parametrize("lam", [0.0, 1.1, -0.2])
def test_a_weight_that_cannot_be_is_refused(lam: float) -> None:
    """Above 0, up to 1."""
    with pytest.raises(ValueError, match="weight"):
        ewma([1.0] * 8, lam=lam)

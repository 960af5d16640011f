"""The rate of strokes a working day: weighted to the late days, and hard to move by one odd day."""

from __future__ import annotations

import random
from collections.abc import Sequence
from datetime import date, timedelta
from statistics import fmean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from upkeep.planning.rate import (
    HALF_AS_HEAVY,
    LEAST_DAYS,
    LOOKED_BACK,
    Rate,
    daily_rate,
    days_counted,
    pulled_in,
    running_rate,
)
from upkeep.units.instants import Zone
from upkeep.units.shifts import ShiftCalendar, ShiftRule
from upkeep.units.workdays import WorkingDays

WEEK = ("MO", "TU", "WE", "TH", "FR")
DAYS = WorkingDays(ShiftCalendar(Zone("Europe/Berlin"), [ShiftRule("early", "06:00", "14:00", WEEK)]))
MONDAY = date(2026, 3, 2)
STROKES = st.lists(st.integers(0, 20_000), min_size=LEAST_DAYS, max_size=LOOKED_BACK)


def done(strokes: Sequence[int]) -> dict[date, int]:
    """Strokes of the working days before the Monday, the latest last."""
    return {DAYS.add(MONDAY, n - len(strokes)): number for n, number in enumerate(strokes)}


def rate_of(strokes: Sequence[int]) -> Rate:
    rate = daily_rate(done(strokes), DAYS, MONDAY)
    assert rate is not None
    return rate


def test_equal_days_give_their_strokes_and_no_spread() -> None:
    """Whatever the weights are."""
    rate = rate_of([4200] * 20)
    assert rate.mean == pytest.approx(4200)
    assert rate.spread == pytest.approx(0, abs=1e-6)
    assert rate.days == 20


def test_late_days_weigh_more() -> None:
    """3,000 for ten days and then 5,000: above their middle, by the weights of a half-life of ten days."""
    rate = rate_of([3000] * 10 + [5000] * 10)
    weights = [0.5 ** (back / HALF_AS_HEAVY) for back in range(20)]
    share = sum(weights[:10]) / sum(weights)
    assert share == pytest.approx(2 / 3)
    assert rate.mean == pytest.approx(3000 + 2000 * share)


def test_twenty_days_of_falling_weight_are_worth_seventeen() -> None:
    """The mean is less sure than that of twenty equally heavy days would be."""
    assert rate_of([4200] * 20).worth == pytest.approx(17.3, abs=0.05)


def test_days_off_are_no_days_of_zero_strokes() -> None:
    """The twenty days reach back four weeks, and Saturdays and Sundays do not pull the rate down."""
    strokes = {MONDAY - timedelta(days=passed): 4200 for passed in range(1, 60)}
    weekdays = {day: number for day, number in strokes.items() if day.weekday() < 5}
    rate = daily_rate(weekdays, DAYS, MONDAY)
    assert rate is not None
    assert (rate.days, round(rate.mean)) == (20, 4200)


def test_strokes_of_a_day_off_count_with_the_working_day_before() -> None:
    """Overtime on a Saturday wears as well; nothing of it is dropped."""
    friday, saturday = MONDAY - timedelta(days=3), MONDAY - timedelta(days=2)
    assert days_counted({friday: 4000, saturday: 1500}, DAYS, MONDAY) == [(1, 5500)]


def test_the_day_itself_and_what_comes_after_are_not_looked_at() -> None:
    """A day half run would pull the rate down."""
    strokes = {**done([4200] * 20), MONDAY: 10, MONDAY + timedelta(days=1): 99_999}
    assert daily_rate(strokes, DAYS, MONDAY) == rate_of([4200] * 20)


def test_a_day_without_a_count_is_left_out_and_one_without_strokes_is_not() -> None:
    """Not knowing is not zero."""
    strokes = done([4200] * 20)
    unknown = {day: number for n, (day, number) in enumerate(strokes.items()) if n % 2}
    idle = {day: number if n % 2 else 0 for n, (day, number) in enumerate(strokes.items())}
    counted, stood = daily_rate(unknown, DAYS, MONDAY), daily_rate(idle, DAYS, MONDAY)
    assert counted is not None
    assert stood is not None
    assert (counted.days, round(counted.mean)) == (10, 4200)
    assert stood.days == 20
    assert 1900 < stood.mean < 2400


def test_seven_days_are_too_few() -> None:
    """Eight are the least."""
    assert daily_rate(done([4200] * 7), DAYS, MONDAY) is None
    assert daily_rate(done([4200] * 8), DAYS, MONDAY) is not None


@pytest.mark.parametrize("odd", [0, 42_000, 9_999_999])
def test_one_odd_day_among_equal_ones_moves_nothing(odd: int) -> None:
    """A slip of a figure or a day of standing still, whatever its size and wherever it lies."""
    for place in (0, 10, 19):
        strokes = [4200] * 20
        strokes[place] = odd
        assert rate_of(strokes).mean == pytest.approx(4200)


def test_an_odd_day_moves_the_rate_of_uneven_days_less_than_the_days_themselves_do() -> None:
    """A day of ten times the strokes, yesterday: the plain weighted mean would rise by 3,300."""
    source = random.Random(5)
    strokes = [round(source.gauss(4200, 900)) for _ in range(20)]
    before = rate_of(strokes)
    after = rate_of([*strokes[:-1], 42_000])
    assert abs(after.mean - before.mean) < 300
    assert abs(after.spread - before.spread) < 300


@given(strokes=STROKES, place=st.integers(0, LOOKED_BACK - 1), odd=st.integers(0, 10**9))
def test_no_odd_day_takes_the_rate_outside_the_other_days(strokes: list[int], place: int, odd: int) -> None:
    """Between the smallest and the largest of the others, however odd it is."""
    place %= len(strokes)
    others = strokes[:place] + strokes[place + 1 :]
    rate = rate_of([*strokes[:place], odd, *strokes[place + 1 :]])
    assert min(others) - 1e-6 <= rate.mean <= max(others) + 1e-6


@given(strokes=STROKES, more=st.integers(1, 1000))
def test_more_strokes_on_every_day_are_that_much_more_rate(strokes: list[int], more: int) -> None:
    """And the same spread."""
    before, after = rate_of(strokes), rate_of([number + more for number in strokes])
    assert after.mean == pytest.approx(before.mean + more)
    assert after.spread == pytest.approx(before.spread, abs=1e-3)


def test_pulling_in_changes_the_two_outermost_values_only() -> None:
    """Each becomes its neighbour."""
    assert pulled_in([5, 90, 1, 7, 6]) == [5, 7, 5, 7, 6]


@pytest.mark.parametrize("days", [8, 12, 20])
def test_the_spread_makes_up_for_what_is_pulled_in(days: int) -> None:
    """Over 2,000 simulated items with normal days its mean square is that of the days, within 5 %."""
    source = random.Random(11)
    rates = [rate_of([round(source.gauss(50_000, 5000)) for _ in range(days)]) for _ in range(2000)]
    assert fmean(rate.spread**2 for rate in rates) ** 0.5 == pytest.approx(5000, rel=0.05)


def test_the_running_rate_is_that_of_the_days_it_ran() -> None:
    """6,000 on every second day are 3,000 in the mean, and 6,000 when it runs."""
    rate = running_rate(done([0, 6000] * 10), DAYS, MONDAY)
    assert rate is not None
    assert rate.mean == pytest.approx(6000)
    assert rate.spread == pytest.approx(0, abs=1e-6)
    assert rate.days == 10
    assert rate_of([0, 6000] * 10).mean == pytest.approx(3000, rel=0.05)


def test_of_two_days_on_which_it_ran_the_fuller_one_counts() -> None:
    """Two days give no spread; nobody knows whether the next one is the small one."""
    assert running_rate(done([0] * 10 + [900, 0, 4000]), DAYS, MONDAY) == Rate(4000, 0.0, 2)


@pytest.mark.parametrize("strokes", [[4200, 4300] * 10, [0] * 20, []])
def test_without_a_day_of_rest_or_of_strokes_there_is_no_other_rate(strokes: list[int]) -> None:
    """The rate of all days says the same, or there is nothing to say."""
    assert running_rate(done(strokes), DAYS, MONDAY) is None

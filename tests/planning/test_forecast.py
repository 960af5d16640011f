"""The day strokes run out, the chance of being due sooner, and the last day that is still safe."""

from __future__ import annotations

import math
from datetime import date, timedelta
from itertools import islice

import pytest
from hypothesis import given
from hypothesis import strategies as st

from upkeep.planning.forecast import SAFE_CHANCE, Ahead, Left, forecast, forecast_from
from upkeep.planning.rate import Rate
from upkeep.units.instants import Zone
from upkeep.units.shifts import ShiftCalendar, ShiftRule
from upkeep.units.workdays import WorkingDays

WEEK = ("MO", "TU", "WE", "TH", "FR")
EARLY = ShiftRule("early", "06:00", "14:00", WEEK)
DAYS = WorkingDays(ShiftCalendar(Zone("Europe/Berlin"), [EARLY]))
EVERY_DAY = WorkingDays(ShiftCalendar(Zone("Europe/Berlin"), []))
MONDAY, TUESDAY, WEDNESDAY, THURSDAY, FRIDAY = (date(2026, 3, day) for day in range(2, 7))
SATURDAY, NEXT_MONDAY = date(2026, 3, 7), date(2026, 3, 9)


def ahead(mean: float, spread: float, planned: dict[date, int] | None = None, first: date = MONDAY) -> Ahead:
    return Ahead(Rate(mean, spread), first, DAYS, planned or {})


def steady(strokes: int, before: date = MONDAY, working: int = 20) -> dict[date, int]:
    return {DAYS.add(before, -n): strokes for n in range(1, working + 1)}


# Worked examples (invented figures) -----------------------------------------------------------------------------------


def test_12000_left_at_4200_a_working_day_are_2_9_working_days() -> None:
    """The third day, Wednesday; a mean over calendar days, 3,000, would say 4.0."""
    found = forecast_from(Left.exactly(12_000), steady(4200), DAYS, MONDAY)
    assert found.working_days == pytest.approx(12_000 / 4200)
    assert found.expected == WEDNESDAY
    calendar = {MONDAY - timedelta(days=n): 3000 for n in range(1, 29)}
    assert forecast_from(Left.exactly(12_000), calendar, EVERY_DAY, MONDAY).working_days == pytest.approx(4)


def test_1000_left_at_300_give_or_take_500_are_due_within_5_days_with_67_percent() -> None:
    """Though the mean says 3.3 days."""
    days = ahead(300, 500)
    assert days.chance_within(1000, 5) == pytest.approx(0.67, abs=0.005)
    assert forecast(Left.exactly(1000), days).working_days == pytest.approx(3.33, abs=0.005)


def test_why_shows_the_arithmetic_with_its_units() -> None:
    """Strokes left, rate and spread, working days, chance, and how safe the safe day is."""
    assert str(forecast(Left(9000, 12_000, 13_000), ahead(4200, 900)).why) == (
        "12,000 strokes (9,000 to 13,000) left at 4,200 +/- 900 strokes a working day will last 2.9 working days: "
        "due on 2026-03-04. The chance that it is due within 5 working days is more than 99 %. "
        "Latest safe day 2026-03-02: by the end of it the chance is at most 5 %, if 9,000 strokes are left."
    )


def test_why_tells_what_the_rate_was_made_from() -> None:
    """Days with a count, weights, odd days."""
    assert (
        "(from 12 of the last 20 working days; recent days weigh more, and one outlying day at each end is pulled in)"
        in (str(forecast_from(Left.exactly(12_000), steady(4200, working=12), DAYS, MONDAY).why))
    )


# Days -----------------------------------------------------------------------------------------------------------------


def test_days_off_are_stepped_over() -> None:
    """Three days from a Friday on end on Tuesday; in a shutdown they end after it."""
    assert forecast(Left.exactly(12_000), ahead(4200, 0, first=FRIDAY)).expected == date(2026, 3, 10)
    closed = [FRIDAY + timedelta(days=passed) for passed in range(1, 15)]
    shut = WorkingDays(ShiftCalendar(Zone("Europe/Berlin"), [EARLY], closed))
    assert forecast(Left.exactly(12_000), Ahead(Rate(4200, 0), FRIDAY, shut)).expected == date(2026, 3, 24)


def test_strokes_that_end_with_a_day_are_due_on_that_day() -> None:
    """8,400 at 4,200 are two whole days, and 8,401 a stroke into the third."""
    assert forecast(Left.exactly(8400), ahead(4200, 0)).expected == TUESDAY
    assert forecast(Left.exactly(8401), ahead(4200, 0)).expected == WEDNESDAY


def test_without_spread_the_day_before_the_last_stroke_is_safe() -> None:
    """The step from certain to certain."""
    found = forecast(Left.exactly(12_000), ahead(4200, 0))
    assert (found.latest_safe, found.chances[:4]) == (TUESDAY, (0.0, 0.0, 1.0, 1.0))


def test_the_safe_day_counts_from_the_high_end_of_what_is_done() -> None:
    """Expected by the best estimate, safe by the high one: 5,000 fewer left are a safe day fewer."""
    sure, unsure = (forecast(left, ahead(4200, 0)) for left in (Left.exactly(12_000), Left(7000, 12_000, 14_000)))
    assert sure.expected == unsure.expected == WEDNESDAY
    assert (sure.latest_safe, unsure.latest_safe) == (TUESDAY, MONDAY)


def test_the_safe_day_of_what_rests_at_times_is_that_of_running_every_day() -> None:
    """6,000 on every second day: 12,000 left last 4 days in the mean, and are safe for one day only if it runs on."""
    done = {DAYS.add(MONDAY, -n): 6000 * (n % 2) for n in range(1, 21)}
    found = forecast_from(Left.exactly(12_000), done, DAYS, MONDAY)
    assert found.working_days == pytest.approx(4, rel=0.05)
    assert found.latest_safe == MONDAY
    assert "if it runs every working day at 6,000 strokes, as it did on the days it ran" in str(found.why)


def test_where_the_high_end_is_due_already_no_day_is_safe() -> None:
    """Said in words as well."""
    found = forecast(Left(-500, 4000, 9000), ahead(4200, 100))
    assert found.latest_safe is None
    assert found.expected == MONDAY
    assert "even for the first working day: by its end the chance is more than 5 %, if 0 strokes are left." in (
        str(found.why)
    )


def test_what_is_due_already_is_said() -> None:
    """No day is safe, and it needs no rate."""
    found = forecast(Left.exactly(0), ahead(0, 0))
    assert (found.expected, found.working_days, found.latest_safe) == (MONDAY, 0.0, None)
    assert set(found.chances) == {1.0}


# Planned orders -------------------------------------------------------------------------------------------------------


def test_planned_orders_take_the_place_of_the_rate_on_their_days() -> None:
    """1,000 on Monday, none on Tuesday, and then the rate: 12,000 are reached on Friday."""
    found = forecast(Left.exactly(12_000), ahead(4200, 0, {MONDAY: 1000, TUESDAY: 0}))
    assert found.expected == FRIDAY
    assert found.working_days == pytest.approx(4 + (11_000 - 2 * 4200) / 4200)
    assert "and orders planned for 2 of those days will last" in str(found.why)


def test_a_planned_day_is_taken_as_it_stands() -> None:
    """Without spread: only the other days are unsure."""
    sums = list(islice(ahead(300, 500, {TUESDAY: 2000}).sums(), 3))
    assert [round(each.mean) for each in sums] == [300, 2300, 2600]
    assert [each.spread for each in sums] == pytest.approx([500, 500, 500 * math.sqrt(2)])


def test_a_day_off_with_planned_strokes_is_worked() -> None:
    """Overtime on Saturday brings the day forward; a Saturday planned with nothing stays off."""
    assert forecast(Left.exactly(25_000), ahead(4200, 0, {SATURDAY: 4000})).expected == SATURDAY
    assert forecast(Left.exactly(25_000), ahead(4200, 0, {SATURDAY: 0})).expected == NEXT_MONDAY


def test_plans_of_the_past_are_over() -> None:
    """What was planned before the first day is done or not done, and counted."""
    old = {MONDAY - timedelta(days=3): 50_000}
    assert forecast(Left.exactly(12_000), ahead(4200, 0, old)) == forecast(Left.exactly(12_000), ahead(4200, 0))


def test_an_idle_item_with_orders_has_a_forecast() -> None:
    """The rate is 0 and the plan is not."""
    found = forecast(Left.exactly(5000), ahead(0, 0, {WEDNESDAY: 6000}))
    assert (found.expected, found.latest_safe) == (WEDNESDAY, TUESDAY)


# Not knowing ----------------------------------------------------------------------------------------------------------


def test_too_few_days_give_no_forecast_and_say_so() -> None:
    """A sentence instead of a number."""
    found = forecast_from(Left.exactly(12_000), steady(4200, working=7), DAYS, MONDAY)
    assert str(found.why) == "No forecast: of the last 20 working days 7 have a count; 8 are needed."
    assert (found.expected, found.working_days, found.latest_safe, found.chances) == (None, None, None, ())


def test_an_item_that_does_not_run_has_no_forecast() -> None:
    """Nor one that ran on a single odd day."""
    for strokes in (steady(0), {**steady(0), DAYS.add(MONDAY, -4): 5000}):
        found = forecast_from(Left.exactly(12_000), strokes, DAYS, MONDAY)
        assert found.expected is None
        assert str(found.why).startswith(
            "No forecast: the rate is 0 +/- 0 strokes a working day (from 20 of the last 20"
        )


def test_what_lies_years_ahead_has_no_day() -> None:
    """Twenty days say nothing about the year after next."""
    found = forecast(Left.exactly(200_000), ahead(3, 1))
    assert found.expected is None
    assert str(found.why).endswith("is more than 500 working days away.")


# What holds for all -----------------------------------------------------------------------------------------------

MEANS = st.floats(1, 20_000)
SPREADS = st.floats(0, 20_000)
WORTHS = st.floats(6, 20) | st.just(math.inf)
LEFT = st.integers(1, 60_000)
PLANS = st.dictionaries(st.dates(MONDAY, MONDAY + timedelta(days=25)), st.integers(0, 20_000), max_size=6)
AHEADS = st.builds(
    lambda mean, spread, worth, planned: Ahead(Rate(mean, spread, 20, worth), MONDAY, DAYS, planned),
    MEANS,
    SPREADS,
    WORTHS,
    PLANS,
)


@given(days=AHEADS, left=LEFT)
def test_the_chance_never_falls_as_days_go_by(days: Ahead, left: int) -> None:
    """Strokes do not run backwards, also where a sure plan is followed by unsure days."""
    chances = [chance for _, chance in islice(days.chances(left), 40)]
    assert chances == sorted(chances)
    assert 0 <= chances[0] <= chances[-1] <= 1
    assert chances == [days.chance_within(left, n) for n in range(1, 41)]


@given(days=AHEADS, left=LEFT, more=st.integers(1, 30_000), n=st.integers(1, 40))
def test_the_chance_never_rises_with_more_strokes_left(days: Ahead, left: int, more: int, n: int) -> None:
    """Each number of days asked by itself."""
    assert days.chance_within(left + more, n) <= days.chance_within(left, n)


@given(days=AHEADS, low=st.integers(-5000, 60_000), slack=st.integers(0, 20_000))
def test_the_latest_safe_day_comes_before_the_expected_one(days: Ahead, low: int, slack: int) -> None:
    """On the expected day the chance is a half at least; the safe one has at most a twentieth."""
    found = forecast(Left(low, low + slack, low + 2 * slack), days)
    if found.expected is not None and found.latest_safe is not None:
        assert found.latest_safe < found.expected
        worked = dict(islice(days.chances(low), 600))
        assert worked[found.latest_safe] <= SAFE_CHANCE


@given(mean=MEANS, worth=WORTHS, left=LEFT, spread=st.floats(0, 5000), more=st.floats(0, 5000))
def test_more_spread_is_never_a_later_safe_day(
    mean: float, worth: float, left: int, spread: float, more: float
) -> None:
    """Not knowing costs days."""
    tight, wide = (
        forecast(Left.exactly(left), Ahead(Rate(mean, each, 20, worth), MONDAY, DAYS))
        for each in (spread, spread + more)
    )
    assert tight.expected == wide.expected
    assert (wide.latest_safe or date.min) <= (tight.latest_safe or date.min)

"""Working days: counted, moved and added against the plain way of walking day by day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from itertools import islice

import pytest
from hypothesis import given
from hypothesis import strategies as st

from upkeep.units.instants import Zone
from upkeep.units.shifts import ShiftCalendar, ShiftRule
from upkeep.units.workdays import WorkingDays

WEEK = ("MO", "TU", "WE", "TH", "FR")
TWO_SHIFTS = (ShiftRule("early", "06:00", "14:00", WEEK), ShiftRule("late", "14:00", "22:00", WEEK))
NIGHTS = (ShiftRule("night", "22:00", "06:00", ("SU", "MO", "TU", "WE", "TH")),)
CHRISTMAS = [date(2026, 12, 23) + timedelta(days=passed) for passed in range(12)]
FRIDAY, SATURDAY, SUNDAY, MONDAY = (date(2026, 3, day) for day in (6, 7, 8, 9))


def working(
    shifts: Sequence[ShiftRule] = TWO_SHIFTS, closed: Sequence[date] = (), zone: str = "Europe/Berlin"
) -> WorkingDays:
    return WorkingDays(ShiftCalendar(Zone(zone), shifts, closed))


def test_a_working_day_is_one_on_which_a_shift_begins() -> None:
    """Monday to Friday here; a closed Friday is none."""
    days = working(closed=[date(2026, 3, 13)])
    assert [days.is_working(day) for day in (FRIDAY, SATURDAY, SUNDAY, MONDAY)] == [True, False, False, True]
    assert not days.is_working(date(2026, 3, 13))


def test_a_night_shift_belongs_to_the_day_it_begins() -> None:
    """Sunday is worked and Friday is not, though people stand at the presses on Friday morning."""
    days = working(NIGHTS)
    assert [days.is_working(day) for day in (FRIDAY, SATURDAY, SUNDAY, MONDAY)] == [False, False, True, True]


def test_a_plant_without_shifts_works_every_day() -> None:
    """Nothing is known that would say otherwise."""
    days = working(())
    assert days.on_or_before(SATURDAY) == days.on_or_after(SATURDAY) == SATURDAY
    assert days.count(date(2026, 1, 1), date(2027, 1, 1)) == 365


def test_a_due_day_on_a_day_off_moves_as_the_task_says() -> None:
    """To the working day before, to the first after, or not at all; a working day never moves."""
    days = working()
    assert [days.moved(SUNDAY, move) for move in ("before", "after", "keep")] == [FRIDAY, MONDAY, SUNDAY]
    assert {days.moved(MONDAY, move) for move in ("before", "after", "keep")} == {MONDAY}


def test_a_shutdown_over_new_year_is_stepped_over() -> None:
    """23 December 2026 to 3 January 2027 are off: Tuesday the 22nd is the last day, Monday the 4th the first."""
    days = working(closed=CHRISTMAS)
    assert days.on_or_before(date(2026, 12, 27)) == date(2026, 12, 22)
    assert days.on_or_after(date(2026, 12, 27)) == date(2027, 1, 4)
    assert days.add(date(2026, 12, 21), 2) == date(2027, 1, 4)
    assert days.add(date(2027, 1, 4), -2) == date(2026, 12, 21)
    assert days.count(date(2026, 12, 21), date(2027, 1, 5)) == 3


def test_adding_counts_the_days_after_the_given_one() -> None:
    """From a day off, the first working day after it is the first."""
    days = working()
    assert days.add(FRIDAY, 1) == days.add(SATURDAY, 1) == MONDAY
    assert days.add(MONDAY, -1) == days.add(SUNDAY, -1) == FRIDAY
    assert days.add(SATURDAY, 0) == SATURDAY


def test_the_end_of_a_count_is_not_counted() -> None:
    """[start, end), like every span in the house; nothing lies in a span that runs backwards."""
    days = working()
    assert days.count(FRIDAY, MONDAY) == 1
    assert days.count(FRIDAY, MONDAY + timedelta(days=1)) == 2
    assert days.count(MONDAY, FRIDAY) == 0


@pytest.mark.parametrize("zone", ["Pacific/Kiritimati", "Pacific/Pago_Pago", "UTC"])
def test_the_first_and_last_day_of_a_year_are_kept_in_every_zone(zone: str) -> None:
    """14 hours east and 11 hours west of UTC a day's shifts begin on another UTC day."""
    every_day = (ShiftRule("whole", "00:00", "00:00", (*WEEK, "SA", "SU")),)
    days = working(every_day, zone=zone)
    assert [days.count(date(year, 1, 1), date(year + 1, 1, 1)) for year in (2026, 2027, 2028)] == [365, 365, 366]


def test_working_days_agree_with_the_shift_calendar() -> None:
    """Over three years with a shutdown, day by day."""
    calendar = ShiftCalendar(Zone("Europe/Berlin"), TWO_SHIFTS, CHRISTMAS)
    start, end = datetime(2025, 12, 30, tzinfo=UTC), datetime(2028, 12, 31, tzinfo=UTC)
    begun = {span.day for span in calendar.between(start, end)}
    first, last = min(begun), max(begun)
    days = WorkingDays(calendar)
    walked = (first + timedelta(days=passed) for passed in range((last - first).days + 1))
    assert {day for day in walked if days.is_working(day)} == begun
    assert days.count(first, last) == len(begun) - 1


def test_outside_the_calendar_there_is_no_working_day() -> None:
    """As date arithmetic does, it says so and gives no wrong day."""
    days = working()
    for day, n in ((date.max, 1), (date.min, -1)):
        with pytest.raises(OverflowError):
            days.add(day, n)


DATES = st.dates(date(2024, 1, 1), date(2029, 12, 31))
CALENDARS = st.builds(
    lambda codes, closed: working([ShiftRule("early", "06:00", "14:00", tuple(codes))], closed),
    st.sets(st.sampled_from((*WEEK, "SA", "SU")), min_size=1),
    st.lists(st.dates(date(2026, 1, 1), date(2026, 12, 31)), max_size=20),
)


@given(days=CALENDARS, day=DATES, n=st.integers(1, 400))
def test_adding_and_counting_are_each_others_inverse(days: WorkingDays, day: date, n: int) -> None:
    """n working days lie after the day up to the one that is n later; and back."""
    later, earlier = days.add(day, n), days.add(day, -n)
    assert days.is_working(later)
    assert days.count(day + timedelta(days=1), later + timedelta(days=1)) == n
    assert days.is_working(earlier)
    assert days.count(earlier, day) == n


@given(days=CALENDARS, day=DATES)
def test_no_working_day_lies_between_a_day_and_where_it_moves(days: WorkingDays, day: date) -> None:
    """The nearest one on either side, and a day that moved stays where it is."""
    before, after = days.on_or_before(day), days.on_or_after(day)
    assert before <= day <= after
    assert days.count(before + timedelta(days=1), day) == days.count(day + timedelta(days=1), after) == 0
    assert days.on_or_before(before) == before
    assert days.on_or_after(after) == after


@given(days=CALENDARS, day=DATES)
def test_the_days_from_a_day_on_are_those_that_adding_gives(days: WorkingDays, day: date) -> None:
    """In order, without a gap."""
    first = days.on_or_after(day)
    assert list(islice(days.starting(day), 30)) == [days.add(first, n) for n in range(30)]

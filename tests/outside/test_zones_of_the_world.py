"""Clock changes elsewhere than in Berlin and Chicago, years of 53 weeks, and England's holidays.

* Zones: IANA time zone database, from memory of the laws behind it: New York as Chicago; Sydney changes on the first
  Sundays of October and April at 02:00 standard time; Lord Howe Island by half an hour; Cairo at 00:00 on the last
  Friday of April, Beirut at 00:00 on the last Sunday of March, so that those days begin at 01:00.
* Years of 53 weeks: ISO 8601: a year that begins on a Thursday, or a leap year that begins on a Wednesday; 71 in 400
  years of the Gregorian calendar (both from memory).
* Shifts over the changes: the shift on the wall, a plain rule without a source.
* Holidays of England and Wales for 2026: gov.uk, "UK bank holidays", from memory.
"""

from __future__ import annotations

from calendar import isleap
from datetime import UTC, date, datetime, timedelta

import pytest

from upkeep.errors import Unreadable
from upkeep.plant.days_off import public_holidays
from upkeep.units.instants import Zone
from upkeep.units.shifts import DAY_CODES, ShiftCalendar, ShiftRule
from upkeep.units.weeks import week_days


@pytest.mark.parametrize(
    ("zone", "wall"), [("America/New_York", "2026-03-08 02:30"), ("Australia/Sydney", "2026-10-04 02:30")]
)
def test_half_past_two_does_not_exist_where_the_clock_goes_forward(zone: str, wall: str) -> None:
    """Read as written it is refused."""
    with pytest.raises(Unreadable, match="does not exist"):
        Zone(zone).read(wall)


@pytest.mark.parametrize(
    ("zone", "wall"), [("America/New_York", "2026-11-01 01:30"), ("Australia/Sydney", "2026-04-05 02:30")]
)
def test_half_past_comes_twice_where_the_clock_goes_back(zone: str, wall: str) -> None:
    """Read without an offset it is refused; the two are an hour apart."""
    with pytest.raises(Unreadable, match="twice"):
        Zone(zone).read(wall)


@pytest.mark.parametrize(("day", "hours"), [("2026-04-05", 24.5), ("2026-10-04", 23.5), ("2026-06-01", 24.0)])
def test_lord_howe_island_changes_by_half_an_hour(day: str, hours: float) -> None:
    zone, first = Zone("Australia/Lord_Howe"), date.fromisoformat(day)
    assert zone.start_of(first + timedelta(days=1)) - zone.start_of(first) == timedelta(hours=hours)


@pytest.mark.parametrize(
    ("zone", "day", "begins"),
    [("Africa/Cairo", "2026-04-24", "2026-04-23T22:00"), ("Asia/Beirut", "2026-03-29", "2026-03-28T22:00")],
)
def test_a_day_without_a_midnight_begins_at_one(zone: str, day: str, begins: str) -> None:
    """In UTC 22:00 of the day before; 01:00 on the wall."""
    found = Zone(zone).start_of(date.fromisoformat(day))
    assert found == datetime.fromisoformat(begins).replace(tzinfo=UTC)
    assert Zone(zone).local(found).hour == 1


def has_53_weeks(year: int) -> bool:
    """Whether a list can be made for week 53 of a year."""
    try:
        week_days(f"{year}-W53")
    except Unreadable:
        return False
    return True


def test_long_years_are_those_that_begin_on_a_thursday_or_leap_on_a_wednesday() -> None:
    """From 1900 to 2100."""
    for year in range(1900, 2101):
        begins = date(year, 1, 1).weekday()
        assert has_53_weeks(year) == (begins == 3 or (begins == 2 and isleap(year)))


def test_400_years_have_71_long_ones() -> None:
    assert sum(map(has_53_weeks, range(2000, 2400))) == 71


HOURS = {"early": (6, 14), "late": (14, 22)}


@pytest.mark.parametrize("name", ["Europe/Berlin", "America/Chicago"])
def test_the_shift_is_the_one_on_the_wall_all_year(name: str) -> None:
    """Every 13 minutes of 2026: from 06:00 early, from 14:00 late, from 22:00 night."""
    zone = Zone(name)
    spans = ("early", "06:00", "14:00"), ("late", "14:00", "22:00"), ("night", "22:00", "06:00")
    calendar = ShiftCalendar(zone, [ShiftRule(*span, DAY_CODES) for span in spans])
    shifts = calendar.between(zone.start_of(date(2025, 12, 31)), zone.start_of(date(2027, 1, 2)))
    moment, end = zone.start_of(date(2026, 1, 1)), zone.start_of(date(2027, 1, 1))
    shift = next(shifts)
    while moment < end:
        while shift.end <= moment:
            shift = next(shifts)
        hour = zone.local(moment).hour
        assert shift.start <= moment
        assert shift.name == next((each for each, (start, stop) in HOURS.items() if start <= hour < stop), "night")
        moment += timedelta(minutes=13)


ENGLAND_2026 = "01-01 04-03 04-06 05-04 05-25 08-31 12-25 12-28"


def test_england_has_the_bank_holidays_of_2026() -> None:
    """Boxing Day is a Saturday; Monday the 28th is off for it."""
    found = set(public_holidays("GB-ENG", [2026]))
    assert {f"2026-{day}" for day in ENGLAND_2026.split()} == found - {"2026-12-26"}

"""What the clock changes of 2026 do to a night shift in Central Europe and in the middle of the United States.

Source: IANA time zone database (zones Europe/Berlin and America/Chicago; release as installed with Python or tzdata).
The instants below are worked out by hand from the two laws behind it, both from memory: in the European Union clocks
change at 01:00 UTC on the last Sunday of March and of October (Directive 2000/84/EC); in the United States at 02:00
local time on the second Sunday of March and the first Sunday of November (Energy Policy Act of 2005, section 110).
In 2026 these are 29 March and 25 October, and 8 March and 1 November.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from itertools import pairwise

import pytest

from upkeep.units.instants import Zone
from upkeep.units.shifts import DAY_CODES, ShiftCalendar, ShiftRule

BERLIN, CHICAGO = Zone("Europe/Berlin"), Zone("America/Chicago")
SHIFTS = (
    ShiftRule("early", "06:00", "14:00", DAY_CODES),
    ShiftRule("late", "14:00", "22:00", DAY_CODES),
    ShiftRule("night", "22:00", "06:00", DAY_CODES),
)


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


@pytest.mark.parametrize(
    ("zone", "day", "start", "end", "hours"),
    [
        (BERLIN, "2026-03-27", "2026-03-27T21:00", "2026-03-28T05:00", 8),
        (BERLIN, "2026-03-28", "2026-03-28T21:00", "2026-03-29T04:00", 7),
        (BERLIN, "2026-03-29", "2026-03-29T20:00", "2026-03-30T04:00", 8),
        (BERLIN, "2026-10-23", "2026-10-23T20:00", "2026-10-24T04:00", 8),
        (BERLIN, "2026-10-24", "2026-10-24T20:00", "2026-10-25T05:00", 9),
        (BERLIN, "2026-10-25", "2026-10-25T21:00", "2026-10-26T05:00", 8),
        (CHICAGO, "2026-03-07", "2026-03-08T04:00", "2026-03-08T11:00", 7),
        (CHICAGO, "2026-03-08", "2026-03-09T03:00", "2026-03-09T11:00", 8),
        (CHICAGO, "2026-10-31", "2026-11-01T03:00", "2026-11-01T12:00", 9),
        (CHICAGO, "2026-11-01", "2026-11-02T04:00", "2026-11-02T12:00", 8),
    ],
)
def test_a_night_shift_follows_the_wall_clock(zone: Zone, day: str, start: str, end: str, hours: int) -> None:
    night = ShiftCalendar(zone, SHIFTS).named(f"{day}/night")
    assert (night.start, night.end) == (utc(start), utc(end))
    assert night.end - night.start == timedelta(hours=hours)


@pytest.mark.parametrize("zone", [BERLIN, CHICAGO])
def test_three_shifts_leave_no_gap_and_no_overlap_all_year(zone: Zone) -> None:
    """Each shift begins where the one before it ended, over both changes: 365 days, 1,095 shifts."""
    year = ShiftCalendar(zone, SHIFTS).between(zone.start_of(date(2026, 1, 1)), zone.start_of(date(2027, 1, 1)))
    spans = [span for span in year if span.day.year == 2026]
    assert len(spans) == 1095
    assert all(before.end == after.start for before, after in pairwise(spans))


@pytest.mark.parametrize("second_half_past_two", ["2026-10-25T00:30", "2026-10-25T01:30"])
def test_both_half_past_twos_of_25_october_lie_in_saturdays_night_shift(second_half_past_two: str) -> None:
    calendar = ShiftCalendar(BERLIN, SHIFTS)
    assert calendar.shift_day(utc(second_half_past_two)) == date(2026, 10, 24)
    assert BERLIN.local(utc(second_half_past_two)).strftime("%H:%M") == "02:30"


def test_the_hour_before_and_after_the_spring_change_lie_in_one_shift() -> None:
    """01:59 and 03:00 on the wall of 29 March are one minute apart."""
    calendar = ShiftCalendar(BERLIN, SHIFTS)
    before, after = BERLIN.read("2026-03-29 01:59"), BERLIN.read("2026-03-29 03:00")
    assert after - before == timedelta(minutes=1)
    assert calendar.at(before) == calendar.at(after) == calendar.named("2026-03-28/night")

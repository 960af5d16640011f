"""When backups and weekly lists are wanted."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.plants import at
from upkeep.service.moments import last_monday, last_night
from upkeep.units.instants import Zone

BERLIN = Zone("Europe/Berlin")
ZONES = ("Europe/Berlin", "UTC", "America/Chicago", "Asia/Kolkata", "Australia/Lord_Howe", "Africa/Casablanca")


@pytest.mark.parametrize(
    ("now", "night"),
    [
        ("2026-03-02 02:14", "2026-03-01 02:15"),
        ("2026-03-02 02:15", "2026-03-02 02:15"),
        ("2026-03-02 23:59", "2026-03-02 02:15"),
        ("2026-03-29 01:59", "2026-03-28 02:15"),
        ("2026-03-29 03:14", "2026-03-28 02:15"),
        ("2026-03-29 03:15", "2026-03-29 03:15"),
        ("2026-10-25 02:14+02:00", "2026-10-24 02:15"),
        ("2026-10-25 02:15+02:00", "2026-10-25 02:15+02:00"),
        ("2026-10-25 02:15+01:00", "2026-10-25 02:15+02:00"),
        ("2026-10-25 12:00", "2026-10-25 02:15+02:00"),
    ],
)
def test_each_night_has_one_moment(now: str, night: str) -> None:
    """02:15; 03:15 where the clock is put forward over it, the first where it comes twice."""
    assert last_night(BERLIN.read(now), BERLIN) == BERLIN.read(night)


@pytest.mark.parametrize(
    ("now", "monday"),
    [
        ("2026-03-02 05:59", "2026-02-23 06:00"),
        ("2026-03-02 06:00", "2026-03-02 06:00"),
        ("2026-03-08 23:59", "2026-03-02 06:00"),
        ("2026-03-30 06:00", "2026-03-30 06:00"),
        ("2027-01-03 12:00", "2026-12-28 06:00"),
    ],
)
def test_each_week_has_one_moment(now: str, monday: str) -> None:
    """Monday 06:00 on the wall, in every season."""
    assert last_monday(BERLIN.read(now), BERLIN) == BERLIN.read(monday)


@given(st.sampled_from(ZONES), st.dates(date(2020, 1, 1), date(2030, 1, 1)), st.integers(0, 1439))
def test_the_last_moment_is_never_to_come_and_never_long_ago(name: str, day: date, minute: int) -> None:
    """A night's is at most 25 hours old (autumn), a week's at most 7 days and an hour."""
    zone = Zone(name)
    now = zone.start_of(day) + timedelta(minutes=minute)
    assert timedelta(0) <= now - last_night(now, zone) <= timedelta(hours=25)
    assert timedelta(0) <= now - last_monday(now, zone) <= timedelta(days=7, hours=1)


@pytest.mark.parametrize("name", ZONES)
def test_every_day_of_a_year_has_exactly_one_night(name: str) -> None:
    """Asked every half hour, the moments found are one for each day on the wall."""
    zone = Zone(name)
    start = at("2026-01-01 12:00")
    found = {last_night(start + timedelta(minutes=30 * step), zone) for step in range(48 * 365)}
    assert set(Counter(zone.day(moment) for moment in found).values()) == {1}
    assert len(found) == 366

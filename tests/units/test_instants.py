"""Instants: what people write is what they meant, also when the clock changes."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from upkeep.errors import Unreadable
from upkeep.units.instants import NEVER, Zone, from_utc_text, utc_text

BERLIN, CHICAGO = Zone("Europe/Berlin"), Zone("America/Chicago")
ZONES = st.sampled_from(
    ["UTC", "Europe/Berlin", "America/Chicago", "Asia/Kathmandu", "Australia/Lord_Howe", "America/St_Johns"]
).map(Zone)
INSTANTS = st.datetimes(datetime(1990, 1, 1), datetime(2060, 1, 1), timezones=st.just(UTC)).map(  # noqa: DTZ001
    lambda instant: instant.replace(microsecond=0)
)


def utc(*parts: int) -> datetime:
    return datetime(*parts, tzinfo=UTC)  # type: ignore[arg-type, misc]


@given(ZONES, INSTANTS)
@example(BERLIN, utc(2026, 10, 25, 0, 30))
@example(BERLIN, utc(2026, 10, 25, 1, 30))
@example(Zone("Australia/Lord_Howe"), utc(2026, 4, 4, 15, 15))
def test_a_shown_instant_reads_back_as_itself(zone: Zone, instant: datetime) -> None:
    assert zone.read(zone.show(instant)) == instant


@given(ZONES, st.integers(-400, 400), st.integers(0, 7))
def test_every_quarter_of_an_hour_around_a_clock_change_reads_back(zone: Zone, quarters: int, change: int) -> None:
    """Around the changes of 2025 and 2026 in Europe, North America and Australia."""
    changes = [(2026, 3, 29), (2026, 10, 25), (2026, 3, 8), (2026, 11, 1), (2026, 4, 4), (2026, 10, 3), (2025, 10, 26)]
    instant = utc(*[*changes, (2025, 3, 30)][change]) + timedelta(minutes=15 * quarters)
    assert zone.read(zone.show(instant)) == instant


@given(INSTANTS, INSTANTS)
def test_stored_instants_sort_as_text_and_read_back(one: datetime, other: datetime) -> None:
    assert (utc_text(one) < utc_text(other)) == (one < other)
    assert from_utc_text(utc_text(one)) == one


def test_a_wall_time_that_exists_twice_is_refused_with_both_ways_to_write_it() -> None:
    with pytest.raises(Unreadable) as refusal:
        BERLIN.read("2026-10-25 02:30")
    assert "02:30+02:00 for the first" in str(refusal.value)
    assert "02:30+01:00 for the second" in str(refusal.value)


def test_the_two_moments_of_a_repeated_wall_time_are_an_hour_apart() -> None:
    first, second = BERLIN.read("2026-10-25 02:30+02:00"), BERLIN.read("2026-10-25 02:30+01:00")
    assert second - first == timedelta(hours=1)
    assert [BERLIN.show(first), BERLIN.show(second)] == ["2026-10-25 02:30+02:00", "2026-10-25 02:30+01:00"]


@pytest.mark.parametrize(("zone", "wall"), [(BERLIN, "2026-03-29 02:30"), (CHICAGO, "2026-03-08 02:00")])
def test_a_wall_time_the_clock_jumps_over_is_refused(zone: Zone, wall: str) -> None:
    with pytest.raises(Unreadable, match=f"does not exist in {zone.name}"):
        zone.read(wall)


def test_a_missing_wall_time_of_a_plan_is_the_moment_after_the_jump() -> None:
    """A plan that says half past two means the moment half an hour after the jump, 03:30 on the wall."""
    assert BERLIN.show(BERLIN.instant(datetime.fromisoformat("2026-03-29T02:30"))) == "2026-03-29 03:30"


def test_a_repeated_wall_time_of_a_plan_is_the_first_of_the_two() -> None:
    assert BERLIN.instant(datetime.fromisoformat("2026-10-25T02:30")) == utc(2026, 10, 25, 0, 30)


def test_the_calendar_day_is_the_one_on_the_wall() -> None:
    assert BERLIN.day(utc(2026, 3, 2, 23, 30)) == date(2026, 3, 3)
    assert CHICAGO.day(utc(2026, 3, 2, 5, 30)) == date(2026, 3, 1)


def test_a_day_begins_at_its_midnight_on_the_wall() -> None:
    assert BERLIN.start_of(date(2026, 3, 29)) == utc(2026, 3, 28, 23)
    assert BERLIN.start_of(date(2026, 3, 30)) - BERLIN.start_of(date(2026, 3, 29)) == timedelta(hours=23)


def test_seconds_are_shown_only_where_they_are_not_zero() -> None:
    assert BERLIN.show(utc(2026, 3, 2, 5)) == "2026-03-02 06:00"
    assert BERLIN.show(utc(2026, 3, 2, 5, 0, 7)) == "2026-03-02 06:00:07"


@pytest.mark.parametrize(
    "text", ["2026-03-02 06:00", " 2026-03-02T06:00 ", "2026-03-02 05:00Z", "2026-03-02 06:00:00+01:00"]
)
def test_the_accepted_ways_to_write_one_moment(text: str) -> None:
    assert BERLIN.read(text) == utc(2026, 3, 2, 5)


@pytest.mark.parametrize(
    "text", ["", "today", "2026-03-02", "02.03.2026 06:00", "2026-02-30 06:00", "2026-03-02 25:00"]
)
def test_what_is_no_moment_is_refused_by_its_text(text: str) -> None:
    with pytest.raises(Unreadable, match=repr(text)):
        BERLIN.read(text)


@pytest.mark.parametrize("name", ["Europe/Nowhere", "", "../etc/passwd"])
def test_an_unknown_zone_is_refused_by_name(name: str) -> None:
    with pytest.raises(Unreadable, match="is not the name of a time zone"):
        Zone(name)


def test_never_is_later_than_every_real_moment() -> None:
    assert utc(2200, 1, 1) < NEVER

"""Shifts: which one runs, whose day it is, over midnight, clock changes and closed days."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from upkeep.errors import Unreadable
from upkeep.units.instants import NEVER, Zone
from upkeep.units.shifts import DAY_CODES, ShiftCalendar, ShiftRule, ShiftSpan

BERLIN = Zone("Europe/Berlin")
WORKDAYS = DAY_CODES[:5]
THREE_SHIFTS = (
    ShiftRule("early", "06:00", "14:00", WORKDAYS),
    ShiftRule("late", "14:00", "22:00", WORKDAYS),
    ShiftRule("night", "22:00", "06:00", WORKDAYS),
)


def at(text: str, zone: Zone = BERLIN) -> datetime:
    return zone.read(text)


def key(span: ShiftSpan | None) -> str | None:
    return span.key if span else None


@pytest.fixture
def calendar() -> ShiftCalendar:
    return ShiftCalendar(BERLIN, THREE_SHIFTS)


@pytest.mark.parametrize(
    ("moment", "running"),
    [
        ("2026-03-02 05:59", None),
        ("2026-03-02 06:00", "2026-03-02/early"),
        ("2026-03-02 13:59:59", "2026-03-02/early"),
        ("2026-03-02 14:00", "2026-03-02/late"),
        ("2026-03-02 22:00", "2026-03-02/night"),
        ("2026-03-03 02:00", "2026-03-02/night"),
        ("2026-03-03 06:00", "2026-03-03/early"),
        ("2026-03-07 05:59", "2026-03-06/night"),
        ("2026-03-07 06:00", None),
    ],
)
def test_the_running_shift_begins_at_its_start_and_ends_before_its_end(
    calendar: ShiftCalendar, moment: str, running: str | None
) -> None:
    assert key(calendar.at(at(moment))) == running


def test_two_in_the_morning_of_tuesday_belongs_to_mondays_night_shift(calendar: ShiftCalendar) -> None:
    assert calendar.shift_day(at("2026-03-03 02:00")) == date(2026, 3, 2)


def test_outside_every_shift_the_day_on_the_wall_counts(calendar: ShiftCalendar) -> None:
    """Saturday half past midnight in Berlin is still Friday in UTC and, at noon, nobody's shift."""
    assert calendar.shift_day(at("2026-03-07 12:00")) == date(2026, 3, 7)
    assert ShiftCalendar(BERLIN, ()).shift_day(at("2026-03-07 00:30")) == date(2026, 3, 7)


def test_the_next_shift_is_the_first_that_begins_at_the_instant_or_later(calendar: ShiftCalendar) -> None:
    assert key(calendar.next_from(at("2026-03-02 06:00"))) == "2026-03-02/early"
    assert key(calendar.next_from(at("2026-03-02 06:00:01"))) == "2026-03-02/late"
    assert key(calendar.next_from(at("2026-03-06 23:00"))) == "2026-03-09/early"


def test_the_shift_before_is_the_last_that_has_ended(calendar: ShiftCalendar) -> None:
    assert key(calendar.before(at("2026-03-02 14:00"))) == "2026-03-02/early"
    assert key(calendar.before(at("2026-03-02 13:59"))) == "2026-02-27/night"
    assert key(calendar.before(at("2026-03-03 02:00"))) == "2026-03-02/late"


def test_shifts_between_are_all_that_overlap_in_order(calendar: ShiftCalendar) -> None:
    found = calendar.between(at("2026-03-03 02:00"), at("2026-03-03 14:00"))
    assert [span.key for span in found] == ["2026-03-02/night", "2026-03-03/early"]


def test_no_shift_begins_on_a_closed_day_but_the_one_before_runs_out() -> None:
    calendar = ShiftCalendar(BERLIN, THREE_SHIFTS, closed=[date(2026, 3, 3)])
    assert key(calendar.at(at("2026-03-03 02:00"))) == "2026-03-02/night"
    assert calendar.at(at("2026-03-03 10:00")) is None
    assert key(calendar.next_from(at("2026-03-03 00:00"))) == "2026-03-04/early"
    assert key(calendar.before(at("2026-03-04 06:00"))) == "2026-03-02/night"


def test_a_year_of_closed_days_is_crossed_in_both_directions() -> None:
    closed = [date(2026, 3, 3) + timedelta(days=number) for number in range(366)]
    calendar = ShiftCalendar(BERLIN, THREE_SHIFTS, closed)
    assert key(calendar.next_from(at("2026-03-03 06:00"))) == "2027-03-04/early"
    assert key(calendar.before(at("2027-03-04 06:00"))) == "2026-03-02/night"


@pytest.mark.parametrize("shifts", [(), (ShiftRule("none", "06:00", "14:00", ()),)])
def test_a_plant_without_shifts_has_none_at_any_time(shifts: tuple[ShiftRule, ...]) -> None:
    calendar = ShiftCalendar(BERLIN, shifts)
    moment = at("2026-03-02 10:00")
    assert calendar.at(moment) is None
    assert calendar.next_from(moment) is None
    assert calendar.before(moment) is None
    assert list(calendar.between(moment, NEVER)) == []


def test_a_shift_may_run_round_the_clock() -> None:
    calendar = ShiftCalendar(BERLIN, (ShiftRule("day", "06:00", "06:00", DAY_CODES),))
    assert key(calendar.at(at("2026-03-03 05:59"))) == "2026-03-02/day"
    assert key(calendar.at(at("2026-03-03 06:00"))) == "2026-03-03/day"


def test_where_shifts_overlap_the_one_that_began_last_runs() -> None:
    overlapping = (ShiftRule("long", "06:00", "18:00", DAY_CODES), ShiftRule("short", "08:00", "12:00", DAY_CODES))
    calendar = ShiftCalendar(BERLIN, overlapping)
    running = [key(calendar.at(at(f"2026-03-02 {clock}"))) for clock in ("07:00", "09:00", "13:00")]
    assert running == ["2026-03-02/long", "2026-03-02/short", "2026-03-02/long"]
    assert key(calendar.before(at("2026-03-02 17:00"))) == "2026-03-02/short"
    assert key(calendar.before(at("2026-03-02 19:00"))) == "2026-03-02/long"


def test_a_long_shift_of_the_day_before_may_be_the_last_that_ended() -> None:
    long_and_short = (ShiftRule("long", "20:00", "19:00", ("MO",)), ShiftRule("short", "06:00", "10:00", ("TU",)))
    calendar = ShiftCalendar(BERLIN, long_and_short)
    assert key(calendar.before(at("2026-03-03 18:59"))) == "2026-03-03/short"
    assert key(calendar.before(at("2026-03-03 19:00"))) == "2026-03-02/long"


def test_a_shift_wholly_in_the_missing_hour_does_not_take_place() -> None:
    calendar = ShiftCalendar(BERLIN, (ShiftRule("odd", "02:30", "03:00", DAY_CODES),))
    found = calendar.between(at("2026-03-28 00:00"), at("2026-03-31 00:00"))
    assert [span.key for span in found] == ["2026-03-28/odd", "2026-03-30/odd"]


def test_the_end_of_the_calendar_is_answered_without_an_error(calendar: ShiftCalendar) -> None:
    assert calendar.at(NEVER) is None
    assert calendar.next_from(NEVER) is None
    last = calendar.before(NEVER)
    assert last is not None
    assert last.day.year == 9999


@pytest.mark.parametrize(
    ("bad", "why"),
    [
        ("early", "write the day and the shift"),
        ("2026-02-30/early", "write the day and the shift"),
        ("2026-03-02/noon", "the plant has early, late, night"),
        ("2026-03-07/early", "no early shift begins on 2026-03-07"),
        ("2026-03-06/early", "the plant is closed on 2026-03-06"),
    ],
)
def test_a_key_that_names_no_shift_is_refused_with_the_reason(bad: str, why: str) -> None:
    calendar = ShiftCalendar(BERLIN, THREE_SHIFTS, closed=[date(2026, 3, 6)])
    with pytest.raises(Unreadable, match=why):
        calendar.named(bad)


@pytest.mark.parametrize(
    ("rule", "named"),
    [
        (ShiftRule("early", "6:00", "14:00", WORKDAYS), "'6:00'"),
        (ShiftRule("early", "06:00", "24:00", WORKDAYS), "'24:00'"),
        (ShiftRule("early", "06:00", "14:00", ("MO", "Tue")), "'Tue'"),
    ],
)
def test_a_shift_that_cannot_be_read_is_refused_by_name(rule: ShiftRule, named: str) -> None:
    with pytest.raises(Unreadable, match=f"Shift 'early': {named}"):
        ShiftCalendar(BERLIN, (rule,))


def test_two_shifts_of_one_name_are_refused() -> None:
    with pytest.raises(Unreadable, match="Two shifts are called 'early'"):
        ShiftCalendar(BERLIN, (THREE_SHIFTS[0], THREE_SHIFTS[0]))


CLOCK = st.builds("{:02d}:{:02d}".format, st.integers(0, 23), st.sampled_from([0, 15, 30]))
SHIFT_RULES = st.lists(
    st.builds(ShiftRule, st.just(""), CLOCK, CLOCK, st.sets(st.sampled_from(DAY_CODES), min_size=1).map(tuple)),
    min_size=1,
    max_size=3,
).map(lambda rules: [ShiftRule(f"s{number}", rule.start, rule.end, rule.days) for number, rule in enumerate(rules)])
ZONES = st.sampled_from(["Europe/Berlin", "America/Chicago", "Australia/Lord_Howe", "Asia/Kathmandu", "UTC"]).map(Zone)
YEAR_2026 = st.datetimes(datetime(2026, 1, 1), datetime(2026, 12, 31), timezones=st.just(UTC))  # noqa: DTZ001


def every_span(calendar: ShiftCalendar) -> list[ShiftSpan]:
    return list(calendar.between(datetime(2025, 12, 1, tzinfo=UTC), datetime(2027, 2, 1, tzinfo=UTC)))


@settings(max_examples=60, deadline=None)
@given(ZONES, SHIFT_RULES, st.lists(YEAR_2026, min_size=1, max_size=20))
def test_every_question_agrees_with_the_plain_list_of_all_shifts(
    zone: Zone, rules: list[ShiftRule], instants: list[datetime]
) -> None:
    calendar = ShiftCalendar(zone, rules)
    spans = every_span(calendar)
    assert spans == sorted(spans, key=lambda span: span.start)
    for instant in instants:
        running = [span for span in spans if span.start <= instant < span.end]
        latest = max((span.start for span in running), default=None)
        found = calendar.at(instant)
        assert (found.start if found else None) == latest
        assert found is None or found in running
        following, ended = calendar.next_from(instant), calendar.before(instant)
        assert following is not None
        assert following.start == min(span.start for span in spans if span.start >= instant)
        assert ended is not None
        assert ended.end == max(span.end for span in spans if span.end <= instant)


@settings(max_examples=30, deadline=None)
@given(ZONES, SHIFT_RULES)
def test_a_shifts_key_gives_the_same_shift_back(zone: Zone, rules: list[ShiftRule]) -> None:
    calendar = ShiftCalendar(zone, rules)
    for span in every_span(calendar)[:50]:
        assert calendar.named(span.key) == span

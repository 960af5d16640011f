"""Recurrence rules: equal to dateutil walked from the start, and what each kind of rule does at its edges."""

from __future__ import annotations

import subprocess
import sys
from bisect import bisect_left, bisect_right
from datetime import date, datetime, timedelta
from itertools import islice, takewhile

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given, settings
from hypothesis import strategies as st

from upkeep.errors import Unreadable
from upkeep.units.recurrence import Recurrence, interval_after

DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
SPAN_DAYS = {"SECONDLY": 2, "MINUTELY": 20, "HOURLY": 300}


def wall(text: str) -> datetime:
    return datetime.fromisoformat(text)


@st.composite
def listed(draw: st.DrawFn, own: int, low: int, high: int, *, signed: bool = False) -> str:
    """A BY list with the start's own value in it: a rule without one may not come round before the year 9999."""
    others = draw(st.lists(st.integers(low, high), max_size=3))
    if signed:
        others = [draw(st.sampled_from([other, -other])) for other in others]
    return ",".join(map(str, draw(st.permutations([own, *others]))))


@st.composite
def by_parts(draw: st.DrawFn, freq: str, start: datetime) -> list[str]:
    """BY parts that RFC 5545 allows beside one another in a rule of this frequency."""
    if freq == "YEARLY" and draw(st.integers(0, 4)) == 0:
        weeks = draw(listed(draw(st.sampled_from([1, 20, 52, -1])), 1, 53, signed=True))
        return [f"BYWEEKNO={weeks}", f"BYDAY={draw(st.sampled_from(DAYS))}"]
    own_day = DAYS[start.weekday()]
    choices = {
        "BYMONTH": listed(start.month, 1, 12),
        "BYHOUR": listed(start.hour, 0, 23),
        "BYMINUTE": listed(start.minute, 0, 59),
        "BYSECOND": listed(start.second, 0, 59),
        "BYDAY": st.sets(st.sampled_from(DAYS), max_size=3).map(lambda days: ",".join(sorted(days | {own_day}))),
    }
    if freq != "WEEKLY":
        choices["BYMONTHDAY"] = listed(start.day, 1, 31, signed=True)
    if freq in ("YEARLY", "HOURLY", "MINUTELY", "SECONDLY"):
        choices["BYYEARDAY"] = listed(start.timetuple().tm_yday, 1, 366, signed=True)
    if freq in ("YEARLY", "MONTHLY") and draw(st.booleans()):
        ordinals = st.lists(st.sampled_from([1, 2, 3, 4, 5, -1, -2]), min_size=1, max_size=2)
        choices = {"BYDAY": ordinals.map(lambda found: ",".join(f"{ordinal}{own_day}" for ordinal in found))}
    named = draw(st.lists(st.sampled_from(sorted(choices)), max_size=3, unique=True))
    parts = [f"{name}={draw(choices[name])}" for name in named]
    if parts and draw(st.integers(0, 3)) == 0:
        parts.append(f"BYSETPOS={draw(st.sampled_from(['1', '-1', '1,-1', '1,2', '-3,-1']))}")
    return parts


@st.composite
def rules(draw: st.DrawFn, ends: tuple[str, ...] = ("", "", "COUNT", "UNTIL")) -> tuple[str, datetime, int]:
    """A rule, its start and the days after it in which something may be asked."""
    freq = draw(st.sampled_from(["YEARLY", "MONTHLY", "WEEKLY", "DAILY", "HOURLY", "MINUTELY", "SECONDLY"]))
    start = draw(st.datetimes(wall("2016-01-01"), wall("2018-12-31"))).replace(microsecond=0)
    parts = [f"FREQ={freq}", *draw(by_parts(freq, start))]
    if draw(st.booleans()):
        parts.append(f"INTERVAL={draw(st.sampled_from([2, 3, 4, 5, 6, 7, 11, 18, 24, 45, 90]))}")
    if freq == "WEEKLY" and any(part.startswith("BYSETPOS") for part in parts):
        parts.append(f"WKST={DAYS[start.weekday()]}")  # from the middle of a week dateutil reads it otherwise
    elif draw(st.booleans()):
        parts.append(f"WKST={draw(st.sampled_from(DAYS))}")
    end = draw(st.sampled_from(ends))
    if end == "COUNT":
        parts.append(f"COUNT={draw(st.integers(1, 40))}")
    if end == "UNTIL":
        parts.append(f"UNTIL={draw(st.datetimes(wall('2016-01-01'), wall('2028-01-01'))):%Y%m%dT%H%M%S}")
    return ";".join(parts), start, SPAN_DAYS.get(freq, 3650)


def asked(start: datetime, days: int) -> st.SearchStrategy[datetime]:
    """Moments around the life of a rule, some of them on the start's own time of day."""
    seconds = st.integers(-86400, days * 86400).map(lambda s: start + timedelta(seconds=s))
    return seconds | st.integers(-1, days).map(lambda d: start + timedelta(days=d))


@settings(max_examples=80, deadline=None)
@given(rules(), st.data())
def test_a_moved_rule_says_what_dateutil_says_from_the_start(
    rule: tuple[str, datetime, int], data: st.DataObject
) -> None:
    """Asked in any order, forward and back, one Recurrence gives dateutil's occurrences."""
    text, start, days = rule
    recurrence, whole = Recurrence(text, start), rrulestr(text, dtstart=start)
    for _ in range(3):
        moment, inclusive = data.draw(asked(start, days)), data.draw(st.booleans())
        assert recurrence.next_after(moment, inclusive) == whole.after(moment, inc=inclusive)
        assert recurrence.before(moment, inclusive) == whole.before(moment, inc=inclusive)
        expected = list(whole.xafter(moment, count=4, inc=True))
        end = expected[-1] if len(expected) == 4 else wall("2100-01-01")
        assert list(recurrence.between(moment, end)) == [occurrence for occurrence in expected if occurrence < end]


@settings(max_examples=120, deadline=None)
@given(rules(ends=("",)), st.data())
def test_a_counted_rule_ends_where_dateutil_counts_from_the_start(
    rule: tuple[str, datetime, int], data: st.DataObject
) -> None:
    """With a COUNT that is reached; each moment asked of a rule of its own, which has walked nowhere before."""
    text, start, days = rule
    until = start + timedelta(days=days * (6 if "FREQ=YEARLY" in text else 1))
    endless = islice(takewhile(lambda at: at < until, rrulestr(text, dtstart=start)), 600)
    text += f";COUNT={data.draw(st.integers(1, max(1, len(list(endless)))))}"
    walked = list(rrulestr(text, dtstart=start))
    for moment in [walked[-1], *data.draw(st.lists(asked(start, days), min_size=2, max_size=2))]:
        later = walked[bisect_right(walked, moment) :]
        earlier = walked[: bisect_left(walked, moment)]
        assert Recurrence(text, start).next_after(moment) == (later[0] if later else None)
        assert Recurrence(text, start).before(moment) == (earlier[-1] if earlier else None)
    assert Recurrence(text, start).before(wall("9999-12-31")) == walked[-1]


@pytest.mark.parametrize(
    "rule",
    [
        "FREQ=WEEKLY;INTERVAL=2;WKST=SU;BYDAY=SU,MO,SA",
        "FREQ=WEEKLY;INTERVAL=3;BYMONTH=1,3,5;BYDAY=TU,SU",
        "FREQ=HOURLY;INTERVAL=2;BYHOUR=6,7,9,12,15;BYMINUTE=0,30",
        "FREQ=HOURLY;INTERVAL=5;BYHOUR=6,9,12,18",
        "FREQ=DAILY;BYHOUR=3,8,12;BYSETPOS=1,3",
        "FREQ=DAILY;INTERVAL=4;BYMONTHDAY=-1,1,2",
        "FREQ=MONTHLY;INTERVAL=5;BYDAY=-1FR,2MO;BYHOUR=5,7",
        "FREQ=MONTHLY;BYMONTHDAY=9,15,31;BYSETPOS=2,-2",
        "FREQ=YEARLY;INTERVAL=3;BYMONTH=3,2;BYDAY=-1SU,2MO",
        "FREQ=YEARLY;BYWEEKNO=1,53;BYDAY=MO,SU",
        "FREQ=YEARLY;BYDAY=20MO,-1FR",
        "FREQ=YEARLY;BYYEARDAY=366,-366,60;BYDAY=MO,WE",
    ],
)
@pytest.mark.parametrize("count", [1, 2, 7, 100])
def test_each_kind_of_counted_rule_ends_where_dateutil_ends(rule: str, count: int) -> None:
    """Started in the middle of a week, a month, a year, and of the hours of the day."""
    start, text = wall("2016-06-09T09:00"), f"{rule};COUNT={count}"
    assert Recurrence(text, start).before(wall("9999-12-31")) == list(rrulestr(text, dtstart=start))[-1]


@pytest.mark.parametrize(
    ("rule", "start", "last"),
    [
        ("FREQ=WEEKLY;BYDAY=MO,TH;COUNT=1000", "2016-03-01T06:00", "2025-09-29T06:00"),
        ("FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13;COUNT=689", "2001-01-01T06:00", "2401-04-13T06:00"),
        ("FREQ=YEARLY;COUNT=98", "2016-02-29T06:00", "2416-02-29T06:00"),
        ("FREQ=MONTHLY;BYSETPOS=-1;BYDAY=MO,TU,WE,TH,FR;COUNT=4800", "2026-01-01T06:00", "2425-12-31T06:00"),
        ("FREQ=DAILY;BYHOUR=6,14,22;COUNT=438291", "2026-01-01T06:00", "2425-12-31T22:00"),
        ("FREQ=HOURLY;INTERVAL=8;BYDAY=MO,TU,WE,TH,FR,SA,SU;COUNT=438291", "2026-01-01T06:00", "2425-12-31T22:00"),
    ],
)
def test_long_counts_end_where_the_calendar_says(rule: str, start: str, last: str) -> None:
    """400 Gregorian years have 146,097 days, 97 of them a 29 February, and 688 Fridays the 13th (all from memory).

    1,000 Mondays and Thursdays are 500 weeks.
    """
    recurrence = Recurrence(rule, wall(start))
    assert recurrence.before(wall("9999-12-31T00:00")) == wall(last)
    assert recurrence.next_after(wall(last) - timedelta(seconds=1)) == wall(last)
    assert recurrence.next_after(wall(last)) is None


NEVER = (
    "FREQ=MONTHLY;BYMONTH=2;BYMONTHDAY=30",
    "FREQ=DAILY;BYMONTH=2;BYMONTHDAY=31",
    "FREQ=YEARLY;INTERVAL=100;BYMONTH=2;BYMONTHDAY=29",
    "FREQ=DAILY;INTERVAL=7;BYDAY=TU",
    "FREQ=MONTHLY;INTERVAL=2;BYMONTH=2,4",
    "FREQ=WEEKLY;BYDAY=MO,WE;BYSETPOS=3",
    "FREQ=YEARLY;BYWEEKNO=20;BYMONTH=1",
    "FREQ=HOURLY;BYMINUTE=0,30;BYSETPOS=-3",
    "FREQ=HOURLY;INTERVAL=5;BYMONTH=4;BYMONTHDAY=31",
    "FREQ=MINUTELY;BYYEARDAY=200;BYMONTH=1",
)
"""From Monday 2026-03-02: no February has a 30th or 31st; of the years 2026, 2126, 2226 ... none has a 29th; every
seventh day is a Monday; every second month is an odd one; two days have no third; week 20 is in May; two moments of an
hour have no third; no April has a 31st; day 200 is in July."""


@pytest.mark.parametrize("rule", NEVER)
@pytest.mark.parametrize("end", ["", ";COUNT=1", ";COUNT=1000000"])
def test_a_rule_that_never_comes_round_has_no_occurrence(rule: str, end: str) -> None:
    """It is told from the calendar: nobody walks to the year 9999 for it, day by day."""
    recurrence = Recurrence(rule + end, wall("2026-03-02T06:00"))
    assert recurrence.next_after(wall("2020-01-01T00:00")) is None
    assert recurrence.before(wall("9999-12-31T00:00")) is None


@pytest.mark.parametrize(
    ("rule", "first"),
    [
        ("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29;BYDAY=MO", "2044-02-29"),
        ("FREQ=DAILY;INTERVAL=7;BYMONTH=2;BYMONTHDAY=29", "2044-02-29"),
        ("FREQ=YEARLY;INTERVAL=5;BYWEEKNO=53;BYDAY=FR;BYMONTH=1", "2066-01-01"),
        ("FREQ=WEEKLY;BYDAY=MO,WE;BYSETPOS=-2", "2026-03-02"),
        ("FREQ=HOURLY;BYMINUTE=0,30;BYSETPOS=2", "2026-03-02"),
    ],
)
def test_a_rare_rule_is_not_taken_for_one_that_never_comes(rule: str, first: str) -> None:
    """A plain calendar, and the weeks of ISO 8601.

    The next 29 February on a Monday is in 2044; of every fifth year 2066 is the first to begin in a week 53.
    """
    found = Recurrence(rule, wall("2026-03-02T00:00")).next_after(wall("2026-01-01T00:00"))
    assert found is not None
    assert found.date() == date.fromisoformat(first)


@pytest.mark.parametrize("rule", ["FREQ=MONTHLY", "FREQ=MONTHLY;INTERVAL=1;WKST=SU", "FREQ=MONTHLY;BYMONTHDAY=31"])
def test_a_rule_of_the_31st_skips_shorter_months(rule: str) -> None:
    """RFC 5545: an invalid date is ignored, never moved; also when asked ten years on."""
    recurrence = Recurrence(rule, wall("2016-01-31T06:00"))
    found = list(recurrence.between(wall("2026-01-01"), wall("2026-08-01")))
    assert found == [
        wall("2026-01-31T06:00"),
        wall("2026-03-31T06:00"),
        wall("2026-05-31T06:00"),
        wall("2026-07-31T06:00"),
    ]


def test_a_yearly_rule_of_29_february_waits_for_the_leap_year() -> None:
    """Eight years pass over 2100, which is no leap year."""
    recurrence = Recurrence("FREQ=YEARLY", wall("2016-02-29T06:00"))
    assert recurrence.next_after(wall("2026-03-02T00:00")) == wall("2028-02-29T06:00")
    assert recurrence.before(wall("2026-03-02T00:00")) == wall("2024-02-29T06:00")
    assert recurrence.next_after(wall("2096-02-29T06:00")) == wall("2104-02-29T06:00")


def test_a_friday_the_13th_is_found_from_far_away() -> None:
    recurrence = Recurrence("FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13", wall("1997-09-02T09:00"))
    assert recurrence.next_after(wall("2026-03-14T00:00")) == wall("2026-11-13T09:00")
    assert recurrence.before(wall("2026-02-13T09:00")) == wall("2025-06-13T09:00")


def test_the_start_occurs_only_where_the_rule_says_so() -> None:
    """A rule of Mondays started on a Wednesday first comes on the next Monday."""
    recurrence = Recurrence("FREQ=WEEKLY;BYDAY=MO", wall("2026-03-04T06:00"))
    assert recurrence.next_after(wall("2026-01-01T00:00")) == wall("2026-03-09T06:00")
    assert recurrence.before(wall("2026-03-09T06:00")) is None


def test_nothing_comes_before_the_start() -> None:
    for rule in ("FREQ=DAILY", "FREQ=DAILY;BYHOUR=1,23", "FREQ=MONTHLY", "FREQ=YEARLY;BYMONTH=1,6"):
        recurrence = Recurrence(rule, wall("2026-03-04T06:00"))
        assert recurrence.before(wall("2026-03-04T06:00")) is None
        first = recurrence.next_after(wall("2020-01-01T00:00"))
        assert first is not None
        assert first >= wall("2026-03-04T06:00")


@pytest.mark.parametrize("rule", ["FREQ=DAILY;COUNT=3", "FREQ=DAILY;COUNT=3;BYHOUR=6"])
def test_a_counted_rule_ends_after_its_count(rule: str) -> None:
    recurrence = Recurrence(rule, wall("2026-03-02T06:00"))
    assert recurrence.next_after(wall("2026-03-04T05:59")) == wall("2026-03-04T06:00")
    assert recurrence.next_after(wall("2026-03-04T06:00")) is None
    assert recurrence.before(wall("2036-01-01T00:00")) == wall("2026-03-04T06:00")
    assert len(list(recurrence.between(wall("2026-01-01"), wall("2027-01-01")))) == 3


@pytest.mark.parametrize("rule", ["FREQ=DAILY;UNTIL=20260304T060000", "FREQ=DAILY;UNTIL=20260305;BYHOUR=6"])
def test_until_is_the_last_moment_that_may_occur(rule: str) -> None:
    recurrence = Recurrence(rule, wall("2026-03-02T06:00"))
    assert recurrence.next_after(wall("2026-03-04T06:00"), inclusive=True) == wall("2026-03-04T06:00")
    assert recurrence.next_after(wall("2026-03-04T06:00")) is None
    assert recurrence.before(wall("2036-01-01T00:00")) == wall("2026-03-04T06:00")


def test_a_rule_that_ends_before_it_starts_never_occurs() -> None:
    recurrence = Recurrence("FREQ=DAILY;UNTIL=20260101", wall("2026-03-02T06:00"))
    assert recurrence.next_after(wall("2020-01-01T00:00")) is None
    assert recurrence.before(wall("2030-01-01T00:00")) is None


def test_a_numbered_day_and_a_plain_day_in_one_rule_are_both_taken() -> None:
    """The first Tuesday and every Friday of March 2026 (a plain calendar); dateutil would find no day at all."""
    recurrence = Recurrence("FREQ=MONTHLY;BYDAY=1TU,FR", wall("2026-01-01T06:00"))
    found = [occurrence.day for occurrence in recurrence.between(wall("2026-03-01"), wall("2026-04-01"))]
    assert found == [3, 6, 13, 20, 27]


def test_rules_end_with_the_year_9999() -> None:
    for rule in ("FREQ=DAILY", "FREQ=WEEKLY;BYDAY=MO,FR,SU", "FREQ=MONTHLY", "FREQ=YEARLY;BYMONTH=12;BYMONTHDAY=31"):
        recurrence = Recurrence(rule, wall("2026-03-06T06:00"))
        assert recurrence.next_after(wall("9999-12-31T23:59")) is None
        last = recurrence.before(wall("9999-12-31T23:59"))
        assert last is not None
        assert last.year == 9999


def test_the_leading_property_name_and_small_letters_are_taken() -> None:
    recurrence = Recurrence(" rrule:freq=weekly;byday=mo ", wall("2026-03-02T06:00"))
    assert recurrence.next_after(wall("2026-03-02T06:00")) == wall("2026-03-09T06:00")


@pytest.mark.parametrize(
    ("rule", "part"),
    [
        ("", "''"),
        ("FREQ=DAILY;", "''"),
        ("INTERVAL=2", "'FREQ'"),
        ("FREQ=OFTEN", "'FREQ=OFTEN'"),
        ("FREQ=DAILY;EVERY=2", "'EVERY=2'"),
        ("FREQ=DAILY;INTERVAL=0", "'INTERVAL=0'"),
        ("FREQ=DAILY;COUNT=-1", "'COUNT=-1'"),
        ("FREQ=DAILY;COUNT=2;UNTIL=20270101", "'COUNT'"),
        ("FREQ=DAILY;UNTIL=20261301", "'UNTIL=20261301'"),
        ("FREQ=DAILY;UNTIL=20270101T000000Z", "'UNTIL=20270101T000000Z'"),
        ("FREQ=DAILY;WKST=1", "'WKST=1'"),
        ("FREQ=WEEKLY;BYDAY=MO,XX", "'BYDAY=MO,XX'"),
        ("FREQ=WEEKLY;BYDAY=1MO", "'BYDAY'"),
        ("FREQ=MONTHLY;BYDAY=6MO", "'BYDAY'"),
        ("FREQ=YEARLY;BYMONTH=3;BYDAY=20MO", "'BYDAY'"),
        ("FREQ=YEARLY;BYWEEKNO=20;BYDAY=1MO", "'BYDAY'"),
        ("FREQ=WEEKLY;BYMONTHDAY=1", "'BYMONTHDAY'"),
        ("FREQ=MONTHLY;BYYEARDAY=1", "'BYYEARDAY'"),
        ("FREQ=MONTHLY;BYWEEKNO=1", "'BYWEEKNO'"),
        ("FREQ=YEARLY;BYMONTH=0", "'BYMONTH=0'"),
        ("FREQ=YEARLY;BYMONTH=1.5", "'BYMONTH=1.5'"),
        ("FREQ=DAILY;BYHOUR=24", "'BYHOUR=24'"),
        ("FREQ=DAILY;BYSETPOS=1", "'BYSETPOS'"),
        ("FREQ=DAILY;FREQ=WEEKLY", "'FREQ=WEEKLY'"),
        ("FREQ=HOURLY;INTERVAL=2;BYHOUR=7", "'BYHOUR'"),
        ("FREQ=MINUTELY;INTERVAL=60;BYMINUTE=30", "'BYMINUTE'"),
    ],
)
def test_a_bad_rule_is_refused_with_the_part_that_is_wrong(rule: str, part: str) -> None:
    with pytest.raises(Unreadable) as refusal:
        Recurrence(rule, wall("2026-03-02T06:00"))
    assert f"cannot be read at {part}:" in str(refusal.value)


def test_loading_the_module_and_a_plain_rule_does_not_load_dateutil() -> None:
    """Start-up pays for dateutil only where a book has a rule that needs it."""
    program = (
        "import sys; from datetime import datetime; from upkeep.units.recurrence import Recurrence; "
        "Recurrence('FREQ=DAILY;INTERVAL=2', datetime(2026, 3, 2)).next_after(datetime(2026, 3, 2)); "
        "sys.exit(any(name.startswith('dateutil') for name in sys.modules))"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0


@pytest.mark.parametrize(
    ("day", "every", "expected"),
    [
        ("2026-03-02", "1 day", "2026-03-03"),
        ("2026-03-02", "7 days", "2026-03-09"),
        ("2026-03-02", "2 weeks", "2026-03-16"),
        ("2026-01-31", "1 month", "2026-02-28"),
        ("2024-01-31", "1 month", "2024-02-29"),
        ("2026-08-31", "6 months", "2027-02-28"),
        ("2024-02-29", "1 year", "2025-02-28"),
        ("2024-02-29", "4 years", "2028-02-29"),
    ],
)
def test_an_interval_counts_days_and_keeps_to_the_calendar(day: str, every: str, expected: str) -> None:
    assert interval_after(date.fromisoformat(day), every) == date.fromisoformat(expected)


@pytest.mark.parametrize(
    "every", ["", "7", "days", "0 days", "-1 day", "1.5 days", "a week", "1 fortnight", "99999 years"]
)
def test_another_interval_is_refused_by_name(every: str) -> None:
    with pytest.raises(Unreadable, match=repr(every)):
        interval_after(date(2026, 3, 2), every)

"""Rules whose days a plain calendar tells, and three that libraries read otherwise than RFC 5545.

Source: RFC 5545 (September 2009), 3.3.10 "Recurrence Rule", quoted where a rule hangs on its words; read in copies of
its text.  dateutil 2.9 reads the first two of the second half otherwise; everywhere else the rules of
tests/units/test_recurrence.py are equal to it.
"""

from __future__ import annotations

from datetime import datetime
from itertools import islice

import pytest
from dateutil.rrule import rrulestr

from upkeep.units.recurrence import Recurrence


def wall(text: str) -> datetime:
    """A moment on the wall."""
    return datetime.fromisoformat(text)


def days(rule: str, start: str, first: str, end: str) -> list[str]:
    """The days of a rule from a day on and before another."""
    found = Recurrence(rule, wall(start)).between(wall(first), wall(end))
    return [day.date().isoformat() for day in found]


def test_the_fridays_the_13th_of_2026() -> None:
    """February, March and November, by the calendar."""
    found = days("FREQ=MONTHLY;BYMONTHDAY=13;BYDAY=FR", "2020-01-01", "2026-01-01", "2027-01-01")
    assert found == ["2026-02-13", "2026-03-13", "2026-11-13"]


def test_the_election_days_of_the_document_carried_on() -> None:
    """The example of 3.8.5.3 from 5 November 1996: 2024 and 2028."""
    rule = "FREQ=YEARLY;INTERVAL=4;BYMONTH=11;BYDAY=TU;BYMONTHDAY=2,3,4,5,6,7,8"
    assert days(rule, "1996-11-05", "2024-01-01", "2029-01-01") == ["2024-11-05", "2028-11-07"]


LAST_WEEKDAYS = "01-30 02-27 03-31 04-30 05-29 06-30 07-31 08-31 09-30 10-30 11-30 12-31"


def test_the_last_weekdays_of_the_months_of_2026() -> None:
    """By the calendar."""
    found = days("FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1", "2020-01-01", "2026-01-01", "2027-01-01")
    assert found == [f"2026-{day}" for day in LAST_WEEKDAYS.split()]


@pytest.mark.parametrize("end", ["", ";COUNT=3", ";UNTIL=20260526"])
def test_a_set_by_the_week_is_that_of_the_whole_first_week(end: str) -> None:
    """ "A set of recurrence instances starts at the beginning of the interval defined by the FREQ rule part."

    From Wednesday 6 May 2026: the Monday of that week lies before the start, so the first is that of the next week.
    """
    rule = "FREQ=WEEKLY;BYDAY=MO,WE,FR;BYSETPOS=1" + end
    assert days(rule, "2026-05-06", "2026-01-01", "2026-05-27") == ["2026-05-11", "2026-05-18", "2026-05-25"]
    assert rrulestr(rule, dtstart=wall("2026-05-06"))[0] == wall("2026-05-06")


def test_a_count_of_sets_by_the_week_begins_at_the_start() -> None:
    """The last of each week from a Wednesday: the Friday of that week is the first of three."""
    rule = "FREQ=WEEKLY;BYDAY=MO,WE,FR;BYSETPOS=-1;COUNT=3"
    assert days(rule, "2026-05-06", "2026-01-01", "2027-01-01") == ["2026-05-08", "2026-05-15", "2026-05-22"]


def test_a_week_number_without_a_day_takes_the_weekday_of_the_start() -> None:
    """ "Information, not contained in the rule, necessary to determine the various recurrence instance start time and
    dates are derived from the Start Time."

    From a Wednesday: the Wednesday of week 20 alone; 11 to 17 May by the other reading.
    """
    rule = "FREQ=YEARLY;BYWEEKNO=20"
    assert days(rule, "2026-01-07", "2026-01-01", "2028-01-01") == ["2026-05-13", "2027-05-19"]
    assert [day.day for day in islice(rrulestr(rule, dtstart=wall("2026-01-07")), 7)] == [*range(11, 18)]

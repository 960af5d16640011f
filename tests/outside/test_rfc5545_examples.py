"""The examples of RFC 5545, each with the dates the document prints for it.

Source: B. Desruisseaux (ed.), "Internet Calendaring and Scheduling Core Object Specification (iCalendar)", RFC 5545,
section 3.8.5.3 "Recurrence Rule", September 2009; read in the text of the RFC, in its order and under its headings.
All starts are wall times of America/New_York.  Two things are written differently from the document:

- a rule here runs on the wall clock, so an UNTIL that the document gives in UTC is put into New York time first;
- "Every 3 hours ..." has UNTIL=19970902T170000Z in the document, which is 13:00 there and cannot give the 15:00 it
  prints.  Erratum 3883, which the RFC Editor lists as verified, corrects it to 210000Z (its text was not at hand;
  the corrected value is given after the notes of several other projects' tests).

The notation of the expected days: ``1997 September 2-11; October 2,4`` with ``2-30/2`` for "2,4,6 ... 30".  An example
that goes on for ever is compared as far as the document prints it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import islice, pairwise
from typing import NamedTuple

import pytest

from upkeep.units.instants import Zone
from upkeep.units.recurrence import Recurrence

NEW_YORK = Zone("America/New_York")
FAR = datetime.fromisoformat("2100-01-01")


class Example(NamedTuple):
    """A heading of the document, the start, its rules ("or" in the document) and the days printed."""

    heading: str
    start: str
    rules: tuple[str, ...]
    days: str
    forever: bool = False


TUE_2_SEPTEMBER = "1997-09-02T09:00"

EXAMPLES = (
    Example("Daily for 10 occurrences", TUE_2_SEPTEMBER, ("FREQ=DAILY;COUNT=10",), "1997 September 2-11"),
    Example(
        "Daily until December 24, 1997",
        TUE_2_SEPTEMBER,
        ("FREQ=DAILY;UNTIL=19971224T000000Z",),
        "1997 September 2-30; October 1-25; October 26-31; November 1-30; December 1-23",
    ),
    Example(
        "Every other day - forever",
        TUE_2_SEPTEMBER,
        ("FREQ=DAILY;INTERVAL=2",),
        "1997 September 2-30/2; October 2-24/2; October 26,28,30; November 1-29/2; December 1,3",
        forever=True,
    ),
    Example(
        "Every 10 days, 5 occurrences",
        TUE_2_SEPTEMBER,
        ("FREQ=DAILY;INTERVAL=10;COUNT=5",),
        "1997 September 2,12,22; October 2,12",
    ),
    Example(
        "Every day in January, for 3 years",
        "1998-01-01T09:00",
        (
            "FREQ=YEARLY;UNTIL=20000131T140000Z;BYMONTH=1;BYDAY=SU,MO,TU,WE,TH,FR,SA",
            "FREQ=DAILY;UNTIL=20000131T140000Z;BYMONTH=1",
        ),
        "1998 January 1-31; 1999 January 1-31; 2000 January 1-31",
    ),
    Example(
        "Weekly for 10 occurrences",
        TUE_2_SEPTEMBER,
        ("FREQ=WEEKLY;COUNT=10",),
        "1997 September 2,9,16,23,30; October 7,14,21; October 28; November 4",
    ),
    Example(
        "Weekly until December 24, 1997",
        TUE_2_SEPTEMBER,
        ("FREQ=WEEKLY;UNTIL=19971224T000000Z",),
        "1997 September 2,9,16,23,30; October 7,14,21; October 28; November 4,11,18,25; December 2,9,16,23",
    ),
    Example(
        "Every other week - forever",
        TUE_2_SEPTEMBER,
        ("FREQ=WEEKLY;INTERVAL=2;WKST=SU",),
        "1997 September 2,16,30; October 14; October 28; November 11,25; December 9,23; "
        "1998 January 6,20; February 3,17",
        forever=True,
    ),
    Example(
        "Weekly on Tuesday and Thursday for five weeks",
        TUE_2_SEPTEMBER,
        ("FREQ=WEEKLY;UNTIL=19971007T000000Z;WKST=SU;BYDAY=TU,TH", "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH"),
        "1997 September 2,4,9,11,16,18,23,25,30; October 2",
    ),
    Example(
        "Every other week on Monday, Wednesday, and Friday until December 24, 1997, "
        "starting on Monday, September 1, 1997",
        "1997-09-01T09:00",
        ("FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR",),
        "1997 September 1,3,5,15,17,19,29; October 1,3,13,15,17; October 27,29,31; "
        "November 10,12,14,24,26,28; December 8,10,12,22",
    ),
    Example(
        "Every other week on Tuesday and Thursday, for 8 occurrences",
        TUE_2_SEPTEMBER,
        ("FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH",),
        "1997 September 2,4,16,18,30; October 2,14,16",
    ),
    Example(
        "Monthly on the first Friday for 10 occurrences",
        "1997-09-05T09:00",
        ("FREQ=MONTHLY;COUNT=10;BYDAY=1FR",),
        "1997 September 5; October 3; November 7; December 5; "
        "1998 January 2; February 6; March 6; April 3; May 1; June 5",
    ),
    Example(
        "Monthly on the first Friday until December 24, 1997",
        "1997-09-05T09:00",
        ("FREQ=MONTHLY;UNTIL=19971224T000000Z;BYDAY=1FR",),
        "1997 September 5; October 3; November 7; December 5",
    ),
    Example(
        "Every other month on the first and last Sunday of the month for 10 occurrences",
        "1997-09-07T09:00",
        ("FREQ=MONTHLY;INTERVAL=2;COUNT=10;BYDAY=1SU,-1SU",),
        "1997 September 7,28; November 2,30; 1998 January 4,25; March 1,29; May 3,31",
    ),
    Example(
        "Monthly on the second-to-last Monday of the month for 6 months",
        "1997-09-22T09:00",
        ("FREQ=MONTHLY;COUNT=6;BYDAY=-2MO",),
        "1997 September 22; October 20; November 17; December 22; 1998 January 19; February 16",
    ),
    Example(
        "Monthly on the third-to-the-last day of the month, forever",
        "1997-09-28T09:00",
        ("FREQ=MONTHLY;BYMONTHDAY=-3",),
        "1997 September 28; October 29; November 28; December 29; 1998 January 29; February 26",
        forever=True,
    ),
    Example(
        "Monthly on the 2nd and 15th of the month for 10 occurrences",
        TUE_2_SEPTEMBER,
        ("FREQ=MONTHLY;COUNT=10;BYMONTHDAY=2,15",),
        "1997 September 2,15; October 2,15; November 2,15; December 2,15; 1998 January 2,15",
    ),
    Example(
        "Monthly on the first and last day of the month for 10 occurrences",
        "1997-09-30T09:00",
        ("FREQ=MONTHLY;COUNT=10;BYMONTHDAY=1,-1",),
        "1997 September 30; October 1; October 31; November 1,30; December 1,31; 1998 January 1,31; February 1",
    ),
    Example(
        "Every 18 months on the 10th thru 15th of the month for 10 occurrences",
        "1997-09-10T09:00",
        ("FREQ=MONTHLY;INTERVAL=18;COUNT=10;BYMONTHDAY=10,11,12,13,14,15",),
        "1997 September 10,11,12,13,14,15; 1999 March 10,11,12,13",
    ),
    Example(
        "Every Tuesday, every other month",
        TUE_2_SEPTEMBER,
        ("FREQ=MONTHLY;INTERVAL=2;BYDAY=TU",),
        "1997 September 2,9,16,23,30; November 4,11,18,25; 1998 January 6,13,20,27; March 3,10,17,24,31",
        forever=True,
    ),
    Example(
        "Yearly in June and July for 10 occurrences",
        "1997-06-10T09:00",
        ("FREQ=YEARLY;COUNT=10;BYMONTH=6,7",),
        "1997 June 10; July 10; 1998 June 10; July 10; 1999 June 10; July 10; "
        "2000 June 10; July 10; 2001 June 10; July 10",
    ),
    Example(
        "Every other year on January, February, and March for 10 occurrences",
        "1997-03-10T09:00",
        ("FREQ=YEARLY;INTERVAL=2;COUNT=10;BYMONTH=1,2,3",),
        "1997 March 10; 1999 January 10; February 10; March 10; "
        "2001 January 10; February 10; March 10; 2003 January 10; February 10; March 10",
    ),
    Example(
        "Every third year on the 1st, 100th, and 200th day for 10 occurrences",
        "1997-01-01T09:00",
        ("FREQ=YEARLY;INTERVAL=3;COUNT=10;BYYEARDAY=1,100,200",),
        "1997 January 1; April 10; July 19; 2000 January 1; April 9; July 18; "
        "2003 January 1; April 10; July 19; 2006 January 1",
    ),
    Example(
        "Every 20th Monday of the year, forever",
        "1997-05-19T09:00",
        ("FREQ=YEARLY;BYDAY=20MO",),
        "1997 May 19; 1998 May 18; 1999 May 17",
        forever=True,
    ),
    Example(
        "Monday of week number 20 (where the default start of the week is Monday), forever",
        "1997-05-12T09:00",
        ("FREQ=YEARLY;BYWEEKNO=20;BYDAY=MO",),
        "1997 May 12; 1998 May 11; 1999 May 17",
        forever=True,
    ),
    Example(
        "Every Thursday in March, forever",
        "1997-03-13T09:00",
        ("FREQ=YEARLY;BYMONTH=3;BYDAY=TH",),
        "1997 March 13,20,27; 1998 March 5,12,19,26; 1999 March 4,11,18,25",
        forever=True,
    ),
    Example(
        "Every Thursday, but only during June, July, and August, forever",
        "1997-06-05T09:00",
        ("FREQ=YEARLY;BYDAY=TH;BYMONTH=6,7,8",),
        "1997 June 5,12,19,26; July 3,10,17,24,31; August 7,14,21,28; "
        "1998 June 4,11,18,25; July 2,9,16,23,30; August 6,13,20,27; "
        "1999 June 3,10,17,24; July 1,8,15,22,29; August 5,12,19,26",
        forever=True,
    ),
    Example(
        "Every Friday the 13th, forever",
        TUE_2_SEPTEMBER,
        ("FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13",),
        "1998 February 13; March 13; November 13; 1999 August 13; 2000 October 13",
        forever=True,
    ),
    Example(
        "The first Saturday that follows the first Sunday of the month, forever",
        "1997-09-13T09:00",
        ("FREQ=MONTHLY;BYDAY=SA;BYMONTHDAY=7,8,9,10,11,12,13",),
        "1997 September 13; October 11; November 8; December 13; "
        "1998 January 10; February 7; March 7; April 11; May 9; June 13",
        forever=True,
    ),
    Example(
        "Every 4 years, the first Tuesday after a Monday in November, forever (U.S. Presidential Election day)",
        "1996-11-05T09:00",
        ("FREQ=YEARLY;INTERVAL=4;BYMONTH=11;BYDAY=TU;BYMONTHDAY=2,3,4,5,6,7,8",),
        "1996 November 5; 2000 November 7; 2004 November 2",
        forever=True,
    ),
    Example(
        "The third instance into the month of one of Tuesday, Wednesday, or Thursday, for the next 3 months",
        "1997-09-04T09:00",
        ("FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3",),
        "1997 September 4; October 7; November 6",
    ),
    Example(
        "The second-to-last weekday of the month",
        "1997-09-29T09:00",
        ("FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2",),
        "1997 September 29; October 30; November 27; December 30; 1998 January 29; February 26; March 30",
        forever=True,
    ),
    Example(
        "An example where the days generated makes a difference because of WKST: MO",
        "1997-08-05T09:00",
        ("FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO",),
        "1997 August 5,10,19,24",
    ),
    Example(
        "changing only WKST from MO to SU, yields different results...",
        "1997-08-05T09:00",
        ("FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU",),
        "1997 August 5,17,19,31",
    ),
    Example(
        "An example where an invalid date (i.e., February 30) is ignored",
        "2007-01-15T09:00",
        ("FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5",),
        "2007 January 15,30; February 15; March 15,30",
    ),
)

EVERY_20_MINUTES = (
    "FREQ=DAILY;BYHOUR=9,10,11,12,13,14,15,16;BYMINUTE=0,20,40",
    "FREQ=MINUTELY;INTERVAL=20;BYHOUR=9,10,11,12,13,14,15,16",
)


def in_new_york(rule: str) -> str:
    """The rule with a UTC UNTIL put into wall time of New York."""

    def wall(found: re.Match[str]) -> str:
        return f"UNTIL={NEW_YORK.local(datetime.fromisoformat(found[1]).replace(tzinfo=UTC)):%Y%m%dT%H%M%S}"

    return re.sub(r"UNTIL=(\d{8}T\d{6})Z", wall, rule)


def printed(days: str) -> Iterator[str]:
    """The days of an expected line as ISO text."""
    year = ""
    for part in days.split(";"):
        words = part.split()
        year = words[0] if len(words) == 3 else year
        month = datetime.strptime(words[-2], "%B").month  # noqa: DTZ007
        for piece in words[-1].split(","):
            first, last, step = re.fullmatch(r"(\d+)(?:-(\d+))?(?:/(\d+))?", piece).groups()  # type: ignore[union-attr]
            for day in range(int(first), int(last or first) + 1, int(step or 1)):
                yield f"{year}-{month:02d}-{day:02d}"


def occurrences(rule: str, start: datetime, at_most: int) -> list[datetime]:
    return list(islice(Recurrence(in_new_york(rule), start).between(start, FAR), at_most))


CASES = [pytest.param(example, rule, id=f"{example.heading}: {rule}") for example in EXAMPLES for rule in example.rules]


@pytest.mark.parametrize(("example", "rule"), CASES)
def test_a_rule_comes_on_the_days_the_document_prints(example: Example, rule: str) -> None:
    """Finite rules give these days and end; endless ones give these first.  All at 9:00 AM."""
    expected = [f"{day}T09:00:00" for day in printed(example.days)]
    found = occurrences(rule, datetime.fromisoformat(example.start), len(expected) + (0 if example.forever else 1))
    assert [occurrence.isoformat() for occurrence in found] == expected


@pytest.mark.parametrize(("example", "rule"), CASES)
def test_each_printed_day_is_found_from_the_one_before_it_and_after_it(example: Example, rule: str) -> None:
    """The same days again, one question at a time, each by a rule that has not been asked before."""
    start, rule = datetime.fromisoformat(example.start), in_new_york(rule)
    expected = [datetime.fromisoformat(f"{day}T09:00") for day in printed(example.days)]
    for earlier, later in pairwise(expected):
        assert Recurrence(rule, start).next_after(earlier) == later
        assert Recurrence(rule, start).before(later) == earlier


@pytest.mark.parametrize(
    ("heading", "rule", "times"),
    [
        (
            "Every 3 hours from 9:00 AM to 5:00 PM on a specific day (erratum 3883)",
            "FREQ=HOURLY;INTERVAL=3;UNTIL=19970902T210000Z",
            "09:00 12:00 15:00",
        ),
        (
            "Every 15 minutes for 6 occurrences",
            "FREQ=MINUTELY;INTERVAL=15;COUNT=6",
            "09:00 09:15 09:30 09:45 10:00 10:15",
        ),
        ("Every hour and a half for 4 occurrences", "FREQ=MINUTELY;INTERVAL=90;COUNT=4", "09:00 10:30 12:00 13:30"),
    ],
)
def test_a_rule_comes_at_the_times_the_document_prints(heading: str, rule: str, times: str) -> None:
    """On September 2, 1997, and then never again."""
    found = occurrences(rule, datetime.fromisoformat(TUE_2_SEPTEMBER), 100)
    assert [f"{occurrence:%Y-%m-%d %H:%M}" for occurrence in found] == [f"1997-09-02 {time}" for time in times.split()]


@pytest.mark.parametrize("rule", EVERY_20_MINUTES)
def test_every_20_minutes_from_9_00_am_to_4_40_pm_every_day(rule: str) -> None:
    """Both ways the document writes it, on September 2 and 3, 1997."""
    found = occurrences(rule, datetime.fromisoformat(TUE_2_SEPTEMBER), 48)
    times = [f"{hour:02d}:{minute:02d}" for hour in range(9, 17) for minute in (0, 20, 40)]
    expected = [f"1997-09-0{day} {time}" for day in (2, 3) for time in times]
    assert [f"{occurrence:%Y-%m-%d %H:%M}" for occurrence in found] == expected

"""Week numbers as ISO 8601 has them.

Source: ISO 8601-1:2019 "Date and time - Representations for information interchange - Part 1: Basic rules", its rules
on week dates: weeks run from Monday to Sunday, week 01 holds the year's first Thursday.  The standard was not at hand;
the rule is from memory, and so are the days below, a table that stands in many public texts on ISO week dates (the
turns of the year 2004/2005 to 2009/2010).  The years with 53 weeks between 2000 and 2032 are from memory as well; each
begins on a Thursday, or is a leap year that begins on a Wednesday.
"""

from __future__ import annotations

from datetime import date

import pytest

from upkeep.errors import Unreadable
from upkeep.units.weeks import iso_week, week_days

TURNS_OF_THE_YEAR = {
    "2005-01-01": "2004-W53-6",
    "2005-01-02": "2004-W53-7",
    "2005-12-31": "2005-W52-6",
    "2006-01-01": "2005-W52-7",
    "2006-01-02": "2006-W01-1",
    "2006-12-31": "2006-W52-7",
    "2007-01-01": "2007-W01-1",
    "2007-12-30": "2007-W52-7",
    "2007-12-31": "2008-W01-1",
    "2008-01-01": "2008-W01-2",
    "2008-12-28": "2008-W52-7",
    "2008-12-29": "2009-W01-1",
    "2008-12-30": "2009-W01-2",
    "2008-12-31": "2009-W01-3",
    "2009-01-01": "2009-W01-4",
    "2009-12-31": "2009-W53-4",
    "2010-01-01": "2009-W53-5",
    "2010-01-02": "2009-W53-6",
    "2010-01-03": "2009-W53-7",
}

YEARS_OF_53_WEEKS = {2004, 2009, 2015, 2020, 2026, 2032}


@pytest.mark.parametrize(("day", "week_date"), TURNS_OF_THE_YEAR.items())
def test_a_day_at_the_turn_of_a_year_lies_in_the_week_of_the_table(day: str, week_date: str) -> None:
    week, weekday = week_date[:8], int(week_date[9:])
    assert iso_week(date.fromisoformat(day)) == week
    monday, _ = week_days(week)
    assert (date.fromisoformat(day) - monday).days + 1 == weekday


@pytest.mark.parametrize("year", range(2000, 2033))
def test_a_year_has_53_weeks_where_the_list_says_so(year: int) -> None:
    if year in YEARS_OF_53_WEEKS:
        assert iso_week(week_days(f"{year}-W53")[0]) == f"{year}-W53"
    else:
        with pytest.raises(Unreadable, match=f"{year} has weeks 01 to 52"):
            week_days(f"{year}-W53")


def test_the_last_week_of_2026_runs_into_january() -> None:
    """28 December 2026 to 3 January 2027 is one week, 2026-W53; there is no second list for it."""
    assert week_days("2026-W53") == (date(2026, 12, 28), date(2027, 1, 3))
    assert iso_week(date(2027, 1, 3)) == "2026-W53"
    assert iso_week(date(2027, 1, 4)) == "2027-W01"


@pytest.mark.parametrize("year", range(2000, 2033))
def test_week_01_holds_4_january_and_the_first_thursday(year: int) -> None:
    monday, sunday = week_days(f"{year}-W01")
    first_thursday = next(day for day in (date(year, 1, number) for number in range(1, 8)) if day.weekday() == 3)
    assert monday <= date(year, 1, 4) <= sunday
    assert monday <= first_thursday <= sunday

"""Public holidays against the law that makes them.

Berlin: § 1 (1) of its law on Sundays and holidays (Gesetz über die Sonn- und Feiertage, 28 October 1954, as amended on
30 January 2019), read at lexaris.de; the days of the church year are counted from Easter Sunday, 5 April in 2026 and
28 March in 2027 (from memory).  United States: 5 U.S.C. 6103 (a) and (b), and the table of the Office of Personnel
Management for 2026 (both from memory).
"""

from __future__ import annotations

from calendar import FRIDAY, MONDAY, SATURDAY, SUNDAY, THURSDAY
from collections.abc import Iterator
from datetime import date, timedelta

import pytest

from upkeep.plant.days_off import public_holidays

EASTER = {2026: date(2026, 4, 5), 2027: date(2027, 3, 28)}


def berlin(year: int) -> Iterator[date]:
    """The days of § 1 (1), numbers 1 to 10, in the order of the law."""
    yield date(year, 1, 1)
    yield date(year, 3, 8)
    yield EASTER[year] - timedelta(days=2)
    yield EASTER[year] + timedelta(days=1)
    yield date(year, 5, 1)
    yield EASTER[year] + timedelta(days=39)
    yield EASTER[year] + timedelta(days=50)
    yield date(year, 10, 3)
    yield date(year, 12, 25)
    yield date(year, 12, 26)


@pytest.mark.parametrize("year", [2026, 2027])
def test_berlin_has_the_holidays_of_its_law(year: int) -> None:
    """These ten and no other."""
    assert list(public_holidays("DE-BE", [year])) == [day.isoformat() for day in sorted(berlin(year))]


def test_germany_as_a_whole_has_nine_days() -> None:
    """The ten of Berlin without women's day: those that all sixteen states share."""
    shared = set(berlin(2026)) - {date(2026, 3, 8)}
    assert set(public_holidays("DE", [2026])) == {day.isoformat() for day in shared}


OPM_2026 = """2026-01-01 2026-01-19 2026-02-16 2026-05-25 2026-06-19 2026-07-03 2026-09-07 2026-10-12 2026-11-11
2026-11-26 2026-12-25"""


def test_the_united_states_observe_what_their_table_for_2026_lists() -> None:
    """Independence Day on Friday, 3 July, because the 4th is a Saturday; both days are in the list."""
    assert set(public_holidays("US", [2026])) == {*OPM_2026.split(), "2026-07-04"}


def nth(weekday: int, n: int, year: int, month: int) -> date:
    """The n-th such weekday of a month."""
    first = date(year, month, 1)
    return first + timedelta(days=(weekday - first.weekday()) % 7 + 7 * (n - 1))


def federal(year: int) -> Iterator[date]:
    """The days of 5 U.S.C. 6103 (a), in the order of the law."""
    yield date(year, 1, 1)
    yield nth(MONDAY, 3, year, 1)
    yield nth(MONDAY, 3, year, 2)
    yield nth(MONDAY, 1, year, 6) - timedelta(days=7)
    yield date(year, 6, 19)
    yield date(year, 7, 4)
    yield nth(MONDAY, 1, year, 9)
    yield nth(MONDAY, 2, year, 10)
    yield date(year, 11, 11)
    yield nth(THURSDAY, 4, year, 11)
    yield date(year, 12, 25)


def observed(day: date) -> date:
    """Off a Saturday to the Friday before it, off a Sunday to the Monday after it."""
    return day + timedelta(days={SATURDAY: -1, SUNDAY: 1}.get(day.weekday(), 0))


@pytest.mark.parametrize("year", [2025, 2026, 2029, 2030])
def test_the_united_states_have_the_holidays_of_their_law(year: int) -> None:
    """Eleven days and the days on which they are observed, in years that bring no New Year of the next one."""
    wanted = {day for named in federal(year) for day in (named, observed(named))}
    assert {date.fromisoformat(day) for day in public_holidays("US", [year])} == wanted


def test_a_new_year_on_a_saturday_is_observed_in_the_old_year() -> None:
    """1 January 2028 is a Saturday: Friday, 31 December 2027 is off."""
    assert date(2027, 12, 31).weekday() == FRIDAY
    assert "2027-12-31" in public_holidays("US", [2027, 2028])

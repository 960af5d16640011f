"""Weeks by their ISO 8601 number, there and back."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from upkeep.errors import Unreadable
from upkeep.units.weeks import iso_week, week_days


@given(st.dates(date(1, 1, 8), date(9998, 12, 31)))
def test_a_day_lies_in_the_week_its_number_names(day: date) -> None:
    monday, sunday = week_days(iso_week(day))
    assert monday <= day <= sunday
    assert (monday.weekday(), sunday - monday) == (0, timedelta(days=6))


@pytest.mark.parametrize(
    "bad", ["2025-W53", "2026-W54", "2026-W00", "2026-W1", "2026W10", "26-W10", "week 10", "0000-W01"]
)
def test_a_week_that_does_not_exist_is_refused_by_name(bad: str) -> None:
    with pytest.raises(Unreadable, match=repr(bad)):
        week_days(bad)


def test_the_refusal_of_a_week_says_which_the_year_has() -> None:
    with pytest.raises(Unreadable, match="2025 has weeks 01 to 52"):
        week_days("2025-W53")

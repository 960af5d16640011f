"""How long somebody waits after wrong codes."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.plants import at
from upkeep.keys.waits import over_at, wait_after

NOON = at("2026-03-02 12:00")


@pytest.mark.parametrize(
    ("wrong", "seconds"), [(0, 0), (4, 0), (5, 30), (6, 60), (7, 120), (8, 240), (9, 480), (10, 900), (5000, 900)]
)
def test_the_wait_grows_after_five_wrong_codes_and_stays_short_enough_to_work(wrong: int, seconds: int) -> None:
    assert wait_after(wrong) == timedelta(seconds=seconds)


def test_guessing_six_digits_for_a_year_finds_one_code_in_twentyeight() -> None:
    """365 days of 96 waits of a quarter of an hour are 35,040 tries of a million: 3.5 %, each wait in the book."""
    tries = timedelta(days=365) / wait_after(5000)
    assert tries == 35_040
    assert tries / 10**6 < 1 / 28


def test_a_wait_counts_from_the_last_wrong_code() -> None:
    tried = [NOON - timedelta(seconds=after) for after in (50, 40, 30, 20, 10)]
    assert over_at(tried, NOON) == NOON + timedelta(seconds=20)
    assert over_at(tried, NOON + timedelta(seconds=20)) is None
    assert over_at(tried[:4], NOON) is None


def test_a_clock_that_was_set_back_lengthens_no_wait() -> None:
    tried = [NOON + timedelta(days=300)] * 5
    assert over_at(tried, NOON) == NOON + timedelta(seconds=30)

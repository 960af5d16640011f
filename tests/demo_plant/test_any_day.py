"""The demo plant on any day: its history ends whenever somebody starts it."""

from __future__ import annotations

from pathlib import Path

import pytest

from demo_plant.floor import ShiftPlan
from tests.commands import Terminal
from tests.plants import at

YEAR_S_END, LEAP_DAY = "2026-12-31 22:59:50", "2028-02-29 01:30"
SUNDAY_OF_WEEK_53 = "2027-01-03 12:00"
NO_HALF_PAST_TWO, SECOND_HALF_PAST_TWO = "2026-03-29 01:30", "2026-10-25 01:30"  # in the plant's zone


@pytest.mark.parametrize("moment", [YEAR_S_END, LEAP_DAY, SUNDAY_OF_WEEK_53, NO_HALF_PAST_TWO, SECOND_HALF_PAST_TWO])
def test_the_demo_starts_and_proves_clean_on_any_day(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], moment: str
) -> None:
    """The last seconds of a year, a leap day, a weekend, the nights in which the clock changes."""
    terminal = Terminal(tmp_path / "demo.db", capsys)
    for words in (("demo", "--days", "4"), ("week", "--by", "clara"), ("figures",), ("prove",)):
        said = terminal.types(moment, *words)
        assert said.code == 0, said.err


def test_a_press_whose_count_was_misread_is_not_read_again_soon() -> None:
    """Its true count would be below the misread one, and the book would refuse it; other presses are read."""
    plan = ShiftPlan(misread={"P-08"})
    for press in ("P-08", "P-07"):
        plan.reads(press, at("2026-03-02 06:40"), "uwe")
    assert plan.readings == {"P-07": [(at("2026-03-02 06:40"), "uwe")]}

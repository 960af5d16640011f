"""The demo plant on any day: its history ends whenever somebody starts it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import demo_plant
from demo_plant import definitions
from demo_plant.build import build
from demo_plant.floor import ShiftPlan
from tests.commands import Terminal
from tests.plants import at
from upkeep.entries.origin import Proof, Proven
from upkeep.errors import Refused
from upkeep.said import said

FILES = Path(demo_plant.__file__).parent / "files"

YEAR_S_END, LEAP_DAY = "2026-12-31 22:59:50", "2028-02-29 01:30"
SUNDAY_OF_WEEK_53 = "2027-01-03 12:00"
NO_HALF_PAST_TWO, SECOND_HALF_PAST_TWO = "2026-03-29 01:30", "2026-10-25 01:30"  # in the plant's zone
ANY_DAY = (LEAP_DAY, NO_HALF_PAST_TWO, YEAR_S_END, SUNDAY_OF_WEEK_53, SECOND_HALF_PAST_TWO)
SEEDS = ((137, 5), (3, 12), (961, 8))
"""Seeds and days of demos; the first are built in the suite, all of them with ``--long``."""


def test_the_demo_starts_and_proves_clean_on_any_day(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], quick_hashes: None, long: bool
) -> None:
    """A leap day and a night in which the clock changes; with ``--long`` the last seconds of a year, a weekend and the
    other such night, too."""
    for number, moment in enumerate(ANY_DAY if long else ANY_DAY[:2]):
        terminal = Terminal(tmp_path / f"{number}.db", capsys)
        for words in (("demo", "--days", "3"), ("week", "--by", "clara"), ("figures",), ("prove",)):
            said = terminal.types(moment, *words)
            assert said.code == 0, (moment, said.err)


def test_a_press_whose_count_was_misread_is_not_read_again_soon() -> None:
    """Its true count would be below the misread one, and the book would refuse it; other presses are read."""
    plan = ShiftPlan(misread={"P-08"})
    for press in ("P-08", "P-07"):
        plan.reads(press, at("2026-03-02 06:40"), "uwe")
    assert plan.readings == {"P-07": [(at("2026-03-02 06:40"), "uwe")]}


def test_the_demo_is_built_with_every_seed(tmp_path: Path, quick_hashes: None, long: bool) -> None:
    """Its history never writes what the book refuses, whatever the seed makes happen."""
    for seed, days in SEEDS if long else SEEDS[:1]:
        with build(tmp_path / f"{seed}.db", end=at("2028-09-26 18:20"), days=days, seed=seed) as book:
            proof = book.prove()
            assert proof.clean
            assert proof.notices == ()  # nor does it look as if a clock had been set back


def test_a_demo_that_fails_leaves_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, quick_hashes: None
) -> None:
    """No half book under its name or another; the next call begins anew."""

    def refuses(*_: object, **__: object) -> None:
        raise Refused(said("No."))

    monkeypatch.setattr("demo_plant.build.write_history", refuses)
    terminal = Terminal(tmp_path / "demo.db", capsys)
    assert terminal.types(LEAP_DAY, "demo", "--days", "2").code == 1
    assert list(tmp_path.iterdir()) == []


def test_the_demos_own_files_are_loaded_into_it_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], quick_hashes: None
) -> None:
    """Also after a punch was scrapped: it stays so, and the sentence says what to write in the file."""
    with build(tmp_path / "demo.db", end=at("2026-11-30 02:00"), days=2) as book:
        punch = next(one for one in definitions() if one.key == "CP-021")
        gone = replace(punch, content={**punch.content, "scrapped": "2026-11-29"})
        yara = Proven("yara", Proof.PASSWORD)
        book.load([gone], at("2026-11-29 12:00"), "yara", at("2026-11-29 12:00"), "chipped", proven=yara)
    told = Terminal(tmp_path / "demo.db", capsys).types(
        "2026-11-30 03:00", "new", FILES, "--by", "yara", "--because", "again"
    )
    assert (told.code, told.err) == (0, "")
    assert "Scrapped in the book, and the files do not say so: CP-021." in told.out
    assert "Nothing to write: the book already says so." in told.out

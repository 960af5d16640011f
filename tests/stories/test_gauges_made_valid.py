"""What makes a gauge valid again, and who may: calibrations, block checks that were read, releases.  All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of, line_at, person, state, task, write
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.plant.catalogue import shipped_tasks
from upkeep.wording.sentences import ENGLISH, text

QUIN = person("quin", "Quin", "quality technician")
CALIBRATE = task("calibrate", "gauge", by=["quality technician"], every="1 year", stop_days=0, early_days=30)
BLOCK = task(
    "block", "gauge", rule="FREQ=DAILY", start="2026-03-02",
    points=[{"id": "off", "title": "Reading less the block", "unit": "mm", "lower": -0.002, "upper": 0.002}],
)  # fmt: skip
STATED = "2026-03-01 00:00 stated G-1/calibrate done 2025-09-01 by lea"
LINE = "G-1/calibrate"


def why_not(book: Book, moment: str) -> str:
    """Why G-1 does not count at a moment; empty: it does."""
    report = book.checks(at(moment)).gauge("G-1")
    return "" if report.in_order else text(report.note, ENGLISH)


def sign_open(book: Book, moment: str) -> None:
    """Quin signs the calibration for the occurrence that is open."""
    write(book, f"{moment} sign {LINE} for {line_at(book, LINE, moment).occurrence} by quin")


def test_a_gauge_that_was_never_calibrated_is_calibrated_at_once_by_whoever_may_sign_it(tmp_path: Path) -> None:
    """Its line is open from its first day in the book, though it falls due in a year."""
    with book_of(tmp_path, tasks=[CALIBRATE], more=[QUIN]) as book:
        assert "never done" in why_not(book, "2026-03-02 08:00")
        assert state(book, LINE, "2026-03-02 08:00") == "open"
        sign_open(book, "2026-03-02 08:00")
        assert why_not(book, "2026-03-02 08:00") == ""
        assert state(book, LINE, "2026-03-02 08:01") == "later"


def test_a_gauge_whose_calibration_was_stated_waits_for_its_window(tmp_path: Path) -> None:
    """Done a half year before the book: it opens 30 days before the year is over."""
    with book_of(tmp_path, STATED, tasks=[CALIBRATE], more=[QUIN]) as book:
        assert state(book, LINE, "2026-03-02 08:00") == "later"
        with pytest.raises(Refused, match="is not open yet"):
            sign_open(book, "2026-03-02 08:00")


def test_released_does_not_mean_valid(tmp_path: Path) -> None:
    """Whoever releases it hears what is missing."""
    out = f"{STATED}\n2026-03-02 15:00 out-of-tolerance G-1 off -0.008 by lea"
    with book_of(tmp_path, out, tasks=[CALIBRATE], more=[QUIN]) as book:
        written = write(book, '2026-03-02 16:00 release G-1 by lea because "repaired"')
        (note,) = [text(note, ENGLISH) for note in written.notes]
        assert "G-1 is released and still not valid (found on 2026-03-02 to read -0.008 off" in note
        assert why_not(book, "2026-03-02 16:00")


def test_a_tick_without_a_reading_clears_no_error(tmp_path: Path) -> None:
    """The block read out of its limits; an extra tick changes nothing, a good reading does."""
    told = f"{STATED}\n2026-03-02 06:00 sign G-1/block for 2026-03-02 off=0.004 by ben"
    with book_of(tmp_path, told, tasks=[CALIBRATE, BLOCK], more=[QUIN]) as book:
        assert "out of limits when it was last done" in why_not(book, "2026-03-02 07:00")
        write(book, "2026-03-02 07:10 sign G-1/block for extra by ben")
        assert "out of limits when it was last done" in why_not(book, "2026-03-02 07:20")
        write(book, "2026-03-02 08:00 sign G-1/block for extra off=0.001 by ben")
        assert why_not(book, "2026-03-02 08:10") == ""


def test_a_tick_without_a_reading_is_no_last_good_check(tmp_path: Path) -> None:
    """Found out later, the doubt goes back to the last block that was read."""
    told = f"""
        {STATED}
        2026-03-02 06:00 sign G-1/block for 2026-03-02 off=0.001 by ben
        2026-03-03 06:00 sign G-1/block for extra by ben
        2026-03-03 07:00 out-of-tolerance G-1 off 0.008 by lea
    """
    with book_of(tmp_path, told, tasks=[CALIBRATE, BLOCK], more=[QUIN]) as book:
        assert why_not(book, "2026-03-03 08:00").endswith("its last good check was on 2026-03-02")


def test_the_shipped_block_check_carries_its_reading() -> None:
    """A tick alone says nothing of the gauge."""
    (block,) = [definition.content for definition in shipped_tasks() if definition.key == "gauge-zero"]
    assert [point["id"] for point in block["points"]] == ["block-error"]

"""What makes a gauge valid again, and who may: calibrations, block checks that were read, releases.  All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of, line_at, person, state, task, why_of, write
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


def test_a_gauge_found_out_is_calibrated_at_once_by_whoever_may_sign_it(tmp_path: Path) -> None:
    """The window of half a year hence is not waited for; calibrated it counts, and the next year begins."""
    out = f"{STATED}\n2026-03-02 15:00 out-of-tolerance G-1 off -0.008 by lea"
    with book_of(tmp_path, out, tasks=[CALIBRATE], more=[QUIN]) as book:
        line = line_at(book, LINE, "2026-03-02 15:30")
        assert (line.state, line.occurrence.split(".")[0]) == ("due", "gauge-found-out")
        assert "since the gauge found out of 2026-03-02 15:00" in why_of(book, line)
        sign_open(book, "2026-03-03 08:00")
        assert why_not(book, "2026-03-03 08:00") == ""
        write(book, '2026-03-03 08:30 release G-1 by lea because "calibrated"')
        line = line_at(book, LINE, "2026-03-03 09:00")
        assert (line.state, line.occurrence) == ("later", "2027-03-03")


# Work signed with a gauge found out

GAP = [{"id": "gap", "title": "Gap", "unit": "mm", "upper": 1.5}]
MEASURE = task("measure", "die set", every="30 days", points=GAP)
SIGNED = "2026-03-05 06:00 sign DS-031/measure for {} with G-1 gap=1.2 by ana"
FOUND_OUT = "2026-03-06 15:00 out-of-tolerance G-1 off -0.008 by lea"


def measured(tmp_path: Path, *between: str) -> Book:
    """A set measured with G-1, which is found out a day later; ``between`` was told before that."""
    book = book_of(tmp_path, STATED, tasks=[CALIBRATE, BLOCK, MEASURE], more=[QUIN])
    write(book, SIGNED.format("extra"))
    open_now = line_at(book, "DS-031/measure", "2026-03-05 06:00").occurrence
    write(book, SIGNED.format(open_now).replace("ana", "lea"))
    for line in between:
        write(book, line)
    write(book, FOUND_OUT)
    return book


def test_work_signed_with_a_gauge_found_out_is_asked_for_again(tmp_path: Path) -> None:
    """Due at once and said why; done again it is closed, and striking the finding closes it as well."""
    with measured(tmp_path) as book:
        line = line_at(book, "DS-031/measure", "2026-03-06 16:00")
        assert (line.state, line.occurrence.split(".")[0]) == ("due", "gauge-found-out")
        write(book, f"2026-03-06 16:00 sign DS-031/measure for {line.occurrence} gap=1.2 by ana")
        assert state(book, "DS-031/measure", "2026-03-06 16:10") == "later"
        assert book.prove().clean
        number = int(line.occurrence.split(".")[1])
        write(book, f'2026-03-06 17:00 strike #{number} by lea because "read the wrong block"')
        assert line_at(book, "DS-031/measure", "2026-03-06 18:00").occurrence == "2026-04-05"
        assert book.prove().clean


@pytest.mark.parametrize(
    ("between", "expected"),
    [
        ("2026-03-06 06:00 sign G-1/block for 2026-03-02 off=0.001 by ben", "later"),
        ("2026-03-06 06:00 sign G-1/block for 2026-03-02 off=0.004 by ben", "due"),
    ],
)
def test_a_good_block_check_after_the_work_vouches_for_it(tmp_path: Path, between: str, expected: str) -> None:
    """What was measured before it stands; a block out of its limits vouches for nothing."""
    with measured(tmp_path, between) as book:
        assert state(book, "DS-031/measure", "2026-03-06 16:00") == expected
        assert book.prove().clean


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

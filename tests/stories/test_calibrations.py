"""A calibration is a record: certificate, laboratory, errors before and after, uncertainty, due.  All is invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, person, task, write
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.wording.sentences import ENGLISH, text

QUIN = person("quin", "Quin", "quality technician")
CALIBRATE = task("calibrate", "gauge", by=["quality technician"], every="1 year", stop_days=0)
CERTIFIED = (
    "2026-03-02 08:00 sign G-1/calibrate for 2027-03-01 "
    'certificate "{number}" laboratory "Measuring room" received {received} left 0.0 uncertainty {uncertainty} '
    "due {due} by quin"
)


def certified(book: Book, **says: object) -> list[str]:
    """What is told to whoever signs the calibration with a certificate."""
    told = {"number": "26-0815", "received": 0.001, "uncertainty": 0.002, "due": "2026-09-01", **says}
    return [text(note, ENGLISH) for note in write(book, CERTIFIED.format(**told)).notes]


def test_the_page_of_a_gauge_shows_its_certificate(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Number, laboratory, both errors, the uncertainty and the last day; a script reads them as values."""
    with book_of(tmp_path, tasks=[CALIBRATE], more=[QUIN]) as book:
        assert certified(book) == []
        (kept,) = book.checks(at("2026-03-02 09:00")).gauge("G-1").calibrations
        assert (kept.certificate, kept.laboratory, kept.by) == ("26-0815", "Measuring room", "Quin")
        assert (kept.received, kept.left, kept.uncertainty, str(kept.due)) == (0.001, 0.0, 0.002, "2026-09-01")
        page = " ".join(Terminal(book.path, capsys).types("2026-03-02 09:00", "gauge", "G-1").out.split())
        assert "Certificate 26-0815 of Measuring room, 2026-03-02 08:00 by Quin" in page
        assert "as received +0.001, as left 0, uncertainty 0.002, good until 2026-09-01." in page
        assert book.prove().clean


@pytest.mark.parametrize(
    ("due", "last_good", "first_bad"),
    [
        ("2026-09-01", "2026-09-01 23:59", "2026-09-02 00:00"),
        ("2031-01-01", "2027-03-02 23:59", "2027-03-03 00:00"),
    ],
)
def test_a_gauge_counts_until_interval_or_certificate_ends_whichever_comes_first(
    tmp_path: Path, due: str, last_good: str, first_bad: str
) -> None:
    """A certificate of half a year ends before the plant's year; one of five years does not lengthen it."""
    with book_of(tmp_path, tasks=[CALIBRATE], more=[QUIN]) as book:
        certified(book, due=due)
        states = [book.checks(at(moment)).gauge("G-1").in_order for moment in (last_good, first_bad)]
        assert states == [True, False]


def test_an_error_as_received_beyond_the_uncertainty_asks_for_the_finding(tmp_path: Path) -> None:
    """Whoever signs hears how what it measured is put in doubt."""
    with book_of(tmp_path, tasks=[CALIBRATE], more=[QUIN]) as book:
        (note,) = certified(book, received=-0.008)
        assert "As received G-1 read -0.008 off" in note
        assert "strokebook out-of-tolerance G-1 -0.008" in note


@pytest.mark.parametrize(
    ("says", "why"),
    [
        ({"number": " "}, "number of the certificate"),
        ({"uncertainty": 0.0}, "above 0"),
        ({"due": "2026-03-02"}, "not after the calibration"),
    ],
)
def test_a_certificate_that_is_not_whole_is_refused(tmp_path: Path, says: dict[str, object], why: str) -> None:
    """Nothing is written."""
    with book_of(tmp_path, tasks=[CALIBRATE], more=[QUIN]) as book, pytest.raises(Refused, match=why):
        certified(book, **says)


def test_a_calibration_without_a_certificate_is_taken_and_said(tmp_path: Path) -> None:
    """A plant that compares with its own standard has none; nothing else carries one."""
    oil = task("oil", "press", every="7 days")
    with book_of(tmp_path, tasks=[CALIBRATE, oil], more=[QUIN]) as book:
        bare = "2026-03-02 08:00 sign G-1/calibrate for 2027-03-01 by quin"
        assert "No certificate was entered" in text(write(book, bare).notes[0], ENGLISH)
        stray = CERTIFIED.replace("G-1/calibrate for 2027-03-01", "P-07/oil for extra").replace("quin", "ana")
        with pytest.raises(Refused, match="oil calibrates no gauge"):
            write(book, stray.format(number="1", received=0.0, uncertainty=0.001, due="2026-09-01"))


def test_the_command_signs_the_calibration_with_its_certificate(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The open occurrence is found by itself."""
    with book_of(tmp_path, tasks=[CALIBRATE], more=[QUIN]) as book:
        given = "--certificate 26-0815 --laboratory Room --received 0.001 --left 0 --uncertainty 0.002 --due 2026-09-01"
        Terminal(book.path, capsys).types("2026-03-02 08:00", "calibrate", "G-1", *given.split(), "--by", "quin")
    with Book.open(tmp_path / "plant.book") as book:
        assert book.checks(at("2026-03-02 09:00")).gauge("G-1").valid

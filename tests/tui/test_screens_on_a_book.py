"""The screens over a real book: what is signed, counted and undone at a terminal is in the file."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.clock import Clock
from tests.plants import CLEAN, at, book_of, task, write, written_lines
from tests.tui.terminal import terminal
from upkeep.book import Book, Progress
from upkeep.entries.signing import Sign

MONDAY = at("2026-03-02 07:00")
MEASURE = task(
    "measure",
    "die set",
    every="7 days",
    early_days=7,
    graded=True,
    gauge_class="crimp micrometer",
    points=[{"id": "slug", "title": "Slug height", "unit": "mm", "lower": 1.2, "upper": 1.3, "readings": 2}],
)
FITTED = """
2026-03-01 22:00 fit M-12 in P-07 by ana
2026-03-01 22:00 fit DS-031 in M-12 by ana
2026-03-02 06:00 count P-07 1204300 by ana
2026-03-02 06:55 count P-07 1205000 by ana
"""


@pytest.fixture
def path(tmp_path: Path) -> Iterator[Path]:
    """The file of a book in which M-12 ran this morning."""
    with book_of(tmp_path, FITTED, tasks=[CLEAN, MEASURE]) as book:
        found = book.path
    yield found
    with Book.open(found) as book:
        assert book.prove().clean


def newest(path: Path) -> str:
    """The text of the entry written last."""
    with Book.open(path) as book:
        return written_lines(book)[-1]


async def test_a_clean_is_in_the_book(path: Path) -> None:
    """Signed with a number, an id and Enter; a minute to undo."""
    async with terminal(lambda: Book.open(path), place="P-07", clock=Clock(MONDAY)) as here:
        await here.press("1")
        await here.type("ben", "enter")
        assert "SIGNED 07:00 Ben: done by me." in here.text
        line = "2026-03-02 07:00 sign M-12/clean for 2026-03-02/early by ben"
        assert newest(path) == f"{line} via screen proof none"
        await here.wait(30)
        await here.press("u")
        assert " strike #" in newest(path)
        assert "UNDONE" in here.text


async def test_a_count_is_in_the_book_and_a_wrong_one_is_not(path: Path) -> None:
    """The sentence is the book's own."""
    async with terminal(lambda: Book.open(path), place="P-07", by="ben", clock=Clock(MONDAY)) as here:
        await here.press("c")
        await here.type("1200000", "enter")
        assert "goes back from 1,205,000 to 1,200,000" in here.text
        await here.type("1205100", "enter")
        assert newest(path) == "2026-03-02 07:00 count P-07 1205100 by ben via screen proof none"


@pytest.mark.parametrize("place", ["P-07", None])
async def test_a_count_is_kept_against_an_earlier_one_with_one_key(path: Path, place: str | None) -> None:
    """On the round and from the board: nobody is stuck at a figure that somebody misread."""
    with Book.open(path) as book:
        earlier = book.newest_written(1)[0].entry
    async with terminal(lambda: Book.open(path), place=place, by="ben", clock=Clock(MONDAY)) as here:
        await here.press("c")
        await here.type("1204990", "enter")
        assert "goes back from 1,205,000 to 1,204,990" in here.text
        await here.press("e")
        assert "Kept as read; it does not count yet" in here.text
    assert newest(path).startswith(f"2026-03-02 07:00 count P-07 1204990 disputes #{earlier} by ben")


async def test_counts_and_faults_are_undone_too_one_after_another(path: Path) -> None:
    """The newest first, each within its minute; then the key says that there is none left."""
    async with terminal(lambda: Book.open(path), place="P-07", by="ben", clock=Clock(MONDAY)) as here:
        await here.press("c")
        await here.type("1205100", "enter")
        await here.press("f")
        await here.type("burr", "enter")
        await here.press("y", "enter")
        assert " fault " in newest(path)
        await here.press("u")
        assert "UNDONE: report on" in here.text
        await here.press("u")
        assert "UNDONE: count 1,205,100 of P-07, by Ben." in here.text
        await here.press("u")
        assert "There is nothing left to undo here." in here.text
    with Book.open(path) as book:
        assert len([line for line in book.newest_written(4) if line.struck_by]) == 2


async def test_a_count_with_a_held_set_on_the_press_is_told_as_an_alarm(path: Path) -> None:
    """Whoever types the count reads it first."""
    with Book.open(path) as book:
        write(book, '2026-03-02 06:55 hold DS-031 by lea because "chip seen"')
    async with terminal(lambda: Book.open(path), place="P-07", by="ben", clock=Clock(MONDAY)) as here:
        await here.press("c")
        await here.type("1205100", "enter")
        assert "COUNTED P-07" in here.text
        assert "ALARM: DS-031 on P-07 must not run (chip seen" in here.text


async def test_a_measured_inspection_is_in_the_book(path: Path) -> None:
    """Readings, gauge and grade as they were typed."""
    async with terminal(lambda: Book.open(path), by="tom", clock=Clock(MONDAY)) as here:
        await here.press("t", "slash")
        await here.type("measure", "enter", "s")
        for keys in ("1,25", "1.26"):
            await here.type(keys, "enter")
        await here.press("1", "ctrl+s")  # the valid gauge stands chosen above the values
        assert "SIGNED" in here.text
        assert "grade 1 with G-1 slug=1.25,1.26 by tom" in newest(path)


async def test_another_process_writes_and_the_board_follows(path: Path) -> None:
    """Through the file alone."""
    async with terminal(lambda: Book.open(path), clock=Clock(MONDAY)) as here:
        assert here.row_with("Task clean")
        with Book.open(path) as other:
            (line,) = (row for row in other.board(MONDAY).rows if row.line == "M-12/clean")
            sign = Sign(at=MONDAY, by="ben", task="clean", item="M-12", occurrence=line.occurrence)
            other.write([sign], MONDAY)
        await here.wait(1)
        assert not here.row_with("M-12     Task clean")


async def test_a_wait_for_tables_made_again_is_said_and_taken_back(path: Path) -> None:
    """Heard in the book's thread; the keys go on meanwhile."""
    async with terminal(lambda: Book.open(path), clock=Clock(MONDAY)) as here:
        here.app.hear(Progress("waiting", 0, 1))
        await here.settle()
        assert "Another program is rebuilding the tables of the book" in here.text
        here.app.hear(Progress("waiting", 1, 1))
        await here.settle()
        assert "Another program" not in here.text


async def test_a_held_set_is_one_row_of_the_board_until_its_lines_are_asked_for(path: Path) -> None:
    """Enter shows them; so does signing, since it has to be said which; x goes back."""
    with Book.open(path) as book:
        book.load([task("grease", "die set", every="7 days")], MONDAY, "lea", MONDAY, "new")
        write(book, '2026-03-02 06:58 hold DS-031 by ben because "burr"')
    async with terminal(lambda: Book.open(path), clock=Clock(MONDAY)) as here:
        assert "2 lines (Enter)" in here.text
        assert "2 lines of DS-031 wait for its release. Held until released: burr." in here.text
        assert "1-1 of 1 to do" not in here.text
        await here.press("enter")
        assert "1-2 of 2 held, DS-031" in here.text
        await here.press("x", "s")
        assert "Select the line to sign." in here.text
        assert "1-2 of 2 held, DS-031" in here.text
        await here.press("x")
        assert "2 lines (Enter)" in here.text


CALIBRATE = task("calibrate", "gauge", every="1 year", early_days=400)


async def test_a_calibration_is_signed_with_its_certificate(tmp_path: Path) -> None:
    """A field left empty is asked for, a comma is a decimal comma; the record of the gauge has it all."""
    with book_of(tmp_path, tasks=[CALIBRATE]) as book:
        path = book.path
    async with terminal(lambda: Book.open(path), clock=Clock(MONDAY)) as here:
        await here.press("s")
        await here.type("tom", "enter")
        assert "Its certificate; all empty where none came with it" in here.text
        await here.type("26-0815", "enter")
        await here.type("Measuring room", "enter")
        await here.type("-0,001", "enter")
        await here.type("0", "enter")
        await here.type("0.002", "enter", "enter", "enter", "enter", "enter")
        assert "Good until, like 2027-03-01: type it from the certificate, or leave all of it empty." in here.text
        await here.type("2027-03-01", "enter", "enter", "enter", "enter")
        assert "SIGNED Mon 2026-03-02 07:00 Tom: done by me." in here.text
    with Book.open(path) as book:
        (kept,) = book.checks(MONDAY).gauge("G-1").calibrations
        assert (kept.certificate, kept.laboratory, kept.by, str(kept.due)) == (
            "26-0815", "Measuring room", "Tom", "2027-03-01",
        )  # fmt: skip
        assert (kept.received, kept.left, kept.uncertainty) == (-0.001, 0.0, 0.002)


async def test_a_calibration_without_a_certificate_is_signed_and_says_what_stays_unknown(tmp_path: Path) -> None:
    """Nothing typed asks for nothing."""
    with book_of(tmp_path, tasks=[CALIBRATE]) as book:
        path = book.path
    async with terminal(lambda: Book.open(path), clock=Clock(MONDAY)) as here:
        await here.press("s")
        await here.type("tom", *["enter"] * 10)
        assert "No certificate was entered: its number, laboratory, errors and uncertainty stay unknown." in here.text

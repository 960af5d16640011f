"""Entry lines typed in from paper, and lines of an exported book played again.  All figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import Said, Terminal
from tests.plants import at, book_of, item, task
from upkeep.book import Book
from upkeep.due.compliance import Verdict
from upkeep.entries.origin import Proof, WayIn

GREASE = task("grease", "press", rule="FREQ=WEEKLY;BYDAY=FR", late_days=1)
ONLY = [item(key, kind="press", digits=7, max_rate=4000, scrapped="2026-02-27") for key in ("P-03", "P-08")]
PAPER = "2026-03-06 15:00 sign P-07/grease for 2026-03-06 by tom"
MONDAY, TUESDAY = "2026-03-09 07:00", "2026-03-10 07:00"


def enters(book: Book, moment: str, text: str, capsys: pytest.CaptureFixture[str]) -> Said:
    """What the command says to a file of lines."""
    lines = book.path.with_suffix(".txt")
    lines.write_text(text, encoding="utf-8")
    return Terminal(book.path, capsys).types(moment, "enter", lines)


def test_a_line_typed_in_on_monday_is_recorded_on_monday(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Done on Friday, written on Monday: both moments stand in the book, and the work was on time."""
    book = book_of(tmp_path, tasks=[GREASE], more=ONLY)
    assert enters(book, MONDAY, PAPER, capsys).code == 0
    told = book.history("P-07")[0]
    assert (told.at, told.recorded_at) == (at("2026-03-06 15:00"), at(MONDAY))
    assert book.figures(at(MONDAY)).counts[Verdict.ON_TIME] == 1


def test_a_line_typed_in_after_three_days_is_the_leads(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """On Tuesday Friday is more than 72 hours ago, whatever the line leaves out."""
    book = book_of(tmp_path, tasks=[GREASE], more=ONLY)
    refused = enters(book, TUESDAY, PAPER, capsys)
    assert (refused.code, "more than 72 hours ago" in refused.err) == (1, True)
    assert enters(book, TUESDAY, PAPER.replace("tom", "lea"), capsys).code == 0


@pytest.mark.parametrize(
    ("claim", "why"),
    [
        ("recorded 2026-03-06 15:05", "line 1: when an entry was written (recorded) is for the book to say"),
        ("via page proof code", "line 1: no line can prove a name (proof code)"),
        ("via screen proof password", "line 1: no line can prove a name (proof password)"),
        ("via service proof token", "line 1: no line can prove a name (proof token)"),
        ("via sheet proof paper", "line 1: no line can prove a name (proof paper)"),
    ],
)
def test_a_line_says_neither_when_it_was_written_nor_that_its_name_was_proven(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], claim: str, why: str
) -> None:
    """That is for the book; only restoring takes it from a line."""
    book = book_of(tmp_path, tasks=[GREASE], more=ONLY)
    said = enters(book, MONDAY, f"{PAPER} {claim}", capsys)
    assert (said.code, why in " ".join(said.err.split())) == (1, True)
    assert book.history("P-07")[0].kind == "define"


def test_a_line_came_in_by_a_file_whatever_it_says(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It may name the station at which it was written down."""
    book = book_of(tmp_path, tasks=[GREASE], more=ONLY)
    assert enters(book, MONDAY, f'{PAPER} via screen station "Hall" proof none', capsys).code == 0
    told = book.history("P-07")[0]
    assert (told.way_in, told.station, told.proof) == (WayIn.FILE, "Hall", Proof.NONE)


def test_an_exported_book_entered_into_an_empty_one_is_the_same_book(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every moment of writing included, up to the last link of the chain."""
    book = book_of(tmp_path, PAPER, tasks=[GREASE], more=ONLY)
    with Book.create(tmp_path / "again.book") as again:
        assert enters(again, TUESDAY, "\n".join(book.export()), capsys).code == 0
        assert list(again.export()) == list(book.export())
        assert again.prove().hash == book.prove().hash


def test_a_book_just_restored_takes_the_lines_it_lacks_as_they_say(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What was written on Friday after the backup, was; what is typed in after that is typed in now."""
    book = book_of(tmp_path, tasks=[GREASE], more=ONLY)
    backup, again = tmp_path / "backup.db", tmp_path / "again.book"
    assert Terminal(book.path, capsys).types("2026-03-06 12:00", "backup", backup).code == 0
    assert Terminal(again, capsys).types("2026-03-06 16:00", "restore", backup, "--by", "lea").code == 0
    with Book.open(again) as restored:
        assert enters(restored, "2026-03-06 16:30", PAPER, capsys).code == 0
        assert restored.history("P-07")[0].recorded_at == at("2026-03-06 15:00")
        count = "2026-03-06 15:30 count P-07 10000 by ana"
        assert enters(restored, "2026-03-06 16:40", count, capsys).code == 0
        assert restored.history("P-07")[0].recorded_at == at("2026-03-06 16:40")

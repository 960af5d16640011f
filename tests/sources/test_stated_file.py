"""A file of when work was last done before the book began: all of it goes in, once, or nothing does."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import Said, Terminal
from tests.plants import book_of, line_at, task
from upkeep.book import Book
from upkeep.papers.week.week_facts import last_done_said

TASKS = [task("lube", "module", every="1 month"), task("guard", "press", every="7 days")]
MOMENT = "2026-03-02 08:00:00"


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """A book that began on 2026-03-01 and knows nothing of the time before."""
    return book_of(tmp_path, tasks=TASKS)


class Loader:
    """The lead, who loads files of a text."""

    def __init__(self, book: Book, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.book, self._file = book, folder / "history.csv"
        self._terminal = Terminal(book.path, capsys)

    def loads(self, text: str, *words: str, by: str = "lea") -> Said:
        """Loads a file with this text."""
        self._file.write_text(text, encoding="utf-8")
        return self._terminal.types(MOMENT, "stated", self._file, "--by", by, *words)

    def due(self, line: str) -> str:
        """The day on which a line is due."""
        return str(line_at(self.book, line, "2026-03-02 09:00").due_day)


@pytest.fixture
def lead(book: Book, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Loader:
    """The lead at a terminal."""
    return Loader(book, tmp_path, capsys)


def test_iso_dates_are_read_without_a_word(lead: Loader) -> None:
    """2026-02-10 is one day only, everywhere."""
    said = lead.loads("item,task,done\nM-12,lube,2026-02-10\nP-07,guard,2026-02-27\n")
    assert said.code == 0, said.err
    assert "history.csv: lines entered: 2; already known: 0." in said.out
    assert (lead.due("M-12/lube"), lead.due("P-07/guard")) == ("2026-03-10", "2026-03-06")


def test_the_same_file_twice_changes_nothing(lead: Loader) -> None:
    """The second time the book says all of it already."""
    text = "item;task;done\nM-12;lube;2026-02-10\nM-12;lube;2026-02-10\n"
    assert "lines entered: 1; already known: 1" in lead.loads(text).out
    last = lead.book.newest_written(1)[0].entry
    again = lead.loads(text)
    assert (again.code, again.out) == (0, "history.csv: lines entered: 0; already known: 2.\n")
    assert lead.book.newest_written(1)[0].entry == last


def test_a_mended_file_replaces_what_was_stated(lead: Loader) -> None:
    """The last statement holds; loading the old file again makes it the last one again."""
    lead.loads("item,task,done\nM-12,lube,2026-02-10\n")
    lead.loads("item,task,done\nM-12,lube,2026-02-11\n")
    assert lead.due("M-12/lube") == "2026-03-11"
    lead.loads("item,task,done\nM-12,lube,2026-02-10\n")
    assert lead.due("M-12/lube") == "2026-03-10"
    assert lead.book.prove().differences == ()


BOTH_WAYS = "item,task,done\nM-12,lube,02/01/2026\nM-44,lube,28/02/2026\nP-07,guard,11/02/2026\n"


def test_dates_that_can_be_read_both_ways_are_asked_about_once(lead: Loader) -> None:
    """11/02/2026 is a day in February here and in November there: nothing is guessed, nothing is written."""
    said = lead.loads(BOTH_WAYS)
    assert (said.code, said.out) == (1, "")
    assert said.err == (
        "What format are the dates in? Say it once for the whole file: --dates dmy (day, month, year) or --dates mdy "
        "(month, day, year).\n"
        "line 2: 02/01/2026 is 2026-01-02 (dmy) or 2026-02-01 (mdy)\n"
        "line 4: 11/02/2026 is 2026-02-11 (dmy) or 2026-11-02 (mdy)\n"
        "line 3: 28/02/2026 can only be dmy\n"
        "Nothing was written.\n"
    )
    assert lead.book.stated() == {}


def test_the_format_is_said_once_for_the_whole_file(lead: Loader) -> None:
    """Day first: the second of January, the 28th and the 11th of February."""
    assert lead.loads(BOTH_WAYS, "--dates", "dmy").code == 0
    assert lead.book.stated() == {
        ("M-12", "lube"): "2026-01-02",
        ("M-44", "lube"): "2026-02-28",
        ("P-07", "guard"): "2026-02-11",
    }


def test_a_line_that_is_not_of_the_format_said_is_refused(lead: Loader) -> None:
    """Month first, 28/02/2026 is no date; not even a line that would be right goes in."""
    said = lead.loads(BOTH_WAYS, "--dates", "mdy")
    assert said.err == "line 3: '28/02/2026' is not a date in the form month, day, year.\nNothing was written.\n"
    assert lead.book.stated() == {}


@pytest.mark.parametrize("text", ["26-02-10", "03/04/26", "10 February", "2026-02-30", "", "46063"])
def test_what_is_no_date_is_never_made_one(lead: Loader, text: str) -> None:
    """Years of two figures, words, days off the calendar, empty cells, day numbers of a spreadsheet."""
    said = lead.loads(f"item,task,done\nM-12,lube,{text}\n")
    assert said.code == 1
    assert f"line 2: {text!r} is not a date in the form 2026-03-04." in said.err


def test_one_odd_date_among_iso_dates_is_asked_about(lead: Loader) -> None:
    """It may be a slip or another format: whoever wrote it knows."""
    said = lead.loads("item,task,done\nM-12,lube,2026-02-10\nM-44,lube,14.02.2026\n")
    assert "--dates dmy (day, month, year)." in said.err
    assert "line 3: 14.02.2026 can only be dmy" in said.err


def test_every_wrong_line_is_told_and_nothing_is_written(lead: Loader) -> None:
    """Unknown ids with what they may be, work of the book's own time, and two days for one line."""
    said = lead.loads(
        "item,task,done\nM-13,lube,2026-02-10\nM-12,lubes,2026-02-10\nM-12,guard,2026-02-10\n"
        "P-07,guard,2026-03-02\nM-44,lube,2026-02-10\nM-44,lube,2026-02-11\n"
    )
    assert said.code == 1
    for sentence in (
        "line 2: There is no item 'M-13' in this book. Did you mean M-12",
        "line 3: There is no task 'lubes' in this book. Did you mean lube?",
        "line 4: guard is done on a press; M-12 is a module.",
        "line 5: 2026-03-02 is not before this book: P-07 has been in it since 2026-03-01.",
        "line 7: M-44/lube was already stated on line 6, done 2026-02-10.",
    ):
        assert sentence in said.err
    assert lead.book.stated() == {}


def test_a_reason_that_holds_for_every_line_is_told_once(lead: Loader) -> None:
    """Who may not state history learns it in one sentence."""
    said = lead.loads("item,task,done\nM-12,lube,2026-02-10\nM-44,lube,2026-02-10\n", by="ben")
    assert said.err.startswith(
        "lines 2, 3: Ben (operator) may not defer or cancel work, or state work done before the book began"
    )


def test_a_file_without_its_columns_says_which_are_missing(lead: Loader) -> None:
    """The first line names them."""
    said = lead.loads("item,what,when\nM-12,lube,2026-02-10\n")
    assert "missing: task, done" in said.err


def test_the_printed_week_says_that_a_line_was_only_stated(lead: Loader) -> None:
    """Last done: stated, with the day; not a bare day that looks signed, and not never."""
    lead.loads("item,task,done\nM-12,lube,2026-02-02\n")
    zone = lead.book.zone
    row = next(row for row in lead.book.week(zone.read("2026-03-02 09:00")).rows if row.line == "M-12/lube")
    assert str(last_done_said(row, zone)) == "stated 2026-02-02"

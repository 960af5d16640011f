"""A signature keeps the name its person had, an id is never given to somebody else, what is gone stays as it was."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import CLEAN, at, book_of, item, line_at, person, task, why_of, write
from upkeep.book import Book
from upkeep.errors import Refused

RENAMED = "2026-03-02 12:00"
LATER = "2026-03-02 13:00"
BEFORE = """
    2026-03-02 06:00 count P-07 1000 by ben
    2026-03-02 06:01 fit M-12 in P-07 at P-07 1000 by ben
    2026-03-02 09:00 count P-07 3000 by ben
    2026-03-02 09:05 sign M-12/clean for 2026-03-02/early by ben
    2026-03-02 09:10 fault P-07 "rattles" by ben
    2026-03-02 09:20 hold M-12 by ben because "burr"
    2026-03-02 10:00 count P-07 4000 by ben
"""
BEN_NEWMAN = person("ben", "Ben Newman", "operator", formerly="Ben")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """Ben worked until noon, then took another name, and went on."""
    with book_of(tmp_path, BEFORE, tasks=[CLEAN]) as opened:
        opened.load([BEN_NEWMAN], at(RENAMED), "lea", at(RENAMED), "married")
        write(opened, "2026-03-02 12:30 count P-07 5000 by ben")
        yield opened


def test_a_signature_keeps_the_name_its_person_had_everywhere_it_is_shown(book: Book) -> None:
    """History, board, hold list, fault: before the new name the old one, after it the new one."""
    history = {line.entry: line.by_name for line in book.history(None)}
    names = [history[number] for number in sorted(history)]
    assert names[-1] == "Ben Newman"
    assert "Ben" in names
    assert [line.by_name for line in book.detail("M-12/clean", at(LATER)).history] == ["Ben"]
    assert "last done 2026-03-02 09:05 by Ben (#" in why_of(book, line_at(book, "M-12/clean", LATER))
    (number,) = [line.entry for line in book.history("P-07") if line.kind == "fault"]
    assert book.faults(at(LATER)).case(number).by == "Ben"
    (suspect,) = book.suspects(at(LATER)).lists("M-12")
    assert suspect.found_by == "Ben"
    assert suspect.lines[0].people == ("Ben", "Ben Newman")


def test_people_who_read_the_file_itself_see_the_name_of_then_too(book: Book) -> None:
    """Whoever opens the book with a tool of their own reads the view of its history."""
    with sqlite3.connect(book.path) as file:
        rows = file.execute(
            "SELECT signed_by FROM history_in_words WHERE words LIKE 'count%' ORDER BY entry"
        ).fetchall()
    assert [name for (name,) in rows] == ["Ben", "Ben", "Ben", "Ben Newman"]


def test_the_page_of_a_gauge_names_people_as_they_were_called(tmp_path: Path) -> None:
    """Who measured with it."""
    height = {"id": "height", "title": "Height", "unit": "mm", "lower": 1, "upper": 2, "readings": 1}
    measure = task("measure", "module", every="1 day", gauge_class="crimp micrometer", points=[height])
    text = "2026-03-02 06:00 sign M-12/measure for extra with G-1 height=1.5 by ben"
    with book_of(tmp_path, text, tasks=[measure]) as book:
        book.load([BEN_NEWMAN], at(RENAMED), "lea", at(RENAMED), "married")
        assert [user.name for user in book.checks(at(LATER)).gauge("G-1").users] == ["Ben"]


def test_an_id_is_never_given_to_somebody_else(tmp_path: Path) -> None:
    """A new name says whose it was before, or it is another person's."""
    with book_of(tmp_path) as book:
        with pytest.raises(Refused, match="ben is Ben in this book, and an id is never given to somebody else"):
            book.load([person("ben", "Otto", "quality technician")], at(LATER), "lea", at(LATER), "new man")
        with pytest.raises(Refused, match="never given"):
            book.load([person("ben", "Otto", "operator", formerly="Tom")], at(LATER), "lea", at(LATER), "new man")
        book.load([BEN_NEWMAN], at(LATER), "lea", at(LATER), "married")
        again = person("ben", "Ben Oldman", "operator", formerly="Ben Newman")
        book.load([again], at(LATER), "lea", at(LATER), "married again")
        assert book.known.people["ben"].name == "Ben Oldman"


def test_an_item_that_is_gone_stays_as_it_was(tmp_path: Path) -> None:
    """Scrapped in the files or retired by an entry: no title, place or family any more; the files may follow."""
    text = "2026-03-02 06:00 retire CP-a worn by tom"
    with book_of(tmp_path, text, more=[item("DS-102", scrapped="2026-03-01")]) as book:
        other = item("DS-102", scrapped="2026-03-01", title="Another set")
        with pytest.raises(Refused, match="DS-102 was scrapped on 2026-03-01; an id is never used again"):
            book.load([other], at(LATER), "lea", at(LATER), "new")
        with pytest.raises(Refused, match=r"CP-a is gone for good \(worn.*it cannot be changed"):
            book.load([item("CP-a", title="Another punch")], at(LATER), "lea", at(LATER), "new")
        book.load([item("CP-a", scrapped="2026-03-02")], at(LATER), "lea", at(LATER), "as it is")


def test_formerly_is_a_column_of_the_people(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In the file a plant writes, and in a line of text."""
    with book_of(tmp_path):
        pass
    line = '2026-03-02 12:00 define person ben {"id":"ben","name":"Ben N","roles":["operator"],"formerly":"Ben"} by lea'
    (tmp_path / "lines.txt").write_text(f'{line} because "married"\n')
    said = Terminal(tmp_path / "plant.book", capsys).types(LATER, "enter", tmp_path / "lines.txt")
    assert said.code == 0, said.err

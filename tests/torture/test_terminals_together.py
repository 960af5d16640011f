"""Several processes at one book: who signs first, who waits, and that nothing anybody wrote is lost."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

import upkeep.store.disk.connecting
from tests.plants import at, book_of, item, task, written_lines
from tests.torture.terminals import Terminal, terminals
from upkeep.book import Book
from upkeep.entries.faults import Fault
from upkeep.errors import BookUnavailable

pytestmark = pytest.mark.torture

ROUNDS = 60
LOOK = task("look", "module", every="7 days", early_days=1, late_days=1)
LINES = [f"W-{number:03d}" for number in range(ROUNDS)]
DAY = at("2026-03-08 06:00")


@pytest.fixture
def plant_book(tmp_path: Path) -> Path:
    """The file of a book in which every module is looked at once a week."""
    presses = [item(f"P-1{n}", kind="press", digits=7, max_rate=4000, place="hall") for n in range(4)]
    with book_of(tmp_path, tasks=[LOOK], more=[*presses, *(item(key, kind="module") for key in LINES)]) as book:
        return book.path


def test_of_two_terminals_that_sign_one_line_at_once_exactly_one_wins(plant_book: Path) -> None:
    """The other is told who signed and when; round after round, whichever is called first."""
    ana = Terminal("sign_when_told", plant_book, "ana", "2026-03-08T06:00:00Z")
    ben = Terminal("sign_when_told", plant_book, "ben", "2026-03-08T06:01:00Z")
    signed_as = {"Ana": "2026-03-08 06:00", "Ben": "2026-03-08 06:01"}
    with terminals(ana, ben):
        assert ana.hear() == ben.hear() == {"ready": True}
        for key in LINES:
            told = (time.monotonic() + 0.003, f"{key}/look", "2026-03-08")
            ana.tell(*told)
            ben.tell(*told)
            heard = {"Ana": ana.hear(), "Ben": ben.hear()}
            (winner,) = [name for name, said in heard.items() if "entry" in said]
            (loser,) = [said for said in heard.values() if "entry" not in said]
            assert (loser["name"], loser["when"]) == (winner, signed_as[winner])
            assert winner in loser["sentence"]
            assert signed_as[winner] in loser["sentence"]
        assert ana.rest() == ben.rest() == []
    with Book.open(plant_book) as book:
        assert sum(" sign " in line for line in book.export()) == ROUNDS
        assert book.prove().clean


def test_what_four_terminals_write_at_once_is_all_there(plant_book: Path) -> None:
    """A thousand entries, each in its own transaction: every confirmed number is unique and carries that entry."""
    people = ("ana", "ben", "tom", "lea")
    started = [Terminal("write_many", plant_book, by, f"P-1{n}", 250) for n, by in enumerate(people)]
    with terminals(*started):
        said = {by: one.rest() for by, one in zip(people, started, strict=True)}
    numbers = [fact["entry"] for facts in said.values() for fact in facts]
    assert len(numbers) == len(set(numbers)) == 1000
    with Book.open(plant_book) as book:
        written = written_lines(book)
        for by, facts in said.items():
            for fact in facts:
                line, n = written[fact["entry"]], fact["n"]
                assert f" by {by}" in line
                assert (f" {1000 + 20 * n} " if n % 3 == 0 else f'"{by} {n}"') in line
        assert book.prove().clean


def test_a_reader_never_fails_while_others_write(plant_book: Path) -> None:
    """The board, the history and the opening of the book itself, over and over, and each answer is a whole one."""
    started = Terminal("keep_signing", plant_book, "ana"), Terminal("write_many", plant_book, "ben", "P-11", 9000)
    with terminals(*started) as (one, other):
        one.hear()
        other.hear()
        versions = set()
        with Book.open(plant_book) as book:
            lines = book.board(DAY).total
            for _ in range(40):
                versions.add(book.version())
                board = book.board(DAY.replace(year=2030), limit=20)
                assert sum(board.by_state.values()) == board.total == lines
                assert len(book.history(limit=20)) == 20
                with Book.open(plant_book) as again:
                    assert again.people() == book.people()
        assert len(versions) > 1, "nobody wrote meanwhile, so nothing was shown"


def test_a_second_writer_waits_until_the_first_lets_go(plant_book: Path) -> None:
    """Seconds long; then its entry is written."""
    with terminals(Terminal("hold_the_pen", plant_book, 2)) as (holder,), Book.open(plant_book) as book:
        assert holder.hear() == {"holding": True}
        written = book.write([_fault("waited")], DAY)
        assert time.monotonic() >= holder.hear()["letting_go_at"]
        assert "waited" in written_lines(book)[written.entries[0]]


def test_a_writer_who_has_waited_long_enough_is_told_so(plant_book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was changed then, reading went on all the while, and the next try succeeds."""
    monkeypatch.setattr(upkeep.store.disk.connecting, "BUSY_SECONDS", 0.2)
    with terminals(Terminal("hold_the_pen", plant_book, 60)) as (holder,), Book.open(plant_book) as book:
        assert holder.hear() == {"holding": True}
        before = written_lines(book)
        with pytest.raises(BookUnavailable, match=r"has been busy .* somebody else is writing"):
            book.write([_fault("in vain")], DAY)
        assert written_lines(book) == before
        holder.kill()
        book.write([_fault("in time")], DAY)
        assert written_lines(book)[:-1] == before


def _fault(symptom: str) -> Fault:
    return Fault(at=DAY, by="ana", item="M-12", symptom=symptom)


def test_a_view_of_the_past_knows_what_somebody_else_has_told_since(plant_book: Path) -> None:
    """A fault told late by another terminal belongs to the past that a screen has on show."""
    yesterday, told = DAY.replace(day=7), DAY.replace(day=6)
    with Book.open(plant_book) as screen, Book.open(plant_book) as other:
        other.write([_fault("today")], DAY)
        assert screen.line("M-12/look", yesterday).state == "open"
        hold = Fault(at=told, by="ana", item="M-12", symptom="a crack", stopped=True)
        other.write([hold], DAY)
        assert screen.line("M-12/look", yesterday).state == "held"

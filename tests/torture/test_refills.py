"""Old and new programs at one book, and tables made again that are cut short: each is a process of its own."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

import upkeep.store.disk.connecting
from tests.plants import at, book_of, task
from tests.torture.terminals import Terminal, terminals
from upkeep.book import Book, Progress
from upkeep.entries.faults import Fault
from upkeep.errors import BookDamaged, KeptByNewer
from upkeep.store import schema
from upkeep.store.entries import EntryStore

pytestmark = pytest.mark.torture

DAY = at("2026-03-08 06:00")
OLD, NEW = schema.TABLES, schema.TABLES + 1
NEWER = "This book is kept by a newer program: start this one again"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """The file of a small book that an old program, this one, has made."""
    with book_of(tmp_path, "2026-03-02 06:00 count P-07 1000 by ana", tasks=[task("look", "module")]) as book:
        return book.path


def _fault(symptom: str) -> Fault:
    return Fault(at=DAY, by="ana", item="M-12", symptom=symptom)


def in_the_middle(maker: Terminal) -> None:
    """Lets a program that makes the tables again come as far as the rows."""
    while maker.hear()["stage"] != "filling":
        pass


def test_an_old_program_writes_nothing_into_a_book_that_a_newer_one_keeps(path: Path) -> None:
    """It had the book open when the new one came; it neither writes nor reads on, and says what to do."""
    with Book.open(path) as old:
        old.board(DAY)
        before = list(EntryStore(old._file).all())
        with terminals(Terminal("make_again", path, NEW)) as (new,):
            new.tell("go on")
            new.rest()
        with pytest.raises(KeptByNewer, match=f"{NEWER}.*{path.name}"):
            old.write([_fault("too late")], DAY)
        for ask in (lambda: old.board(DAY), old.version, old.prove, lambda: old.life("P-07", DAY)):
            with pytest.raises(KeptByNewer, match=NEWER):
                ask()
        assert list(EntryStore(old._file).all()) == before
    with pytest.raises(BookDamaged, match=rf"newer Strokebook \(tables {NEW}, this one knows {OLD}\)"):
        Book.open(path)


def test_a_killed_refill_leaves_the_book_as_it_was(path: Path) -> None:
    """The old program writes on at once, and the new one makes the tables again when it next comes."""
    with Book.open(path) as old:
        board, proof = old.board(DAY), old.prove()
        with terminals(Terminal("make_again", path, NEW)) as (new,):
            in_the_middle(new)
            assert old.board(DAY) == board
            new.kill()
        waited: list[Progress] = []
        old._file.watch = waited.append
        assert (old.board(DAY), old.prove()) == (board, proof)
        old.write([_fault("goes on")], DAY)
        assert waited == []
    with Book.open(path) as again:
        assert again.prove().clean
    with terminals(Terminal("make_again", path, NEW)) as (new,):
        new.tell("go on")
        assert new.rest()[-1]["made"] == str(NEW)


def test_a_writer_waits_for_a_refill_as_long_as_it_takes_and_says_so(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Longer than for any other writer; here the tables are made again under the same number, by hand."""
    monkeypatch.setattr(upkeep.store.disk.connecting, "BUSY_SECONDS", 0.1)
    with terminals(Terminal("make_again", path, OLD)) as (maker,), Book.open(path) as book:
        in_the_middle(maker)
        heard: list[Progress] = []

        def hear(progress: Progress) -> None:
            heard.append(progress)
            if len(heard) == 2:
                maker.tell("go on")

        book._file.watch = hear
        written = book.write([_fault("waited")], DAY)
        assert time.monotonic() >= maker.rest()[-1]["at"]
        assert heard == [Progress("waiting", 0, 1)] * (len(heard) - 1) + [Progress("waiting", 1, 1)]
        assert "waited" in list(book.export())[written.entries[0]]
        assert book.prove().clean


def test_an_old_writer_who_has_waited_for_a_newer_refill_writes_nothing(path: Path) -> None:
    """It finds the new number the moment it may write."""
    with terminals(Terminal("make_again", path, NEW)) as (new,), Book.open(path) as old:
        last = EntryStore(old._file).last()
        in_the_middle(new)
        old._file.watch = lambda progress: new.tell("go on") if progress.done == 0 else None
        with pytest.raises(KeptByNewer, match=NEWER):
            old.write([_fault("too late")], DAY)
        assert EntryStore(old._file).last() == last


def test_of_two_new_programs_one_makes_the_tables_and_the_other_waits(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And finds them made."""
    with terminals(Terminal("make_again", path, NEW)) as (first,):
        in_the_middle(first)
        monkeypatch.setattr(schema, "TABLES", NEW)
        heard: list[Progress] = []

        def hear(progress: Progress) -> None:
            if not heard:
                first.tell("go on")
            heard.append(progress)

        with Book.open(path, hear) as second:
            assert second.tables_made_again
            assert second.prove().clean
        assert {one.stage for one in heard} == {"waiting"}

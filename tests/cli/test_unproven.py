"""A book that did not prove clean is told wherever it is opened, and takes entries only from whoever was told."""

from __future__ import annotations

import logging
import os
import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import CLEAN, at, book_of, write
from upkeep.book import Book
from upkeep.errors import BookDamaged, NotProven
from upkeep.service.backups import Backups
from upkeep.service.drops import DropFolder
from upkeep.service.serve import Service
from upkeep.store.disk.place import open_to_all

NOW = "2026-03-03 08:00"
TOLD = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 14:00 count P-07 1209410 by ana
"""
LATER = "2026-03-02 15:00 count P-07 1209500 by ana"
FOUND = "The tally says"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A closed book whose tally is wrong."""
    with book_of(tmp_path, TOLD, tasks=[CLEAN]) as book:
        path = book.path
    damage(path, "+ 3")
    return path


def damage(path: Path, by: str) -> None:
    """Makes the tally wrong, or right again."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(f"UPDATE tallies SET lines = lines {by} WHERE standing = 'active'")
        connection.commit()


def test_a_proof_that_is_not_clean_is_told_with_every_answer_from_then_on(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """On stderr, so that what reads the answer reads on; until a proof is clean."""
    terminal = Terminal(path, capsys)
    assert "WARNING" not in terminal.types(NOW, "board").err
    assert terminal.types(NOW, "prove").code == 1
    for words in (["board"], ["board", "--json"], ["why", "M-12/clean"], ["history"]):
        said = terminal.types(NOW, *words)
        assert said.code == 0
        assert "WARNING: This book did not prove clean on" in said.err
        assert FOUND in said.err
        assert "go by the last printed list" in said.err
    damage(path, "- 3")
    assert terminal.types(NOW, "prove").code == 0
    assert terminal.types(NOW, "board").err == ""


def test_where_only_computed_tables_are_wrong_a_refill_is_advised_and_mends_them(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """And no backup, by which what was written since would be lost."""
    terminal = Terminal(path, capsys)
    found = terminal.types(NOW, "prove")
    assert (found.code, "strokebook refill" in found.err, "backup" in found.err) == (1, True, False)
    assert terminal.types(NOW, "refill").code == 0
    assert terminal.types(NOW, "prove").code == 0
    assert terminal.types(NOW, "board").err == ""


def test_where_an_entry_is_wrong_the_last_backup_is_advised(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A refill would make tables of what nobody wrote."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("DROP TRIGGER entries_never_change")
        connection.execute("UPDATE entries SET item = 'M-44' WHERE id = (SELECT max(id) FROM entries)")
        connection.commit()
    found = Terminal(path, capsys).types(NOW, "prove")
    assert (found.code, "restore the last good backup" in found.err, "refill" in found.err) == (1, True, False)


def test_it_takes_an_entry_only_after_the_warning(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The first try writes nothing and says how; with the word for it the entry is in."""
    terminal = Terminal(path, capsys)
    terminal.types(NOW, "prove")
    words = ["count", "P-07", "1,209,500", "--by", "ana"]
    refused = terminal.types(NOW, *words)
    assert refused.code == 1
    assert "Nothing was written." in refused.err
    assert "strokebook --unproven COMMAND" in refused.err
    assert "1209500" not in terminal.types(NOW, "export").out
    assert Terminal(path, capsys).types(NOW, "--unproven", *words).code == 0
    assert "1209500" in terminal.types(NOW, "export").out


def test_a_backup_that_does_not_prove_is_told_at_every_screen_and_not_in_a_log_alone(path: Path) -> None:
    """The copy has what the book has."""
    with Book.open(path) as book:
        with pytest.raises(BookDamaged):
            Backups(path.parent / "backups", path, keep=2).make(book, at(NOW))
        assert FOUND in str(book.unproven)
        with pytest.raises(NotProven, match=FOUND):
            write(book, LATER)
        book.write_all_the_same()
        write(book, LATER)


def test_a_backup_by_hand_tells_as_well(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """And a clean one takes the mark away."""
    terminal = Terminal(path, capsys)
    assert terminal.types(NOW, "backup", path.parent / "a.book").code == 1
    assert FOUND in terminal.types(NOW, "board").err
    damage(path, "- 3")
    assert terminal.types(NOW, "backup", path.parent / "b.book").code == 0
    assert terminal.types(NOW, "board").err == ""


@pytest.mark.skipif(os.name == "nt", reason="Windows says by folder who may read")
def test_the_mark_is_as_private_as_the_book(path: Path) -> None:
    """It quotes what was found."""
    with Book.open(path) as book:
        book.prove()
    assert open_to_all(path.parent.iterdir()) == []


def test_a_file_that_cannot_even_be_read_is_marked_too(path: Path) -> None:
    """SQLite gives up in the middle of it; what can still be shown is shown with the warning."""
    with Book.open(path) as book:
        book.tell_everybody(())
    content = bytearray(path.read_bytes())
    with closing(sqlite3.connect(path)) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'marks'").fetchone()
        (size,) = connection.execute("PRAGMA page_size").fetchone()
    content[(page - 1) * size : (page - 1) * size + 8] = b"\xff" * 8
    path.write_bytes(content)
    with Book.open(path) as book:
        with pytest.raises(BookDamaged):
            book.prove()
        assert "malformed" in str(book.unproven)


def test_a_dropped_file_waits_until_the_book_is_good_again(path: Path, caplog: pytest.LogCaptureFixture) -> None:
    """Nobody reads a warning there: it stays where it is and is not refused; the service says why, once."""
    folder = path.parent / "in"
    folder.mkdir()
    file = folder / "counts.csv"
    file.write_text("press,count,at\nP-07,1209500,2026-03-02 15:00\n", encoding="utf-8")
    with Book.open(path) as book:
        book.prove()
    drop = DropFolder(folder, path, "ana")
    later = at("2026-03-03 08:00")
    written = at("2026-03-02 16:00").timestamp()
    os.utime(file, (written, written))
    with caplog.at_level(logging.INFO):
        for minute in range(4):
            drop.look(later + timedelta(minutes=minute))
        service = Service(path, lists=path.parent / "l", backups=path.parent / "b", clock=lambda: at(NOW))
        for _ in range(3):
            service.look()
    assert file.exists()
    told = [record.message for record in caplog.records if FOUND in record.message]
    assert len(told) == 2
    damage(path, "- 3")
    with Book.open(path) as book:
        assert book.prove().clean
    drop.look(later + timedelta(minutes=9))
    assert not file.exists()
    assert (folder / "taken" / "counts.csv").exists()

"""A proof looks where the board looks: into indexes, tallies, the schema and the search, and at the first entry."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from tests.plants import CLEAN, at, book_of
from upkeep.book import BoardQuery, Book
from upkeep.errors import BookDamaged
from upkeep.service.backups import Backups
from upkeep.store.rows.projections import PROJECTIONS

TOLD = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 06:30 uncounted M-12 dry 20 on M-12 by ana
    2026-03-02 14:00 count P-07 1209410 by ana
"""
NOON = at("2026-03-05 12:00")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A closed book with lines, in one file."""
    with book_of(tmp_path, TOLD, tasks=[CLEAN]) as book:
        return book.path


def sql(*statements: str) -> Callable[[Path], None]:
    """Damage done by somebody with a database browser."""

    def done(path: Path) -> None:
        with closing(sqlite3.connect(path)) as connection:
            connection.executescript(";".join(statements))

    return done


def another_day_in_an_index(path: Path) -> None:
    """One byte of one index: a day in it, by which overdue lines are found, comes eight years later."""
    with closing(sqlite3.connect(path)) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'lines_by_overdue'").fetchone()
        (size,) = connection.execute("PRAGMA page_size").fetchone()
    content = bytearray(path.read_bytes())
    begin = (page - 1) * size
    day = content.index(b"2026-03-0", begin, begin + size)
    content[day + 2] ^= 0x01
    path.write_bytes(content)


DAMAGES: dict[str, tuple[Callable[[Path], None], str]] = {
    "a byte of an index": (another_day_in_an_index, "lines_by_overdue"),
    "a tally": (sql("UPDATE tallies SET lines = lines + 3 WHERE standing = 'active'"), "tally"),
    "a tally gone": (sql("DELETE FROM tallies"), "tally"),
    "a guard of the entries": (sql("DROP TRIGGER entries_never_change"), "lacks the trigger entries_never_change"),
    "an index": (sql("DROP INDEX lines_by_due"), "lacks the index lines_by_due"),
    "a view": (sql("DROP VIEW what_is_due"), "lacks the view what_is_due"),
    "another view of that name": (
        sql("DROP VIEW what_is_due", "CREATE VIEW what_is_due AS SELECT 1"),
        "view what_is_due is not as this program makes it",
    ),
    "a trigger of a stranger": (
        sql("CREATE TRIGGER late AFTER INSERT ON entries BEGIN DELETE FROM lines; END"),
        "late does not belong to this program",
    ),
    "a word taken out of the search": (
        sql("INSERT INTO lines_fts (lines_fts, rowid, searched) SELECT 'delete', id, searched FROM lines LIMIT 1"),
        "search",
    ),
    "the search for another line": (
        sql("INSERT INTO lines_fts (rowid, searched) SELECT id, 'unheard of' FROM lines LIMIT 1"),
        "search",
    ),
    "the search emptied": (sql("DELETE FROM lines_fts_data"), "search"),
    "a reference to nothing": (
        sql("PRAGMA foreign_keys = OFF", "UPDATE standings SET entry = 4711", "UPDATE lines SET last_entry = 4711"),
        "4,?711|missing in entries",
    ),
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_proof_finds_what_the_board_would_be_read_through(path: Path, damage: str) -> None:
    """None of it is told by a comparison of tables with entries read through the same indexes."""
    do, told = DAMAGES[damage]
    do(path)
    with Book.open(path) as book:
        report = book.prove()
    assert not report.clean
    assert any(re.search(told, str(sentence)) for sentence in report.differences)


def test_a_flipped_byte_in_an_index_hides_a_line_from_the_board_and_not_from_the_proof(path: Path) -> None:
    """The line is overdue and no longer listed as such: the reason for looking there at all."""
    with Book.open(path) as book:
        before = [row.line for row in book.board(NOON, BoardQuery()).rows if row.state == "overdue"]
    another_day_in_an_index(path)
    with Book.open(path) as book:
        after = [row.line for row in book.board(NOON, BoardQuery()).rows if row.state == "overdue"]
        assert before != after
        assert not book.prove().clean


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_backup_with_such_damage_is_none(path: Path, damage: str) -> None:
    """The copy has what the book has; it is thrown away and told."""
    DAMAGES[damage][0](path)
    backups = Backups(path.parent / "backups", path, keep=3)
    with Book.open(path) as book, pytest.raises(BookDamaged, match="do not agree"):
        backups.make(book, NOON)
    assert backups.good() == []


def test_what_somebody_added_for_themselves_changes_no_answer(path: Path) -> None:
    """A view, a table or an index of their own, and statistics of the planner, leave the book good."""
    sql(
        "CREATE VIEW mine AS SELECT line FROM lines",
        "CREATE INDEX mine_too ON lines (title)",
        "CREATE TABLE jotted (text TEXT)",
        "ANALYZE",
    )(path)
    with Book.open(path) as book:
        assert book.prove().differences == ()


def test_a_book_that_does_not_begin_with_its_beginning_is_not_proven(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its first entry says which book it is; a chain without it may be anybody's."""
    path = book_of(tmp_path, TOLD, tasks=[CLEAN]).path
    with Book.open(path) as book:
        entries = list(book._stores.entries.all())
    begun = entries[1:]
    monkeypatch.setattr("upkeep.keeping.proof.broken_link", lambda file, watch: None)
    monkeypatch.setattr("upkeep.store.entries.EntryStore.all", lambda store: iter(begun))
    monkeypatch.setattr("upkeep.keeping.proof.misfiled", lambda file, entries: iter(()))
    with Book.open(path) as book:
        report = book.prove()
    assert report.first_entry == 0
    assert "is not the one with which a book begins" in str(report.differences[0])


def test_a_table_without_numbers_of_its_own_begins_with_its_key() -> None:
    """Of any other, SQLite 3.40 reports NULL values that are not there, and a good book would not prove."""
    assert all(table.row._fields[: len(table.key)] == table.key for table in PROJECTIONS if table.without_rowid)

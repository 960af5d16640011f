"""Entries stay as they were written: the file refuses to change them; got round all the same, the proof says so."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tests.plants import CLEAN, book_of
from upkeep.book import Book
from upkeep.entries.chain import digest, link
from upkeep.entries.row import EntryRow
from upkeep.store.entry_rows import COLUMNS
from upkeep.store.file import BookFile

TOLD = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 06:05 fault M-12 "burr" by ben because "seen"
    2026-03-02 06:10 sign M-12/clean for 2026-03-02/early by ben via screen station "Hall A" proof code entered-by lea
    2026-03-02 06:20 strike #23 by ben because "was M-44"
    2026-03-02 14:00 count P-07 1209410 by ana
"""
COUNT, FIT, FAULT, SIGN, STRIKE, LAST = range(21, 27)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A closed book with six entries after its definitions."""
    with book_of(tmp_path, TOLD, tasks=[CLEAN]) as book:
        assert book.prove().entries == LAST
        return book.path


@pytest.fixture
def connection(path: Path) -> Iterator[sqlite3.Connection]:
    """The file as any other program opens it: without this program's settings."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        yield connection


CHANGES = (
    f"UPDATE entries SET words = 'count P-07 5' WHERE id = {COUNT}",
    f"UPDATE entries SET at = at WHERE id = {COUNT}",
    f"DELETE FROM entries WHERE id = {LAST}",
    "DELETE FROM entries",
    f"INSERT OR REPLACE INTO entries SELECT {COLUMNS.replace('words', 'kind')} FROM entries WHERE id = {FAULT}",
    f"REPLACE INTO entries SELECT * FROM entries WHERE id = {FAULT}",
    f"INSERT INTO entries SELECT * FROM entries WHERE id = {FAULT} ON CONFLICT (id) DO UPDATE SET words = 'hold M-12'",
    f"INSERT INTO entries SELECT {COLUMNS.replace('id', '-1', 1)} FROM entries WHERE id = {FAULT}",
)


@pytest.mark.parametrize("change", CHANGES)
def test_the_file_refuses_to_change_delete_or_replace_an_entry(path: Path, change: str) -> None:
    """On this program's own connection."""
    with closing(BookFile.open(path)) as file:
        before = file.rows("SELECT * FROM entries")
        with pytest.raises(sqlite3.IntegrityError, match="entries are never"):
            file.connection.execute(change)
        assert file.rows("SELECT * FROM entries") == before


@pytest.mark.parametrize("change", CHANGES)
def test_the_file_refuses_other_programs_too(connection: sqlite3.Connection, change: str) -> None:
    """With recursive triggers off, as they are by default, INSERT OR REPLACE does not get past either."""
    assert connection.execute("PRAGMA recursive_triggers").fetchone() == (0,)
    with pytest.raises(sqlite3.IntegrityError, match="entries are never"):
        connection.execute(change)


def without_guards(connection: sqlite3.Connection) -> None:
    """What somebody does who means to: takes the triggers away first."""
    names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'entries'")
    for (name,) in names.fetchall():
        connection.execute(f"DROP TRIGGER {name}")


TAMPERINGS = {
    f"UPDATE entries SET words = 'count P-07 1204301' WHERE id = {COUNT}": COUNT,
    f"UPDATE entries SET at = '2026-03-02T06:00:01Z' WHERE id = {FIT}": FIT,
    f"UPDATE entries SET recorded_at = '2026-03-01T06:00:00Z' WHERE id = {SIGN}": SIGN,
    f"UPDATE entries SET by = 'ana' WHERE id = {SIGN}": SIGN,
    f"UPDATE entries SET because = 'seen by ben' WHERE id = {FAULT}": FAULT,
    f"UPDATE entries SET because = '' WHERE id = {STRIKE}": STRIKE,
    f"UPDATE entries SET shift_day = '2026-03-03' WHERE id = {LAST}": LAST,
    f"UPDATE entries SET corrects = {COUNT} WHERE id = {LAST}": LAST,
    f"UPDATE entries SET hash = zeroblob(32) WHERE id = {FIT}": FIT,
    f"UPDATE entries SET salt = zeroblob(16) WHERE id = {FIT}": FIT,
    f"UPDATE entries SET salt = CAST(salt || x'00' AS BLOB) WHERE id = {FIT}": FIT,
    f"UPDATE entries SET way_in = 'page' WHERE id = {FIT}": FIT,
    f"UPDATE entries SET way_in = NULL WHERE id = {SIGN}": SIGN,
    f"UPDATE entries SET station = 'Hall B' WHERE id = {SIGN}": SIGN,
    f"UPDATE entries SET proof = 'password' WHERE id = {SIGN}": SIGN,
    f"UPDATE entries SET entered_by = 'tom' WHERE id = {SIGN}": SIGN,
    f"UPDATE entries SET entered_by = 'ana' WHERE id = {STRIKE}": STRIKE,
    "UPDATE entries SET words = replace(words, 'chain 1', 'chain 2') WHERE id = 0": 0,
    "PRAGMA foreign_keys = OFF; DELETE FROM entries WHERE id = 0": 1,
    f"UPDATE entries SET item = 'M-44' WHERE id = {SIGN}": SIGN,
    f"UPDATE entries SET task = NULL WHERE id = {SIGN}": SIGN,
    f"UPDATE entries SET kind = 'hold' WHERE id = {FAULT}": FAULT,
    f"UPDATE entries SET about = {FIT} WHERE id = {STRIKE}": STRIKE,
    f"UPDATE entries SET words = CAST(x'ff20ff' AS TEXT) WHERE id = {FAULT}": FAULT,
    f"PRAGMA foreign_keys = OFF; DELETE FROM entries WHERE id = {FAULT}": SIGN,
    f"PRAGMA foreign_keys = OFF; UPDATE entries SET id = 99 WHERE id = {LAST}": 99,
}


@pytest.mark.parametrize("tampering", TAMPERINGS)
def test_the_proof_names_the_entry_that_was_tampered_with(
    path: Path, connection: sqlite3.Connection, tampering: str
) -> None:
    """One byte of any column, with the guards taken away; a missing entry shows in the one after it."""
    without_guards(connection)
    connection.executescript(tampering)
    with Book.open(path) as book:
        report = book.prove()
    assert (report.clean, report.first_entry) == (False, TAMPERINGS[tampering])
    assert f"#{TAMPERINGS[tampering]} " in str(report.differences[0])


def test_whoever_rewrites_an_entry_has_to_rewrite_every_hash_after_it(
    path: Path, connection: sqlite3.Connection
) -> None:
    """Putting the one hash right moves the break to the entry after it; the last printed hash tells in the end."""
    without_guards(connection)
    connection.execute(f"UPDATE entries SET words = 'count P-07 1204301' WHERE id = {COUNT}")
    found = connection.execute(f"SELECT {COLUMNS} FROM entries WHERE id IN ({COUNT - 1}, {COUNT})")
    before, changed = map(EntryRow._make, found.fetchall())
    rewritten = link(before.hash, digest(changed))
    connection.execute("UPDATE entries SET hash = ? WHERE id = ?", (rewritten, COUNT))
    with Book.open(path) as book:
        assert book.prove().first_entry == FIT


def test_every_column_of_an_entry_is_tampered_with_above() -> None:
    """A column added later is tried here, too."""
    touched = " ".join(TAMPERINGS)
    assert [column for column in EntryRow._fields if f" SET {column} = " not in touched] == []


PROJECTIONS = {
    "UPDATE marks SET total = total + 1 WHERE total > 0": "marks",
    "DELETE FROM fittings": "fittings",
    "UPDATE stays SET start_best = 7 WHERE item = 'M-12'": "stays",
    "UPDATE sign_offs SET grade = 0": "sign_offs",
    "INSERT INTO standings VALUES ('M-12', 'hold', '2026-03-02T06:00:00Z', 'no', 23)": "standings",
    "DELETE FROM without_effect": "without_effect",
    "UPDATE definitions SET content = replace(content, '4000', '9000') WHERE key = 'P-07'": "definitions",
    "UPDATE lines SET reasons = '[]' WHERE line = 'M-12/clean'": "lines",
}


@pytest.mark.parametrize("change", PROJECTIONS)
def test_the_proof_tells_of_every_computed_table_that_differs(
    path: Path, connection: sqlite3.Connection, change: str
) -> None:
    """The chain is whole, the entries are right, and what was made from them is not."""
    connection.execute(change)
    with Book.open(path) as book:
        report = book.prove()
    assert not report.clean
    assert all(str(sentence).startswith(f"{PROJECTIONS[change]} ") for sentence in report.differences)


def test_a_proof_changes_nothing(path: Path, connection: sqlite3.Connection) -> None:
    """It reads; putting right is for people."""
    connection.execute("DELETE FROM fittings")
    before = list(connection.iterdump())
    with Book.open(path) as book:
        book.prove()
    assert list(connection.iterdump()) == before

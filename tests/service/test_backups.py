"""Backups: proven before they count, the newest kept."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from tests.plants import at, book_of
from upkeep.book import Book
from upkeep.errors import BookDamaged, BookUnavailable, Refused
from upkeep.service.backups import Backups

NIGHT = at("2026-03-02 02:15")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with book_of(tmp_path, "2026-03-01 08:00 count P-07 5000 by ana") as made:
        yield made


def backups_of(book: Book, keep: int = 3) -> Backups:
    return Backups(book.path.parent / "backups", book.path, keep)


def damage(book: Book) -> None:
    """Changes a computed row behind the book's back."""
    with sqlite3.connect(book.path) as connection:
        connection.execute("UPDATE marks SET value = value + 1")
    connection.close()


def test_a_backup_is_the_book_under_its_moment_in_utc(book: Book) -> None:
    """It proves clean and holds every entry."""
    path, entries = backups_of(book).make(book, NIGHT)
    assert path.name == "plant-2026-03-02T021500Z.book"
    assert entries == book.prove().entries
    with Book.open(path) as copy:
        assert list(copy.export()) == list(book.export())
    assert backups_of(book).good() == [(NIGHT, path)]


def test_the_newest_are_kept(book: Book) -> None:
    """As many as asked for; older ones go only after a new one was proven."""
    backups = backups_of(book, keep=2)
    for days in range(4):
        backups.make(book, NIGHT + timedelta(days=days))
    assert [moment for moment, _ in backups.good()] == [NIGHT + timedelta(days=2), NIGHT + timedelta(days=3)]


def test_a_backup_from_the_future_never_displaces_the_new_one(book: Book) -> None:
    """A clock that was wrong once must not cost today's backup."""
    backups = backups_of(book, keep=1)
    backups.make(book, NIGHT + timedelta(days=1000))
    path, _ = backups.make(book, NIGHT)
    assert backups.good() == [(NIGHT, path)]


def test_a_copy_that_does_not_prove_clean_does_not_count(book: Book) -> None:
    """It is thrown away, and the last good one stays even where only one is kept."""
    backups = backups_of(book, keep=1)
    path, _ = backups.make(book, NIGHT)
    damage(book)
    with pytest.raises(BookDamaged, match="The tables of the copy do not agree with its entries"):
        backups.make(book, NIGHT + timedelta(days=1))
    assert [kept.name for kept in path.parent.iterdir()] == [path.name]


def test_other_files_in_the_folder_are_left_alone(book: Book) -> None:
    """Only names of this book's own backups are ever dropped."""
    backups = backups_of(book, keep=1)
    folder = book.path.parent / "backups"
    folder.mkdir()
    others = {"plant.book", "other-2026-03-01T021500Z.book", "plant-2026-03-01.book", "plant-2026-03-01T021500Z.txt"}
    for name in others:
        (folder / name).write_text("something else")
    made = {backups.make(book, NIGHT + timedelta(days=days))[0].name for days in range(2)}
    assert {path.name for path in folder.iterdir()} == others | {max(made)}


def test_what_a_killed_run_left_is_cleared_away(book: Book) -> None:
    """An unproven copy is no backup."""
    folder = book.path.parent / "backups"
    folder.mkdir()
    (folder / ".plant-2026-03-01T021500Z.book.unproven").write_bytes(b"half")
    (folder / ".plant-2026-03-01T021500Z.book.unproven-wal").write_bytes(b"half")
    (folder / "..plant-2026-03-01T021500Z.book.unproven.part").write_bytes(b"half")
    (folder / "..plant-2026-03-01T021500Z.book.unproven.part-journal").write_bytes(b"half")
    path, _ = backups_of(book).make(book, NIGHT)
    assert list(folder.iterdir()) == [path]


def test_a_folder_that_cannot_be_made_is_told(book: Book) -> None:
    """With the path; nothing else happens."""
    (book.path.parent / "backups").write_text("a file, no folder")
    with pytest.raises((BookUnavailable, OSError), match="backups"):
        backups_of(book).make(book, NIGHT)


@pytest.mark.parametrize("keep", [0, -1])
def test_at_least_one_is_kept(book: Book, keep: int) -> None:
    """The last good backup is never thrown away."""
    with pytest.raises(Refused, match="last good one"):
        backups_of(book, keep)

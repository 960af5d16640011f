"""The file at a path: who may read it, whether it is still the one that was opened, reading where none may write."""

from __future__ import annotations

import os
import shutil
import sqlite3
import stat
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.commands import Terminal
from tests.plants import CLEAN, at, book_of, write
from upkeep.book import Book
from upkeep.errors import BookNotWritable, BookReplaced, BookUnavailable
from upkeep.store.disk.place import open_to_all

TOLD = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 14:00 count P-07 1209410 by ana
"""
LATER = "2026-03-02 15:00 count P-07 1209500 by ana"
NOON = at("2026-03-02 16:00")

pytestmark = pytest.mark.skipif(os.name == "nt", reason="Windows says by folder who may read, and keeps open files")


@pytest.fixture
def path() -> Iterator[Path]:
    """A closed book in a folder of its own.

    It stands beside pytest's folders, not in them: all of a user's runs share those, and another run may shut them
    again while somebody else reads in here.
    """
    with TemporaryDirectory() as apart:
        folder = Path(apart, "plant")
        folder.mkdir()
        with book_of(folder, TOLD, tasks=[CLEAN]) as book:
            made = book.path
        yield made


def mode_of(path: Path) -> int:
    """Who may read and write a file."""
    return stat.S_IMODE(path.stat().st_mode)


# Who may read it


@pytest.mark.parametrize("mask", [0o000, 0o022, 0o077])
def test_a_book_and_its_backups_are_readable_by_their_owner_alone(tmp_path: Path, mask: int) -> None:
    """Whatever the umask; the write-ahead log is made after the book."""
    before = os.umask(mask)
    try:
        with book_of(tmp_path, TOLD, tasks=[CLEAN]) as book:
            backup = tmp_path / "backup.book"
            book.backup(backup)
            made = [book.path, Path(f"{book.path}-wal"), Path(f"{book.path}-shm"), backup]
            assert [mode_of(file) for file in made] == [0o600] * 4
            assert open_to_all(made) == []
    finally:
        os.umask(before)


def test_in_a_folder_of_the_plants_group_the_group_may_read_and_write(tmp_path: Path) -> None:
    """The folder gives its group to what is made in it; nobody else may read."""
    folder = tmp_path / "shared"
    folder.mkdir()
    folder.chmod(0o2770)
    with book_of(folder, TOLD, tasks=[CLEAN]) as book:
        assert mode_of(book.path) == 0o660
        assert mode_of(Path(f"{book.path}-wal")) == 0o660


def test_files_that_everybody_may_read_are_found(path: Path) -> None:
    """As an older program made them; one that is not there is none."""
    assert open_to_all([path, path.with_name("none")]) == []
    path.chmod(0o644)
    assert open_to_all([path]) == [path]


# What an earlier book left


@pytest.mark.parametrize("ending", ["-wal", "-shm", "-journal"])
def test_no_book_and_no_copy_is_made_beside_what_is_left_of_another(path: Path, ending: str) -> None:
    """It may hold confirmed entries, and SQLite would throw it away or play it over the new one."""
    left = path.with_name(f"next.book{ending}")
    left.write_bytes(b"entries")
    with pytest.raises(BookUnavailable, match="Already there"):
        Book.create(path.with_name("next.book"))
    with Book.open(path) as book, pytest.raises(BookUnavailable, match="Already there"):
        book.backup(path.with_name("next.book"))
    assert left.read_bytes() == b"entries"
    assert not path.with_name("next.book").exists()


# Whether it is still the one that was opened


def test_nothing_is_confirmed_into_a_file_that_was_moved_away(path: Path) -> None:
    """As whoever restores is told to do it; the restored book has what was written into it, and nobody else's."""
    backup = path.with_name("night.book")
    with Book.open(path) as book:
        book.backup(backup)
        for ending in ("", "-wal", "-shm"):
            os.replace(f"{path}{ending}", f"{path}.lost{ending}")
        with pytest.raises(BookReplaced, match="replaced or moved away"):
            write(book, LATER)
        os.replace(backup, path)
        for ask in (lambda: write(book, LATER), lambda: book.board(NOON), book.version, lambda: book.history()):
            with pytest.raises(BookReplaced, match="look again"):
                ask()
    with Book.open(path) as restored:
        write(restored, LATER)
        assert restored.prove().clean


def test_nothing_is_confirmed_into_a_file_that_was_removed(path: Path) -> None:
    """It would be gone with the program."""
    with Book.open(path) as book:
        path.unlink()
        with pytest.raises(BookReplaced):
            write(book, LATER)
        with pytest.raises(BookReplaced):
            book.version()


def test_another_book_copied_over_an_open_one_is_noticed(path: Path, tmp_path: Path) -> None:
    """The same file of the system, and the last entry seen is not in it."""
    other = book_of(tmp_path, "2026-03-02 06:30 count P-07 1204300 by ana", tasks=[CLEAN])
    other.close()
    with Book.open(path) as book:
        book.version()
        with closing(sqlite3.connect(path)) as writer, closing(sqlite3.connect(other.path)) as source:
            source.backup(writer)
        with pytest.raises(BookReplaced):
            book.version()
        with pytest.raises(BookReplaced):
            write(book, LATER)


def test_a_book_opened_again_is_the_one_that_is_there(path: Path) -> None:
    """Its version is never that of the file before it, so whoever shows the book looks anew."""
    with Book.open(path) as book:
        before = book.version()
    shutil.copyfile(path, path.with_name("copy"))
    os.replace(path.with_name("copy"), path)
    with Book.open(path) as book:
        assert book.version() != before


# Where nothing can be written


@contextmanager
def a_reader_only(path: Path, mode: int = 0o644) -> Iterator[None]:
    """In here nothing can be made in the folder of the book, nor the book be written to."""
    folder, user = path.parent, os.geteuid()
    for file in folder.iterdir():
        file.chmod(mode)
    folder.chmod(0o555)
    opened = [parent for parent in folder.parents if parent.stat().st_uid == user and not parent.stat().st_mode & 0o005]
    for parent in opened:
        parent.chmod(0o711)
    try:
        if user == 0:
            os.seteuid(65534)
        yield
    finally:
        os.seteuid(user)
        folder.chmod(0o755)
        for parent in opened:
            parent.chmod(0o700)


def test_a_folder_that_may_not_be_written_to_still_lets_people_read(path: Path) -> None:
    """Board, line, proof and export; what would be written is refused, and points to paper."""
    with Book.open(path) as book:
        board, exported = book.board(NOON), list(book.export())
    with a_reader_only(path), Book.open(path) as book:
        assert book.cannot_write is not None
        assert book.board(NOON) == board
        assert book.line("M-12/clean", NOON).line == "M-12/clean"
        assert book.board(at("2026-03-02 10:00")).at == at("2026-03-02 10:00")
        assert book.prove().clean
        assert list(book.export()) == exported
        with pytest.raises(BookNotWritable):
            write(book, LATER)
    assert sorted(file.name for file in path.parent.iterdir()) == [path.name]


def test_what_a_killed_program_left_in_the_log_is_read_as_well(path: Path) -> None:
    """Confirmed is confirmed, though nothing can be moved from the log into the book."""
    taken = path.with_name("taken.book")
    with Book.open(path) as book:
        write(book, LATER)
        for ending in ("", "-wal"):
            shutil.copyfile(f"{path}{ending}", f"{taken}{ending}")
    with a_reader_only(taken), Book.open(taken) as book:
        assert "1209500" in list(book.export())[-1]
        assert book.prove().clean
        with pytest.raises(BookNotWritable):
            write(book, LATER)


def test_a_book_that_others_may_not_even_read_says_so(path: Path) -> None:
    """A sentence and a list on paper, as whoever asks with another name meets it."""
    with a_reader_only(path, mode=0o000), pytest.raises(BookNotWritable, match="permissions"):
        Book.open(path)


def test_the_tables_of_an_older_program_are_made_in_memory_there(path: Path) -> None:
    """And a write is not confirmed into memory."""
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript("UPDATE tables_number SET number = 0; DELETE FROM marks")
    with a_reader_only(path), Book.open(path) as book:
        assert book.tables_made_again
        assert book.prove().clean
        with pytest.raises(BookNotWritable):
            write(book, LATER)


def test_a_reader_there_notices_that_somebody_else_has_written(path: Path) -> None:
    """It cannot follow the file, and says so rather than show what was."""
    with a_reader_only(path):
        book = Book.open(path)
        book.version()
    with book:
        with Book.open(path) as writer:
            write(writer, LATER)
        with pytest.raises(BookReplaced):
            book.version()


def test_the_commands_say_that_the_book_can_only_be_read(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """On stderr; the answer is as ever."""
    terminal = Terminal(path, capsys)
    for words in (["board"], ["why", "M-12/clean"], ["prove"], ["export"]):
        before = terminal.types("2026-03-02 16:00", *words)
        with a_reader_only(path):
            said = terminal.types("2026-03-02 16:00", *words)
        assert (said.code, said.out) == (0, before.out)
        assert "The book can only be read now:" in said.err
    with a_reader_only(path):
        said = terminal.types("2026-03-02 16:00", "count", "P-07", "1209500", "--by", "ana")
    assert said.code == 1

"""Connections to a book's file: for writing, for reading where nothing can be written, and in memory.

What SQLite reports becomes a sentence here.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from upkeep.errors import BookDamaged, BookNotWritable, BookUnavailable, StrokebookError
from upkeep.said import Figure, Said, said
from upkeep.store import schema

RUNNING = sqlite3.sqlite_version
"""The SQLite that this Python comes with."""

BUSY_SECONDS = 15.0
"""How long a writer waits for another one before it says so."""

_LEAST_ROOM = 65_536
"""Bytes: two steps of the index that SQLite keeps beside a write-ahead log (32 kB each: its page "WAL-mode File
Format", from memory)."""


def connected(path: Path) -> sqlite3.Connection:
    """A connection for reading and writing; the file is made where there is none."""
    if sqlite3.sqlite_version_info < schema.OLDEST_SQLITE:
        wanted = ".".join(map(str, schema.OLDEST_SQLITE))
        raise BookUnavailable(
            said(
                "This Python comes with SQLite {version}; Strokebook needs {wanted} or newer.",
                version=sqlite3.sqlite_version,
                wanted=wanted,
            )
        )
    with spoken(path):
        return sqlite3.connect(path, timeout=BUSY_SECONDS, isolation_level=None, check_same_thread=False)


def connected_to_read(path: Path, *, immutable: bool = False) -> sqlite3.Connection:
    """A connection for reading; ``immutable``: nothing is written, not even beside the file, nor is it locked."""
    uri = f"{path.absolute().as_uri()}?mode=ro{'&immutable=1' if immutable else ''}"
    return sqlite3.connect(uri, uri=True, isolation_level=None, check_same_thread=False)


def connected_where_nothing_can_be_written(path: Path) -> tuple[sqlite3.Connection, bool]:
    """A connection that reads a book in a folder in which nothing can be made, with all that was confirmed; and whether
    it sees what others write from then on.

    Beside writers who can, it follows them; otherwise it shows the book as it is now: in its place where all stands in
    the one file, else from a copy in memory.  Raises what SQLite or the system reports.
    """
    connection = connected_to_read(path)
    try:
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
        return connection, True
    except sqlite3.OperationalError:
        connection.close()
    if not any(_holds_something(path, ending) for ending in ("-wal", "-journal")):
        return connected_to_read(path, immutable=True), False
    return _copied(path), False


def _holds_something(path: Path, ending: str) -> bool:
    beside = Path(f"{path}{ending}")
    return beside.exists() and beside.stat().st_size > 0


def _copied(path: Path) -> sqlite3.Connection:
    import shutil  # both load much that hardly any book is opened by
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as folder:
        copy = Path(folder, path.name)
        for ending in ("", "-wal", "-journal"):
            if Path(f"{path}{ending}").exists():
                shutil.copyfile(f"{path}{ending}", f"{copy}{ending}")
        connection = in_memory()
        with closing(sqlite3.connect(copy)) as source:
            source.backup(connection)
    return connection


def in_memory() -> sqlite3.Connection:
    """An empty file in memory."""
    return sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)


@contextmanager
def spoken(path: Path) -> Iterator[None]:
    """Turns what SQLite reports into a sentence for the person in front of it."""
    try:
        yield
    except sqlite3.DatabaseError as error:
        raise spoken_of(path, error) from error


def spoken_of(path: Path, error: sqlite3.DatabaseError) -> StrokebookError:
    """The error of ours that says what SQLite reports."""
    reported = str(error)
    if isinstance(error, sqlite3.IntegrityError):
        return BookDamaged(said("{path} refused the change: {why}.", path=path, why=reported))
    if not isinstance(error, sqlite3.OperationalError):
        return BookDamaged(
            said(
                "{path} cannot be read as a book: {why}. Restore the last good backup; until then go by the last "
                "printed list.",
                path=path,
                why=reported,
            )
        )
    if "locked" in reported or "busy" in reported:
        return BookUnavailable(
            said(
                "{path} has been busy for {seconds} s because somebody else is writing. Try again; nothing was "
                "changed.",
                path=path,
                seconds=Figure(BUSY_SECONDS, ".0f"),
            )
        )
    return BookNotWritable(_not_writable(path, reported))


def _has_no_room(path: Path) -> bool:
    """Whether the disk has no room for what SQLite makes beside a book: it calls that an I/O error, too."""
    from shutil import disk_usage  # loads much that hardly any book is opened by

    with suppress(OSError):
        return disk_usage(path.parent).free < _LEAST_ROOM
    return False


def _not_writable(path: Path, reported: str) -> Said:
    if "full" in reported or ("I/O" in reported and _has_no_room(path)):
        return said(
            "The disk of {path} is full. Free some space and try again; everything confirmed is safe. Until then write "
            "on the last printed list.",
            path=path,
        )
    if "I/O" in reported:
        return said(
            "The disk of {path} refused: {why}. Check its free space, quota and health and try again; "
            "everything confirmed is safe. Until then write on the last printed list.",
            path=path,
            why=reported,
        )
    if "readonly" in reported:
        return said(
            "{path} may not be written to: check the permissions on the file and its folder. Until then write on the "
            "last printed list.",
            path=path,
        )
    return said(
        "{path} cannot be used: {why}. Check the path and its folder's permissions. Until then write on the last "
        "printed list.",
        path=path,
        why=reported,
    )

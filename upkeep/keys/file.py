"""The file of keys beside a book: who may read it, its tables, one transaction at a time."""

from __future__ import annotations

import os
import sqlite3
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import RLock

from upkeep.errors import Refused
from upkeep.said import Said, said

KEYS = "-keys"
"""The ending of the file of keys of a book."""

FORM = 1
"""The number of the form of its tables."""

_BUSY_SECONDS = 15.0

_TABLES = """
CREATE TABLE book (id TEXT NOT NULL) STRICT;
CREATE TABLE secrets (
    person TEXT PRIMARY KEY, is_password INTEGER NOT NULL, is_first INTEGER NOT NULL, hash TEXT NOT NULL,
    given_at INTEGER NOT NULL, until TEXT
) STRICT;
CREATE TABLE badges (hash BLOB PRIMARY KEY, person TEXT NOT NULL, given_at INTEGER NOT NULL) STRICT;
CREATE TABLE tokens (
    hash BLOB PRIMARY KEY, name TEXT NOT NULL UNIQUE, person TEXT NOT NULL, given_at INTEGER NOT NULL, until TEXT
) STRICT;
CREATE TABLE sessions (
    hash BLOB PRIMARY KEY, person TEXT NOT NULL, proof TEXT NOT NULL, station TEXT, begun_at INTEGER NOT NULL,
    touched_at INTEGER NOT NULL
) STRICT;
CREATE TABLE tries (number INTEGER PRIMARY KEY, human TEXT, station TEXT, at INTEGER NOT NULL) STRICT;
CREATE INDEX tries_of_human ON tries (human);
CREATE INDEX tries_at_station ON tries (station);
"""


def path_of(book: Path) -> Path:
    """Where the file of keys of a book is, or will be."""
    return Path(f"{book}{KEYS}")


class KeysFile:
    """The file, opened when it is first used, and made where there is none; for any thread, one transaction at a time.

    ``book`` is the id of the book it belongs to.  Using it raises :class:`Refused` with the reason where it cannot be
    used, others may read it, or it belongs to another book.
    """

    def __init__(self, path: Path, book: str) -> None:
        self.path, self._book, self._alone = path, book, RLock()
        self._connection: sqlite3.Connection | None = None

    def _opened(self) -> sqlite3.Connection:
        if self._connection is not None:
            return self._connection
        _made_private(self.path)
        _refuse_what_is_not_ours(self.path)
        connection = sqlite3.connect(self.path, timeout=_BUSY_SECONDS, isolation_level=None, check_same_thread=False)
        try:
            connection.execute("BEGIN IMMEDIATE")
            self._check(connection, self._book)
            connection.execute("COMMIT")
        except BaseException:
            connection.close()
            raise
        self._connection = connection
        return connection

    def _check(self, connection: sqlite3.Connection, book: str) -> None:
        """Makes the tables in a new file; refuses the file of another program or book."""
        form = connection.execute("PRAGMA user_version").fetchone()[0]
        if form == 0:
            for statement in filter(str.strip, _TABLES.split(";")):
                connection.execute(statement)
            connection.execute("INSERT INTO book VALUES (?)", (book,))
            connection.execute(f"PRAGMA user_version = {FORM}")
            return
        if form != FORM:
            raise Refused(
                said(
                    "{file} is not a file of keys that this program knows. Update the program, or move the file aside: "
                    "then everybody gets a new code.",
                    file=self.path,
                )
            )
        kept = connection.execute("SELECT id FROM book").fetchone()
        if kept is None or kept[0] != book:
            raise Refused(
                said(
                    "{file} belongs to another book. Move it aside: its codes are not those of this one.",
                    file=self.path,
                )
            )

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """The connection in a transaction that nobody else is in; kept at its end, taken back over an error."""
        with self._alone, self._spoken():
            connection = self._opened()
            connection.execute("BEGIN IMMEDIATE")
            try:
                yield connection
            except BaseException:
                connection.execute("ROLLBACK")
                raise
            connection.execute("COMMIT")

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """The connection, for questions."""
        with self._alone, self._spoken():
            yield self._opened()

    def close(self) -> None:
        """Lets go of the file."""
        with self._alone:
            if self._connection is not None:
                self._connection.close()
                self._connection = None

    @contextmanager
    def _spoken(self) -> Iterator[None]:
        try:
            yield
        except sqlite3.Error as error:
            raise self._not_usable(str(error)) from error
        except OSError as error:
            raise self._not_usable(str(error.strerror)) from error

    def _not_usable(self, why: str) -> Refused:
        return Refused(_cannot_be_used(self.path, why))


def _cannot_be_used(path: Path, why: str) -> Said:
    return said(
        "The file of keys, {file}, cannot be used: {why}. It belongs to whoever keeps the book on this machine. "
        "Nobody's name can be proven until it can. If it is damaged, move it aside: then everybody gets a new code.",
        file=path,
        why=why,
    )


def _made_private(path: Path) -> None:
    """Makes the empty file, for its owner alone whatever the umask; another program may do so at the same time."""
    with suppress(FileExistsError):
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, stat.S_IRUSR | stat.S_IWUSR))


def _refuse_what_is_not_ours(path: Path) -> None:
    """Refuses what is no file, what others may read, and what somebody else put there: they would know every code."""
    status = path.stat()
    if not stat.S_ISREG(status.st_mode):
        raise Refused(_cannot_be_used(path, "no regular file"))
    if os.name == "nt":
        return
    if status.st_mode & (stat.S_IRWXG | stat.S_IRWXO):
        raise Refused(
            said(
                "{file} can be read by others than its owner, and codes could be guessed from it. Close it to them "
                "(chmod 600 {file}); give everybody a new code if it was open for long.",
                file=path,
            )
        )
    if status.st_uid not in (os.geteuid(), 0, _owner_of(path.with_name(path.name.removesuffix(KEYS)))):
        raise Refused(
            said(
                "{file} belongs to somebody else than the book, who would know every code in it. Move it aside: then "
                "everybody gets a new code.",
                file=path,
            )
        )


def _owner_of(book: Path) -> int | None:
    return book.stat().st_uid if book.exists() else None

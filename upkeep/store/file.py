"""Opening a book's file, and transactions that wait patiently and fail with a sentence."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, nullcontext
from functools import partial
from os import urandom
from pathlib import Path
from typing import Any

from upkeep.errors import BookDamaged, BookUnavailable, KeptByNewer, StrokebookError
from upkeep.said import Figure, Said, said
from upkeep.store import schema, tables
from upkeep.store.remaking import Marker, Watch, nobody
from upkeep.store.rows.table import R

Random = Callable[[int], bytes]
"""Gives so many random bytes: for the id of a book and the salts of its entries."""

BUSY_SECONDS = 15.0
"""How long a writer waits for another one before it says so."""

APPLICATION_ID = 0x5374426B
"""Marks the file as a book ("StBk") in the SQLite header."""


Parameters = tuple[Any, ...] | Mapping[str, Any]
"""What stands for the marks of a query: values in order, or by name."""


class BookFile:
    """One open connection to a book's file, for one thread.

    Every connection has write-ahead logging, full synchronisation (a confirmed entry survives a power cut), foreign
    keys, and recursive triggers (so that INSERT OR REPLACE cannot slip past the triggers that keep entries).
    """

    schema = "main"
    """Where the tables that are read stand."""

    _immutable = False

    def __init__(
        self, path: Path, connection: sqlite3.Connection, random: Random | None = None, *, in_file: bool = True
    ) -> None:
        self.path, self.connection = path, connection
        self.random = random or urandom
        self.watch: Watch = nobody
        """Is told while this connection waits for another process that makes the tables again."""
        self._marker = Marker(path) if in_file else None
        self._looked_at: int | None = None

    @classmethod
    def create(cls, path: Path, random: Random | None = None) -> BookFile:
        """A new, empty book; raises :class:`BookUnavailable` where a file already is or cannot be.

        ``random`` is where its id and its salts come from; None: the system's source for secrets.
        """
        if path.exists():
            raise BookUnavailable(
                said("{path} already exists. Choose another name, or open it instead of making it.", path=path)
            )
        file = cls(path, _connected(path), random)
        with spoken(path):
            file._prepare()
            file.connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            file._bring_forward()
            file._make_tables()
        return file

    @classmethod
    def open(cls, path: Path) -> BookFile:
        """An existing book, its entries brought forward to the present schema if they are older; its tables are not.

        Raises :class:`BookUnavailable` where there is none, :class:`BookDamaged` where the file is no book or newer.
        """
        if not path.is_file():
            raise BookUnavailable(
                said("There is no book at {path}. Make one with 'strokebook new' or 'strokebook demo'.", path=path)
            )
        file = cls(path, _connected(path))
        try:
            file._check()
        except BaseException:
            file.close()
            raise
        return file

    @classmethod
    def open_copy(cls, path: Path) -> BookFile:
        """A backup, opened so that nothing in it or beside it is written; its entries must be of the present schema."""
        if not path.is_file():
            raise BookUnavailable(said("There is no backup at {path}.", path=path))
        with spoken(path):
            uri = f"{path.absolute().as_uri()}?mode=ro&immutable=1"
            file = cls(path, sqlite3.connect(uri, uri=True, isolation_level=None, check_same_thread=False))
            file._immutable = True
        try:
            file._check()
        except BaseException:
            file.close()
            raise
        return file

    def in_memory_copy(self) -> BookFile:
        """All of this file in memory, under its path."""
        copy = _memory()
        with spoken(self.path):
            self.connection.backup(copy)
        return BookFile(self.path, copy, in_file=False)

    def lines_wanted(self, item: str | None = None) -> None:
        """The lines of an item, or all, are about to be read; they stand in the file."""

    def standings_wanted(self, item: str | None = None) -> None:
        """The hold and pause of an item, or all, are about to be read; they stand in the file."""

    def another_connection(self) -> sqlite3.Connection:
        """A second connection to the same file, for reading."""
        with spoken(self.path):
            if self._marker is None:
                copy = _memory()
                self.connection.backup(copy)
                return copy
            uri = f"{self.path.absolute().as_uri()}?mode=ro{'&immutable=1' if self._immutable else ''}"
            return sqlite3.connect(uri, uri=True, isolation_level=None, check_same_thread=False)

    def _prepare(self) -> None:
        for pragma in ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "recursive_triggers = ON"):
            self.connection.execute(f"PRAGMA {pragma}")

    def _check(self) -> None:
        """Looks before it touches: a file that is no book, or a newer one, stays as it is to the byte."""
        with spoken(self.path):
            if self.connection.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
                raise BookDamaged(said("{path} is not a Strokebook file.", path=self.path))
            version = tables.readable_version(self.connection, self.path)
            self._prepare()
            if version < schema.VERSION:
                self._bring_forward()

    def _bring_forward(self) -> None:
        from sqlite_utils import Database  # loaded here alone: reading and writing can do without

        schema.steps().apply(Database(self.connection, execute_plugins=False))
        self.connection.execute(f"PRAGMA user_version = {schema.VERSION}")

    def _make_tables(self) -> None:
        with self._transaction():
            self.make_tables_again()
            self.make_indexes()

    def close(self) -> None:
        """Closes the connection; what was committed stays in the file, and no transaction is left open."""
        self.connection.close()

    def version(self) -> tuple[int, int]:
        """Changes whenever anybody has written: commits by others, and changes of this connection.

        Raises :class:`KeptByNewer` as :meth:`look` does.
        """
        return self.look(), self.connection.total_changes

    # Tables made again

    def tables_are_older(self) -> bool:
        """Whether the tables are of an older program than this one."""
        with spoken(self.path):
            return tables.are_older(self.connection)

    @contextmanager
    def refilling(self) -> Iterator[None]:
        """One transaction, seen by other processes as one that makes the tables again; they wait as long as it takes.

        Waits for another one first.  All is kept, or nothing.
        """
        with spoken(self.path), self._marker.held(self.watch) if self._marker else nullcontext():
            self.connection.execute("PRAGMA foreign_keys = OFF")  # what is made from entries refers to nothing else
            try:
                with self._transaction():
                    self._refuse_newer()
                    yield
            finally:
                self.connection.execute("PRAGMA foreign_keys = ON")

    def make_tables_again(self) -> None:
        """Throws away all that was made from entries and makes today's tables, empty, inside a transaction."""
        tables.make_again(self.connection)

    def make_indexes(self) -> None:
        """Makes the indexes of tables made again and filled."""
        tables.make_indexes(self.connection)

    # Transactions

    @contextmanager
    def writing(self) -> Iterator[None]:
        """One transaction that has the right to write from its first statement; all of it is kept, or nothing.

        Raises :class:`KeptByNewer` where a newer program keeps the book by now.
        """
        with spoken(self.path):
            self._begin_after_refills()
            with self._kept_or_nothing():
                self._refuse_newer()
                yield

    def _begin_after_refills(self) -> None:
        while True:
            if self._marker is not None:
                self._marker.wait(self.watch)
            try:
                self.connection.execute("BEGIN IMMEDIATE")
                return
            except sqlite3.OperationalError as error:
                if "locked" not in str(error) or self._marker is None or not self._marker.is_held():
                    raise

    @contextmanager
    def _transaction(self) -> Iterator[None]:
        self.connection.execute("BEGIN IMMEDIATE")
        with self._kept_or_nothing():
            yield

    @contextmanager
    def _kept_or_nothing(self) -> Iterator[None]:
        try:
            yield
            self.connection.execute("COMMIT")
        except BaseException:
            if self.connection.in_transaction:
                self.connection.execute("ROLLBACK")
            raise

    @contextmanager
    def reading(self) -> Iterator[None]:
        """Several reads that see the same book, whatever others write meanwhile.

        Raises :class:`KeptByNewer` where a newer program keeps the book by now.
        """
        if self.connection.in_transaction:
            yield
            return
        with spoken(self.path):
            self.connection.execute("BEGIN")
            try:
                self.look()
                yield
            finally:
                if self.connection.in_transaction:
                    self.connection.execute("COMMIT")

    def look(self) -> int:
        """A number that changes with each commit by others.

        Raises :class:`KeptByNewer` where they have written since the last look and one was a newer program.
        """
        with spoken(self.path):
            version: int = self.connection.execute("PRAGMA data_version").fetchone()[0]
            if version != self._looked_at:
                self._refuse_newer()
                self._looked_at = version
        return version

    def _refuse_newer(self) -> None:
        if tables.are_newer(self.connection):
            raise KeptByNewer(
                said(
                    "This book is kept by a newer program: start this one again. Nothing was changed in {path}.",
                    path=self.path,
                )
            )

    def rows(self, sql: str, parameters: Parameters = ()) -> list[tuple[Any, ...]]:
        """All rows of a query.  Raises what SQLite reports as one of our errors."""
        try:
            return self._run(sql, parameters).fetchall()
        except sqlite3.DatabaseError as error:
            raise self._said(error) from error

    def row(self, sql: str, parameters: Parameters = ()) -> tuple[Any, ...] | None:
        """The first row of a query, None where there is none."""
        try:
            record: tuple[Any, ...] | None = self._run(sql, parameters).fetchone()
        except sqlite3.DatabaseError as error:
            raise self._said(error) from error
        return record

    def all(self, row: type[R], sql: str, parameters: Parameters = ()) -> list[R]:
        """All rows of a query, with names; raises as :meth:`rows` does."""
        try:
            return list(_named(row, self._run(sql, parameters)))
        except sqlite3.DatabaseError as error:
            raise self._said(error) from error

    def first(self, row: type[R], sql: str, parameters: Parameters = ()) -> R | None:
        """The first row of a query, with names; None where there is none."""
        record = self.row(sql, parameters)
        return None if record is None else row._make(record)

    def each(self, row: type[R], sql: str, parameters: Parameters = ()) -> Iterator[R]:
        """The rows of a query, with names; read only as far as they are taken."""
        return _named(row, self._run(sql, parameters))

    def values(self, sql: str, parameters: Parameters = ()) -> list[Any]:
        """The first column of all rows of a query."""
        return [value for value, *_ in self.rows(sql, parameters)]

    def value(self, sql: str, parameters: Parameters = ()) -> Any:
        """The first column of the first row of a query, None where there is none."""
        row = self.row(sql, parameters)
        return None if row is None else next(iter(row))

    def _run(self, sql: str, parameters: Parameters) -> sqlite3.Cursor:
        return self.connection.execute(sql, parameters)

    def _said(self, error: sqlite3.DatabaseError) -> StrokebookError:
        """What SQLite reports as a sentence; a table that is no longer as this program knows it is a newer one's."""
        if isinstance(error, sqlite3.OperationalError):
            self._refuse_newer()
        return _spoken_of(self.path, error)


def _named(row: type[R], cursor: sqlite3.Cursor) -> Iterator[R]:
    """The rows of a cursor with names.  Columns are counted once, not row by row as ``_make`` does it: that takes
    longer than to read the row."""
    assert len(cursor.description) == len(row._fields), row
    return map(partial(tuple.__new__, row), cursor)


def _memory() -> sqlite3.Connection:
    return sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)


def _connected(path: Path) -> sqlite3.Connection:
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


@contextmanager
def spoken(path: Path) -> Iterator[None]:
    """Turns what SQLite reports into a sentence for the person in front of it."""
    try:
        yield
    except sqlite3.DatabaseError as error:
        raise _spoken_of(path, error) from error


def _spoken_of(path: Path, error: sqlite3.DatabaseError) -> StrokebookError:
    if isinstance(error, sqlite3.OperationalError):
        return BookUnavailable(_sentence(path, str(error)))
    if isinstance(error, sqlite3.IntegrityError):
        return BookDamaged(said("{path} refused the change: {why}.", path=path, why=str(error)))
    return BookDamaged(
        said("{path} cannot be read as a book: {why}. Restore the last good backup.", path=path, why=str(error))
    )


def _sentence(path: Path, reported: str) -> Said:
    if "locked" in reported or "busy" in reported:
        return said(
            "{path} has been busy for {seconds} s because somebody else is writing. Try again; nothing was changed.",
            path=path,
            seconds=Figure(BUSY_SECONDS, ".0f"),
        )
    if "full" in reported:
        return said(
            "The disk of {path} is full. Free some space and try again; everything confirmed is safe.", path=path
        )
    if "I/O" in reported:
        return said(
            "The disk of {path} refused: {why}. Check its free space, quota and health and try again; "
            "everything confirmed is safe.",
            path=path,
            why=reported,
        )
    if "readonly" in reported:
        return said("{path} may not be written to: check the permissions on the file and its folder.", path=path)
    return said("{path} cannot be used: {why}. Check the path and its folder's permissions.", path=path, why=reported)

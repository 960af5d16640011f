"""Opening a book's file, and transactions that wait patiently and fail with a sentence."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, nullcontext
from os import urandom
from pathlib import Path
from typing import NamedTuple

from upkeep.errors import (
    BookDamaged,
    BookNotWritable,
    BookReplaced,
    BookUnavailable,
    KeptByNewer,
    StrokebookError,
)
from upkeep.progress import Watch, nobody
from upkeep.said import said
from upkeep.store import schema, tables
from upkeep.store.disk import turns
from upkeep.store.disk.connecting import (
    connected,
    connected_to_read,
    connected_where_nothing_can_be_written,
    in_memory,
    spoken,
    spoken_of,
)
from upkeep.store.disk.place import Place, make_private, refuse_what_is_left, remove_with_what_is_beside
from upkeep.store.disk.seals_beside import SealsBeside
from upkeep.store.disk.unproven import UnprovenMark
from upkeep.store.queries import Queries
from upkeep.store.remaking import Marker
from upkeep.store.rows.table import Table

Random = Callable[[int], bytes]
"""Gives so many random bytes: for the id of a book and the salts of its entries."""

APPLICATION_ID = 0x5374426B
"""Marks the file as a book ("StBk") in the SQLite header."""


class BookFile(Queries):
    """One open connection to a book's file, for one thread.

    Every connection has write-ahead logging, full synchronisation (a confirmed entry survives a power cut), foreign
    keys, and recursive triggers (so that INSERT OR REPLACE cannot slip past the triggers that keep entries).
    """

    schema = "main"
    """Where the tables that are read stand."""

    _immutable = False

    _follows = True
    """Whether this connection sees what others write."""

    def __init__(
        self, path: Path, connection: sqlite3.Connection, random: Random | None = None, *, in_file: bool = True
    ) -> None:
        self.path, self.connection = path, connection
        self.random = random or urandom
        self.watch: Watch = nobody
        """Is told while this connection waits for another process that makes the tables again."""
        self.cannot_write: BookNotWritable | None = None
        """Why nothing can be written to this file; None: it can."""
        self.unproven = UnprovenMark(path) if in_file else None
        """The sign that this book did not prove clean; None: it is no book that others open."""
        self.seals = SealsBeside(path) if in_file else None
        """The seals known of this book; None: it is no book that others open."""
        self._marker = Marker(path) if in_file else None
        self._looked_at: int | None = None
        self._place = Place(path) if in_file else None
        self._last_seen: tuple[int, bytes] | None = None

    @classmethod
    def create(cls, path: Path, random: Random | None = None) -> BookFile:
        """A new, empty book; raises :class:`BookUnavailable` where a file already is or cannot be.

        ``random`` is where its id and its salts come from; None: the system's source for secrets.
        """
        if path.exists():
            raise BookUnavailable(
                said("{path} already exists. Choose another name, or open it instead of making it.", path=path)
            )
        refuse_what_is_left(path)
        with spoken(path):
            try:
                make_private(path)
            except OSError as error:
                raise BookNotWritable(
                    said(
                        "{path} cannot be made: {why}. Check the path and its folder's permissions.",
                        path=path,
                        why=str(error.strerror),
                    )
                ) from error
            file = cls(path, connected(path), random)
            try:
                file._prepare()
                file.connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
                file._bring_forward()
                file._make_tables()
            except BaseException:
                file.close()
                remove_with_what_is_beside(path)
                raise
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
        return cls(path, connected(path))._checked()

    @classmethod
    def open_copy(cls, path: Path) -> BookFile:
        """A backup, opened so that nothing in it or beside it is written; its entries must be of the present schema."""
        if not path.is_file():
            raise BookUnavailable(said("There is no backup at {path}.", path=path))
        with spoken(path):
            file = cls(path, connected_to_read(path, immutable=True))
            file._immutable, file._follows, file.unproven, file.seals = True, False, None, None
        return file._checked()

    @classmethod
    def open_to_read(cls, path: Path, why: BookNotWritable) -> BookFile:
        """An existing book where nothing can be written, with all that was confirmed; writing raises ``why``, and so
        does this where the book cannot even be read so."""
        try:
            connection, follows = connected_where_nothing_can_be_written(path)
        except (sqlite3.OperationalError, OSError):
            raise why from None
        file = cls(path, connection)
        file.cannot_write, file._follows = why, follows
        return file._checked()

    def in_memory_copy(self) -> BookFile:
        """All of this file in memory, under its path."""
        copy = in_memory()
        with spoken(self.path):
            self.connection.backup(copy)
        file = BookFile(self.path, copy, in_file=False)
        file.cannot_write = self.cannot_write
        return file

    def lines_wanted(self, item: str | None = None) -> None:
        """The lines of an item, or all, are about to be read; they stand in the file."""

    def search_wanted(self) -> None:
        """Lines are about to be looked for by words; those in the file can be found."""

    def standings_wanted(self, item: str | None = None) -> None:
        """The hold and pause of an item, or all, are about to be read; they stand in the file."""

    def parts_of(self, table: Table[NamedTuple]) -> tuple[str, ...]:
        """The tables or views in which the rows of a table stand, each row in one of them."""
        return (table.name,)

    def another_connection(self) -> sqlite3.Connection:
        """A second connection to the same file, for reading."""
        with spoken(self.path):
            if self._marker is None:
                copy = in_memory()
                self.connection.backup(copy)
                return copy
            if self.cannot_write is not None:
                return connected_where_nothing_can_be_written(self.path)[0]
            return connected_to_read(self.path, immutable=self._immutable)

    @contextmanager
    def as_committed(self) -> Iterator[BookFile]:
        """The file as it was before the running transaction, read by a connection of its own."""
        with closing(self.another_connection()) as connection:
            yield BookFile(self.path, connection, in_file=False)

    def _prepare(self) -> None:
        for pragma in ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "recursive_triggers = ON"):
            self.connection.execute(f"PRAGMA {pragma}")

    def _checked(self) -> BookFile:
        try:
            self._check()
        except BaseException:
            self.close()
            raise
        return self

    def _check(self) -> None:
        """Looks before it touches: a file that is no book, or a newer one, stays as it is to the byte."""
        with spoken(self.path):
            if self.connection.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
                raise BookDamaged(said("{path} is not a Strokebook file.", path=self.path))
            version = tables.readable_version(self.connection, self.path)
            if self.cannot_write is not None:
                if version < schema.VERSION:
                    raise self.cannot_write
                return
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

    def version(self) -> tuple[int, ...]:
        """Changes whenever anybody has written (commits by others, and changes of this connection), and with another
        file.  Raises as :meth:`look` does.
        """
        identity = self._place.identity if self._place is not None else None
        return self.look(), self.connection.total_changes, *(identity or ())

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
        if self.cannot_write is not None and self._marker is not None:
            raise self.cannot_write
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

        Raises :class:`KeptByNewer` where a newer program keeps the book by now, :class:`BookReplaced` where the file is
        no longer the one that was opened, :class:`BookNotWritable` where nothing can be written.
        """
        if self.cannot_write is not None:
            raise self.cannot_write
        with spoken(self.path):
            self._begin_after_refills()
            with self._kept_or_nothing():
                self._see_others()
                self._refuse_another_book()
                yield
                self._remember_last()
                self._refuse_replaced()  # what is confirmed stands in the file that others open

    def _begin_after_refills(self) -> None:
        while True:
            if self._marker is not None:
                self._marker.wait(self.watch)
            try:
                turns.begin(self.connection, self.path)
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

        Raises :class:`KeptByNewer` where they have written since the last look and one was a newer program,
        :class:`BookReplaced` where the file is no longer the one that was opened.
        """
        with spoken(self.path):
            self._refuse_replaced()
            return self._see_others()

    def _see_others(self) -> int:
        """What :meth:`look` gives; what others did is looked at where they have written since the last time."""
        version: int = self.connection.execute("PRAGMA data_version").fetchone()[0]
        if version != self._looked_at:
            self._refuse_newer()
            self._refuse_another_book()
            self._remember_last()
            self._looked_at = version
        return version

    def _refuse_replaced(self) -> None:
        """Raises :class:`BookReplaced` where another file stands at the path by now, or none."""
        if self._place is not None and self._place.is_another(unchanged=not self._follows):
            raise self._replaced()

    def _refuse_another_book(self) -> None:
        """Raises :class:`BookReplaced` where the entry that was last when this file was looked at is no longer what it
        was: another book was copied over this one."""
        if self._last_seen is not None and self._last_seen != self._entry(self._last_seen[0]):
            raise self._replaced()

    def _remember_last(self) -> None:
        self._last_seen = self._entry(None)

    def _entry(self, number: int | None) -> tuple[int, bytes] | None:
        """Number and link of an entry, None: of the last one; None where there is no such entry."""
        which = "ORDER BY id DESC LIMIT 1" if number is None else "WHERE id = ?"
        row: tuple[int, bytes] | None = self.connection.execute(
            f"SELECT id, hash FROM main.entries {which}", () if number is None else (number,)
        ).fetchone()
        return row

    def _replaced(self) -> BookReplaced:
        return BookReplaced(
            said(
                "{path} was replaced or moved away while this program had it open. What was not confirmed before is "
                "not written; look again before you go on.",
                path=self.path,
            )
        )

    def _refuse_newer(self) -> None:
        if tables.are_newer(self.connection):
            raise KeptByNewer(
                said(
                    "This book is kept by a newer program: start this one again. Nothing was changed in {path}.",
                    path=self.path,
                )
            )

    def _said(self, error: sqlite3.DatabaseError) -> StrokebookError:
        """What SQLite reports as a sentence; a table that is no longer as this program knows it is a newer one's."""
        if isinstance(error, sqlite3.OperationalError):
            self._refuse_newer()
        return spoken_of(self.path, error)

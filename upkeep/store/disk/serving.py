"""The sign that a service keeps a book: one service a book, and a second one is told who runs.

A file beside the book holds who keeps it; its keeper holds a lock on it that goes when the process ends, however it
ends.  The file stays: a sign on which nobody holds a lock means nothing.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from upkeep.errors import BookUnavailable
from upkeep.said import said
from upkeep.store.disk.connecting import spoken

_LOOK_SECONDS = 1.0


@contextmanager
def kept_by(book_path: Path, who: str) -> Iterator[None]:
    """Signs that ``who`` keeps a book, until the end; raises :class:`BookUnavailable` where somebody else does."""
    book = book_path.resolve()
    sign = book.with_name(f"{book.name}-served")
    with spoken(sign), closing(sqlite3.connect(sign, timeout=_LOOK_SECONDS, isolation_level=None)) as connection:
        while True:
            _begin(connection, book_path)
            connection.execute("CREATE TABLE IF NOT EXISTS served (who TEXT)")
            connection.execute("DELETE FROM served")
            connection.execute("INSERT INTO served VALUES (?)", (who,))
            connection.execute("COMMIT")
            _begin(connection, book_path)  # nothing is written in this one: until it ends others may read who it is
            if connection.execute("SELECT who FROM served").fetchone() == (who,):
                break
            connection.execute("ROLLBACK")
        yield


def _begin(connection: sqlite3.Connection, book_path: Path) -> None:
    """Begins a transaction while which nobody else may begin one."""
    try:
        connection.execute("BEGIN IMMEDIATE")
    except sqlite3.OperationalError as error:
        if "locked" not in str(error):
            raise
        raise BookUnavailable(
            said(
                "{book} is served already, by {who}. One service keeps a book: stop that one first.",
                book=book_path,
                who=_who(connection),
            )
        ) from None


def _who(connection: sqlite3.Connection) -> str:
    try:
        found = connection.execute("SELECT who FROM served").fetchone()
    except sqlite3.OperationalError:  # it is being written at this moment
        found = None
    return str(found[0]) if found else "another process"

"""Writers take turns: whoever asks first writes first, however fast the others are.

SQLite lets a waiting writer look again after ever longer pauses, and meanwhile whoever comes by gets in: of thirty at
full speed some are told for fifteen seconds that the book is busy.  So before a writer waits for the book it waits for
its turn, a lock (``flock``) that the system hands on in the order in which it was asked for, and gives the turn back
when it has begun to write.  Whoever has just written and wants to write again stands behind those who wait.

The lock lies on the book's write-ahead log, which is there while anybody has the book open: nothing is left behind, and
the turn of a process that ends is free.  Where a system has no such lock, writers wait as SQLite has them wait.
"""

from __future__ import annotations

import os
import sqlite3
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from upkeep.store.disk import connecting

if sys.platform != "win32":
    import fcntl

    def _take(log: int) -> None:
        fcntl.flock(log, fcntl.LOCK_EX)

    def _is_free(log: int) -> bool:
        try:
            fcntl.flock(log, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
else:

    def _take(log: int) -> None:
        """There is no such lock."""

    def _is_free(log: int) -> bool:
        return True


def begin(connection: sqlite3.Connection, book_path: Path) -> None:
    """Begins a transaction that may write, when it is this writer's turn.

    Raises :class:`sqlite3.OperationalError` where the book was not free for as long as a writer waits and nobody got in
    meanwhile; where others did, it waits on.
    """
    patience = connecting.BUSY_SECONDS
    before, since = _version(connection), time.monotonic()
    with _turn(book_path):
        if time.monotonic() - since < patience or _version(connection) != before:
            connection.execute("BEGIN IMMEDIATE")
            return
        connection.execute("PRAGMA busy_timeout = 0")  # those before this one have waited in vain, and so has this one
        try:
            connection.execute("BEGIN IMMEDIATE")
        finally:
            connection.execute(f"PRAGMA busy_timeout = {int(1000 * patience)}")


def _version(connection: sqlite3.Connection) -> int:
    version: int = connection.execute("PRAGMA data_version").fetchone()[0]
    return version


@contextmanager
def _turn(book_path: Path) -> Iterator[None]:
    log = _opened(book_path)
    if log is None:
        yield
        return
    try:
        _take(log)
        yield
    finally:
        os.close(log)  # and with it goes the lock


def is_free(book_path: Path) -> bool:
    """Whether nobody waits for the book at this moment."""
    log = _opened(book_path)
    if log is None:
        return True
    try:
        return _is_free(log)
    finally:
        os.close(log)


def _opened(book_path: Path) -> int | None:
    try:
        return os.open(f"{book_path}-wal", os.O_RDONLY)
    except OSError:
        return None

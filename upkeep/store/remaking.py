"""The marker by which other processes see that somebody is making the tables of a book again.

It is a file beside the book on which its maker holds a lock: the lock goes when its maker ends, however it ends, and a
marker that nobody holds means nothing.
"""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from upkeep.progress import Progress, Watch

_LOOK_SECONDS = 0.1
_SAY_SECONDS = 1.0


class Marker:
    """The marker of one book."""

    def __init__(self, book_path: Path) -> None:
        self._path = book_path.with_name(f"{book_path.name}-refill")

    def is_held(self) -> bool:
        """Whether a process makes the tables again at this moment."""
        if not self._path.exists():
            return False
        try:
            with closing(self._connected("rw", 0.0)) as connection:
                connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
        except sqlite3.OperationalError as error:
            return "locked" in str(error)  # otherwise it has just gone
        return False

    def wait(self, watch: Watch) -> None:
        """Waits while somebody holds it, as long as it takes, and says so once a second."""
        if not self.is_held():
            return
        said = None
        while self.is_held():
            if said is None or time.monotonic() - said >= _SAY_SECONDS:
                watch(Progress("waiting", 0, 1))
                said = time.monotonic()
            time.sleep(_LOOK_SECONDS)
        watch(Progress("waiting", 1, 1))

    @contextmanager
    def held(self, watch: Watch) -> Iterator[None]:
        """Holds the marker while the tables are made; tells ``watch`` while another process holds it, however long."""
        try:
            with closing(self._taken(watch)):
                yield
        finally:
            with suppress(OSError):  # somebody else holds it by now, on systems that keep a file that is open
                self._path.unlink()

    def _taken(self, watch: Watch) -> sqlite3.Connection:
        while True:
            self.wait(watch)
            connection = self._connected("rwc", 1.0)
            try:
                connection.execute("BEGIN EXCLUSIVE")
                return connection
            except sqlite3.OperationalError as error:
                connection.close()
                if "locked" not in str(error):
                    raise

    def _connected(self, mode: str, timeout: float) -> sqlite3.Connection:
        uri = f"{self._path.absolute().as_uri()}?mode={mode}"
        return sqlite3.connect(uri, uri=True, timeout=timeout, isolation_level=None)

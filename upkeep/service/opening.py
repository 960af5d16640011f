"""The book opened for one job; what it waits for, and that its tables were made again, is told in the log."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from upkeep.book import Book, Progress

log = logging.getLogger(__name__)


@contextmanager
def opened(path: Path) -> Iterator[Book]:
    """The book at a path, closed afterwards."""
    with Book.open(path, _Waiting(path).heed) as book:
        if book.tables_made_again:
            log.info("The tables of %s were made by an older program and have been rebuilt.", path)
        yield book


class _Waiting:
    """Tells once of each wait."""

    def __init__(self, path: Path) -> None:
        self._path, self._announced = path, False

    def heed(self, progress: Progress) -> None:
        """Hears of work that goes on."""
        if progress.stage == "waiting":
            if not self._announced:
                log.info("Another program is rebuilding the tables of %s; waiting for it.", self._path)
            self._announced = progress.done < progress.of

"""The book opened for one job; what it waits for, and that its tables were made again, is told in the log."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from upkeep.book import Book, Progress, Watch, nobody

log = logging.getLogger(__name__)

_told_of_network: set[Path] = set()
"""Books on network drives of which the log tells already: once is enough for a process."""


@contextmanager
def opened(path: Path, watch: Watch = nobody) -> Iterator[Book]:
    """The book at a path, closed afterwards; ``watch`` is told how far long work on it has come."""
    with Book.open(path, _Waiting(path, watch).heed) as book:
        if book.tables_made_again:
            log.info("The tables of %s were made by an older program and have been rebuilt.", path)
        if book.on_network is not None and path not in _told_of_network:
            log.warning("%s", book.on_network)
            _told_of_network.add(path)
        yield book


class _Waiting:
    """Tells once of each wait, and another watch of everything."""

    def __init__(self, path: Path, watch: Watch) -> None:
        self._path, self._watch, self._announced = path, watch, False

    def heed(self, progress: Progress) -> None:
        """Hears of work that goes on."""
        self._watch(progress)
        if progress.stage == "waiting":
            if not self._announced:
                log.info("Another program is rebuilding the tables of %s; waiting for it.", self._path)
            self._announced = progress.done < progress.of

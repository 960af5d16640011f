"""Long statements of a connection heed the watch of the work that they are part of."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from upkeep.progress import Progress, Watch

_STEPS = 200_000
"""Steps of SQLite's own machine between two words to a watch: some milliseconds."""


class Heeding:
    """Tells a watch again what it was last told while SQLite works on one statement, which may take minutes.

    What the watch raises breaks the statement off, and comes out of :meth:`over`: not what was made of that meanwhile.
    """

    def __init__(self, watch: Watch) -> None:
        self._watch, self._last = watch, Progress("reading", 0, 1)
        self._raised: BaseException | None = None

    def tell(self, progress: Progress) -> None:
        """Tells the watch how far the work has come."""
        self._last = progress
        self._watch(progress)

    @contextmanager
    def over(self, connection: sqlite3.Connection) -> Iterator[None]:
        """Listens to the statements of a connection."""
        connection.set_progress_handler(self._again, _STEPS)
        try:
            yield
        finally:
            connection.set_progress_handler(None, 0)
            if self._raised is not None:
                raise self._raised from None

    def _again(self) -> bool:
        """Whether the statement is to be broken off."""
        try:
            self._watch(self._last)
        except BaseException as error:
            self._raised = error
        return self._raised is not None

"""The end of a service: what is asked of the work that is going on when somebody asks it to stop."""

from __future__ import annotations

import threading
import time

from upkeep.book import Progress

GRACE_SECONDS = 2.0
"""How long work may go on after the service was asked to stop; what takes longer is given up and leaves nothing."""


class GivenUp(Exception):
    """Work was given up because the service stops; it is done at the next start."""


class Ending:
    """Whether a service is asked to stop, and since when."""

    def __init__(self, asked: threading.Event) -> None:
        self._asked = asked
        self._since: float | None = None

    def is_asked(self) -> bool:
        """Whether the service is to stop."""
        if self._since is None and self._asked.is_set():
            self._since = time.monotonic()
        return self._since is not None

    def heed(self, progress: Progress | None = None) -> None:
        """Hears how far long work has come; raises :class:`GivenUp` where the service was asked to stop a while ago."""
        if self.is_asked() and self._since is not None and time.monotonic() - self._since >= GRACE_SECONDS:
            raise GivenUp

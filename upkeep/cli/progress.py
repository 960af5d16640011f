"""How far long work has come, on stderr, for somebody at a terminal; nothing where stderr is piped."""

from __future__ import annotations

import sys
import time
from pathlib import Path

from upkeep.book import Progress, Watch
from upkeep.units.quantities import grouped, span_text

SHOWN_AFTER = 1.0
"""Seconds of work before anything is shown: what is done sooner needs no word."""

_EACH = 0.2
_WIDTH = 79

MAKING_TABLES, PROVING, BUILDING = "Rebuilding the tables of {book}", "Proving {book}", "Building {book}"
ENTERING, COUNTING, PRINTING = "Entering into {book}", "Working out figures of {book}", "Printing the week of {book}"
GATHERING = "Gathering the week of {book}"
"""What long work does with a book."""

_STAGES = {
    "following": "{done} of {of} entries followed along the chain",
    "reading": "{done} of {of} entries read",
    "judging": "all entries replayed, {done} of {of} lines judged",
    "filling": "{of} rows written",
    "comparing": "{done} of {of} tables compared",
    "days": "{done} of {of} days written",
    "lines": "{done} of {of} lines of the file read",
    "checking": "{done} of {of} entries checked",
    "adding": "{done} of {of} entries added",
    "figures": "{done} of {of} lines of the board gone through",
    "calling": "{done} of {of} lines open or due",
    "ahead": "{done} of {of} lines for later",
    "rows": "{done} of {of} rows set",
    "pages": "{done} of {of} pages drawn",
}

_DOING = {
    "lines": ENTERING,
    "checking": ENTERING,
    "adding": ENTERING,
    "figures": COUNTING,
    "calling": GATHERING,
    "ahead": GATHERING,
    "rows": PRINTING,
    "pages": PRINTING,
}
"""What is being done with a book in stages that come in no other work."""

_LAST = ("waiting", "filling", "comparing", "days", "entered", "figures", "gathered", "pages")
"""Stages with whose end the work is done."""


def watch_of(path: Path, doing: str = MAKING_TABLES) -> Watch:
    """A watch for long work on a book; ``doing`` says which."""
    return _Line(path, doing).show if sys.stderr.isatty() else _silent


def _silent(progress: Progress) -> None:
    """Says nothing: whatever reads a pipe has no use for it."""


class _Line:
    """One line at the foot of the terminal, written over again and again, and wiped when the work is done."""

    def __init__(self, path: Path, doing: str) -> None:
        self._path, self._doing = path, doing
        self._began = self._said = time.monotonic()
        self._stage, self._is_shown = "", False
        self._stage_began = self._began

    def show(self, progress: Progress) -> None:
        """Says how far it is, and how long this stage still takes."""
        now = time.monotonic()
        if progress.stage != self._stage:
            self._stage, self._stage_began = progress.stage, now
        waits = progress.stage == "waiting"
        if progress.done == progress.of and progress.stage in _LAST:
            if self._is_shown:
                self._write("")
        elif waits or (now - self._began >= SHOWN_AFTER and now - self._said >= _EACH):
            self._said, self._is_shown = now, True
            self._write(self._waiting(now) if waits else self._working(progress, now))

    def _waiting(self, now: float) -> str:
        return (
            f"Another program is rebuilding the tables of {self._path.name}; waiting, {span_text(now - self._began)}."
        )

    def _working(self, progress: Progress, now: float) -> str:
        stage = _STAGES[progress.stage].format(done=grouped(progress.done), of=grouped(progress.of))
        left = (now - self._stage_began) / progress.done * (progress.of - progress.done) if progress.done else 0
        more = f", {span_text(left)} left" if left >= 1 else ""
        doing = _DOING.get(progress.stage, self._doing).format(book=self._path.name)
        return f"{doing}: {stage}{more}."

    def _write(self, text: str) -> None:
        sys.stderr.write(f"\r{text[:_WIDTH]:<{_WIDTH}}\r")
        sys.stderr.flush()

"""How far long work has come, on stderr, for somebody at a terminal; nothing where stderr is piped."""

from __future__ import annotations

import sys
import time
from pathlib import Path

from upkeep.book import Progress, Watch
from upkeep.cli import saying
from upkeep.said import Said, said
from upkeep.units.quantities import in_time
from upkeep.wording.sentences import text

SHOWN_AFTER = 1.0
"""Seconds of work before anything is shown: what is done sooner needs no word."""

_EACH = 0.2
_WIDTH = 79

MAKING_TABLES, PROVING, BUILDING, ENTERING = "rebuilding", "proving", "building", "entering"
COUNTING, PRINTING, GATHERING, COPYING = "counting", "printing", "gathering", "copying"
GOING_BACK, READING, ASKING, GOING_THROUGH = "returning", "reading", "asking", "going-through"
GATHERING_EVIDENCE = "evidence"
PLAYING = "playing"
"""What long work does with a book."""


def _works(book: str) -> dict[str, Said]:
    return {
        MAKING_TABLES: said("Rebuilding the tables of {book}", book=book),
        PROVING: said("Proving {book}", book=book),
        BUILDING: said("Building {book}", book=book),
        ENTERING: said("Entering into {book}", book=book),
        COUNTING: said("Working out figures of {book}", book=book),
        PRINTING: said("Printing the week of {book}", book=book),
        GATHERING: said("Gathering the week of {book}", book=book),
        COPYING: said("Copying {book}", book=book),
        GOING_BACK: said("Going back in {book}", book=book),
        READING: said("Reading {book}", book=book),
        ASKING: said("Gathering the questions of {book}", book=book),
        GATHERING_EVIDENCE: said("Gathering evidence from {book}", book=book),
        GOING_THROUGH: said("Gathering the faults of {book}", book=book),
        PLAYING: said("Playing the year ahead of {book}", book=book),
    }


def _stages(done: int, of: int) -> dict[str, Said]:
    return {
        "following": said("{done} of {of} entries followed along the chain", done=done, of=of),
        "reading": said("{done} of {of} entries read", done=done, of=of),
        "judging": said("all entries replayed, {done} of {of} lines judged", done=done, of=of),
        "filling": said("{of} rows written", of=of),
        "comparing": said("{done} of {of} tables compared", done=done, of=of),
        "days": said("{done} of {of} days written", done=done, of=of),
        "lines": said("{done} of {of} lines of the file read", done=done, of=of),
        "checking": said("{done} of {of} entries checked", done=done, of=of),
        "adding": said("{done} of {of} entries added", done=done, of=of),
        "figures": said("{done} of {of} lines of the board gone through", done=done, of=of),
        "calling": said("{done} of {of} lines open or due", done=done, of=of),
        "ahead": said("{done} of {of} lines for later", done=done, of=of),
        "worded": said("{done} of {of} rows worded", done=done, of=of),
        "rows": said("{done} of {of} rows set", done=done, of=of),
        "pages": said("{done} of {of} pages drawn", done=done, of=of),
        "copying": said("{done} of {of} MB copied", done=done, of=of),
        "taking": said("{done} of {of} later entries taken back", done=done, of=of),
        "settling": said("effects of {done} of {of} later entries undone", done=done, of=of),
        "lined": said("{done} of {of} lines judged", done=done, of=of),
        "entries-worded": said("{done} of {of} entries put into words", done=done, of=of),
        "asked": said("{done} of {of} counts that were not taken gone through", done=done, of=of),
        "answers": said("{done} of {of} questions answered", done=done, of=of),
        "cases": said("{done} of {of} faults gone through", done=done, of=of),
        "played": said("{done} of {of} days played", done=done, of=of),
        "weeks": said("{done} of {of} past weeks planned again", done=done, of=of),
    }


_DOING = {
    "lines": ENTERING,
    "checking": ENTERING,
    "adding": ENTERING,
    "figures": COUNTING,
    "calling": GATHERING,
    "ahead": GATHERING,
    "worded": PRINTING,
    "rows": PRINTING,
    "pages": PRINTING,
    "copying": COPYING,
    "taking": GOING_BACK,
    "settling": GOING_BACK,
    "lined": GOING_BACK,
    "entries-worded": READING,
    "asked": ASKING,
    "cases": GOING_THROUGH,
    "answers": GATHERING_EVIDENCE,
    "played": PLAYING,
    "weeks": GOING_BACK,
}
"""What is being done with a book in stages that come in no other work."""

_LAST = (
    "waiting",
    "filling",
    "comparing",
    "days",
    "entered",
    "figures",
    "gathered",
    "pages",
    "copying",
    "settling",
    "lined",
    "entries-worded",
    "asked",
    "cases",
    "answers",
    "played",
    "weeks",
)
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
            self._write(text(self._waiting(now) if waits else self._working(progress, now), saying.READER))

    def _waiting(self, now: float) -> Said:
        return said(
            "Another program is rebuilding the tables of {book}; waiting, {time}.",
            book=self._path.name,
            time=in_time(now - self._began),
        )

    def _working(self, progress: Progress, now: float) -> Said:
        stage = _stages(progress.done, progress.of)[progress.stage]
        left = (now - self._stage_began) / progress.done * (progress.of - progress.done) if progress.done else 0
        doing = _works(self._path.name)[_DOING.get(progress.stage, self._doing)]
        if left < 1:
            return said("{doing}: {stage}.", doing=doing, stage=stage)
        return said("{doing}: {stage}, {time} left.", doing=doing, stage=stage, time=in_time(left))

    def _write(self, shown: str) -> None:
        sys.stderr.write(f"\r{shown[:_WIDTH]:<{_WIDTH}}\r")
        sys.stderr.flush()

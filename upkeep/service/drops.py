"""A folder into which other programs drop CSV files: each is taken into the book once nobody writes to it any more.

A file whose lines were all good goes to ``taken``, any other to ``refused``, with a text beside it that says what is
wrong with which line.  It is moved after the book has what it tells, so a run killed in between takes it again, which
changes nothing.  Files whose names begin with a dot are left alone: so other programs hide what they still write.
"""

from __future__ import annotations

import logging
import os
from collections.abc import Callable, Iterator
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from enum import IntEnum
from itertools import count
from pathlib import Path

from upkeep.book import Book, Proven, Watch, nobody
from upkeep.book.door import Clock, asked
from upkeep.errors import Unreadable
from upkeep.said import Said, in_turn, said
from upkeep.service.ending import GivenUp
from upkeep.service.failures import is_unexpected, sentence, words
from upkeep.service.opening import opened
from upkeep.sources.drop import Taken, kind_of, take

TAKEN, REFUSED = "taken", "refused"

SETTLED_AFTER = timedelta(seconds=2)
"""A file changed less than this ago may still be written to."""


class Left(IntEnum):
    """What waits in the folder after a look."""

    NOTHING = 0
    UNSETTLED = 1
    """Files that may still be written to."""
    MORE = 2
    """Files for which there was no time."""


Prove = Callable[[Book], Proven]
"""Proves whose name stands under what is taken."""

Look = tuple[int, int]
"""What changes when a file is written to or replaced: its size, and when it was changed (nanoseconds)."""

_TOLD_AT = 2
"""The look at which something that is passed over is told."""

log = logging.getLogger(__name__)


def _never() -> bool:
    return False


class DropFolder:
    """The files of one folder, taken in the name of one person; remembers how each looked the last time.

    ``prove`` proves that name, each time anew: a token may have been withdrawn since.
    """

    def __init__(self, folder: Path, book_path: Path, by: str, prove: Prove | None = None) -> None:
        self._folder, self._book_path, self._by, self._prove = folder, book_path, by, prove
        self._looks: dict[Path, Look] = {}
        self._said: dict[Path, str] = {}
        self._passed: dict[Path, int] = {}

    def look(self, clock: datetime | Clock, is_enough: Callable[[], bool] = _never, watch: Watch = nobody) -> Left:
        """Takes the files that have settled, in the order of their names, until ``is_enough`` says so before one of
        them; says what is left.

        What goes wrong is told once; the file stays where it is and is tried again at the next look.  ``watch`` is told
        how far a file has come; where it raises :class:`GivenUp` nothing of that file is in the book.
        """
        try:
            before, self._looks = self._looks, dict(self._looked())
        except OSError as error:
            self._tell(self._folder, error)
            return Left.NOTHING
        self._tell_passed()
        self._said = {path: why for path, why in self._said.items() if path in self._looks}
        at = asked(clock)
        settled = [path for path, look in self._looks.items() if before.get(path) == look and _is_quiet(look, at)]
        for path in settled:
            if is_enough():
                return Left.MORE
            try:
                self._take(path, clock, watch)
            except GivenUp:
                raise
            except Exception as error:
                self._tell(path, error)
        return Left.UNSETTLED if len(settled) < len(self._looks) else Left.NOTHING

    def _looked(self) -> Iterator[tuple[Path, Look]]:
        before, self._passed = self._passed, {}
        for path in sorted(self._folder.iterdir()):
            if path.name.startswith(".") or path.name in (TAKEN, REFUSED):
                continue
            if path.suffix.lower() == ".csv" and path.is_file():
                with suppress(FileNotFoundError):  # taken away again meanwhile
                    yield path, _look_of(path)
            else:
                self._passed[path] = before.get(path, 0) + 1

    def _tell_passed(self) -> None:
        """Tells once of each thing that is never taken, at the second look: some programs write under another name."""
        for path, looks in self._passed.items():
            if looks == _TOLD_AT:
                log.warning("%s", words(said("{file} is passed over: {why}.", file=path, why=_why_passed(path))))

    def _take(self, path: Path, clock: datetime | Clock, watch: Watch) -> None:
        with path.open("rb"):  # a file that may not be read yet is not at fault; it waits
            pass
        taken = self._taken(path, clock, watch)
        for note in taken.notes:
            log.warning("%s", words(said("{file}: Note: {note}", file=path.name, note=note)))
        if _look_of(path) != self._looks[path]:
            return  # written to or replaced meanwhile: what is new in it is taken at a later look
        if taken.problems:
            moved = self._refuse(path, taken)
            moved_text = said("It is in {target}; {name}.txt beside it says why.", target=moved, name=moved.name)
            log.warning("%s", words(in_turn(taken.outcome(path.name), moved_text)))
        else:
            moved = self._move(path, self._folder / TAKEN)
            log.info("%s", words(in_turn(taken.outcome(path.name), said("It is in {target}.", target=moved))))

    def _taken(self, path: Path, clock: datetime | Clock, watch: Watch) -> Taken:
        try:
            file_kind = kind_of(path)
            with opened(self._book_path, watch) as book:
                proven = self._prove(book) if self._prove is not None else None
                return take(book, path, file_kind, self._by, clock, watch, proven)
        except Unreadable as error:
            return Taken(said("lines"), 0, 0, (error.said,))

    def _refuse(self, path: Path, taken: Taken) -> Path:
        """Moves a file aside; what is wrong with it is there first, so that it is never there without."""
        target = _free(self._folder / REFUSED, path)
        text = "\n".join((*map(words, (taken.outcome(path.name), *taken.problems)), ""))
        target.with_name(f"{target.name}.txt").write_text(text, encoding="utf-8")
        os.replace(path, target)
        return target

    def _move(self, path: Path, folder: Path) -> Path:
        target = _free(folder, path)
        os.replace(path, target)
        return target

    def _tell(self, path: Path, error: Exception) -> None:
        why = sentence(error)
        if self._said.get(path) != why:
            failed = said("{file} could not be taken in. {why} Trying again.", file=path, why=why)
            log.error("%s", words(failed), exc_info=is_unexpected(error))
        self._said[path] = why


def _why_passed(path: Path) -> Said:
    if path.is_dir():
        return said("it is a folder")
    if path.is_file():
        return said("its name does not end in .csv")
    return said("it is a link to nothing") if path.is_symlink() else said("it is no file")


def _look_of(path: Path) -> Look:
    status = path.stat()
    return status.st_size, status.st_mtime_ns


def _is_quiet(look: Look, at: datetime) -> bool:
    """Whether a file was changed long enough ago, or by a clock so far ahead that it says nothing."""
    return abs(at - datetime.fromtimestamp(look[1] / 10**9, UTC)) >= SETTLED_AFTER


def _free(folder: Path, path: Path) -> Path:
    """A name in a folder that neither a file nor a text about one has yet: the file's own, or that with a number."""
    folder.mkdir(exist_ok=True)
    names = (path.name if number == 1 else f"{path.stem}-{number}{path.suffix}" for number in count(1))
    return next(
        folder / name for name in names if not any((folder / f"{name}{ending}").exists() for ending in ("", ".txt"))
    )

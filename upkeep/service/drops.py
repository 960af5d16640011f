"""A folder into which other programs drop CSV files: each is taken into the book once nobody writes to it any more.

A file whose lines were all good goes to ``taken``, any other to ``refused``, with a text beside it that says what is
wrong with which line.  It is moved after the book has what it tells, so a run killed in between takes it again, which
changes nothing.  Files whose names begin with a dot are left alone: so other programs hide what they still write.
"""

from __future__ import annotations

import logging
import os
from collections.abc import Iterator
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

from upkeep.errors import Unreadable
from upkeep.said import in_turn, said
from upkeep.service.failures import is_unexpected, sentence, words
from upkeep.service.opening import opened
from upkeep.sources.drop import Taken, kind_of, take

TAKEN, REFUSED = "taken", "refused"

SETTLED_AFTER = timedelta(seconds=2)
"""A file changed less than this ago may still be written to."""

Look = tuple[int, int]
"""What changes when a file is written to or replaced: its size, and when it was changed (nanoseconds)."""

log = logging.getLogger(__name__)


class DropFolder:
    """The files of one folder, taken in the name of one person; remembers how each looked the last time."""

    def __init__(self, folder: Path, book_path: Path, by: str) -> None:
        self._folder, self._book_path, self._by = folder, book_path, by
        self._looks: dict[Path, Look] = {}
        self._said: dict[Path, str] = {}

    def look(self, at: datetime) -> bool:
        """Takes the files that have settled, in the order of their names; says whether others still wait for that.

        What goes wrong is told once; the file stays where it is and is tried again at the next look.
        """
        try:
            before, self._looks = self._looks, dict(self._looked())
        except OSError as error:
            self._tell(self._folder, error)
            return False
        self._said = {path: why for path, why in self._said.items() if path in self._looks}
        settled = [path for path, look in self._looks.items() if before.get(path) == look and _is_quiet(look, at)]
        for path in settled:
            try:
                self._take(path, at)
            except Exception as error:
                self._tell(path, error)
        return len(settled) < len(self._looks)

    def _looked(self) -> Iterator[tuple[Path, Look]]:
        for path in sorted(self._folder.iterdir()):
            if path.suffix.lower() == ".csv" and not path.name.startswith(".") and path.is_file():
                with suppress(FileNotFoundError):  # taken away again meanwhile
                    yield path, _look_of(path)

    def _take(self, path: Path, at: datetime) -> None:
        with path.open("rb"):  # a file that may not be read yet is not at fault; it waits
            pass
        taken = self._taken(path, at)
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

    def _taken(self, path: Path, at: datetime) -> Taken:
        try:
            file_kind = kind_of(path)
            with opened(self._book_path) as book:
                return take(book, path, file_kind, self._by, at)
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


def _look_of(path: Path) -> Look:
    status = path.stat()
    return status.st_size, status.st_mtime_ns


def _is_quiet(look: Look, at: datetime) -> bool:
    """Whether a file was changed long enough ago, or by a clock so far ahead that it says nothing."""
    return abs(at - datetime.fromtimestamp(look[1] / 10**9, UTC)) >= SETTLED_AFTER


def _free(folder: Path, path: Path) -> Path:
    """A name in a folder that no file has yet: the file's own, or that with a number."""
    folder.mkdir(exist_ok=True)
    names = (path.name if number == 1 else f"{path.stem}-{number}{path.suffix}" for number in count(1))
    return next(folder / name for name in names if not (folder / name).exists())

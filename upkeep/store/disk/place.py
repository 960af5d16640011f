"""The file at a path: who may read it, and whether it is still the one that was opened.

Its owner may read it, and the plant's group where the folder gives its files to a group.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable
from pathlib import Path

from upkeep.errors import BookUnavailable
from upkeep.said import listed, said

Identity = tuple[int, ...]

_OWNER = stat.S_IRUSR | stat.S_IWUSR
_GROUP = stat.S_IRGRP | stat.S_IWGRP
_OTHERS = stat.S_IRWXO


BESIDE = ("-wal", "-shm", "-journal")
"""The endings of the files that SQLite keeps beside a book; the first and the last hold what was confirmed."""

UNPROVEN = "-unproven"
"""The ending of the mark beside a book that did not prove clean."""


def refuse_what_is_left(path: Path) -> None:
    """Raises :class:`BookUnavailable` where a book is, or what SQLite kept beside one: played over the next book of
    that name it would damage it, or be lost."""
    there = [str(file) for ending in ("", *BESIDE) if (file := Path(f"{path}{ending}")).exists()]
    if there:
        raise BookUnavailable(
            said(
                "Already there: {files}. Close every program that has the book open, then move all of these aside "
                "together: no book is ever overwritten, and what is left beside one damages the next.",
                files=listed(there),
            )
        )


def remove_with_what_is_beside(path: Path) -> None:
    """Removes a file that is no book yet, or no longer wanted, and what was kept beside it."""
    for ending in ("", *BESIDE, UNPROVEN):
        Path(f"{path}{ending}").unlink(missing_ok=True)


class Place:
    """A path, and which file stood there first."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self.identity = self._identity()
        """Device and number of the file, as the system has them; None: there was none."""
        self._content = self._changed()

    def is_another(self, *, unchanged: bool) -> bool:
        """Whether another file stands there by now, or none; ``unchanged``: also whether it was written to."""
        return self._identity() != self.identity or (unchanged and self._changed() != self._content)

    def _identity(self) -> Identity | None:
        try:
            status = self._path.stat()
        except OSError:
            return None
        return status.st_dev, status.st_ino

    def _changed(self) -> Identity | None:
        try:
            status = self._path.stat()
        except OSError:
            return None
        return status.st_size, status.st_mtime_ns


def make_private(path: Path) -> None:
    """Makes an empty file that its owner alone may read, whatever the umask; in a folder whose files all belong to its
    group (set-group-ID) that group may, too.  What SQLite makes beside a book takes after it.

    Raises OSError where it cannot be made, FileExistsError where it is there.
    """
    shared = os.stat(path.parent).st_mode & stat.S_ISGID
    descriptor = os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY)
    try:
        if hasattr(os, "fchmod"):  # not on Windows, where folders say who may read
            os.fchmod(descriptor, _OWNER | _GROUP if shared else _OWNER)
    finally:
        os.close(descriptor)


def open_to_all(paths: Iterable[Path]) -> list[Path]:
    """Those of some files that everybody on this machine may read or write; none where the system does not say."""
    if os.name == "nt":
        return []
    return [path for path in paths if path.exists() and path.stat().st_mode & _OTHERS]

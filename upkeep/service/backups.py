"""Backups in a folder of their own: each proven before it gets its name, the newest kept.

The moment a backup was made stands in its name, in UTC, so it survives copying.  A file with such a name was proven.
"""

from __future__ import annotations

import os
import re
from datetime import UTC, datetime
from glob import escape
from pathlib import Path

from upkeep.book import Book, Watch, nobody
from upkeep.errors import BookDamaged, Refused
from upkeep.said import said

_MOMENT = "%Y-%m-%dT%H%M%SZ"


class Backups:
    """The backups of one book.  Raises :class:`Refused` where not even one is to be kept."""

    def __init__(self, folder: Path, book_path: Path, keep: int) -> None:
        if keep < 1:
            raise Refused(
                said("Keep at least 1 backup; with {keep} the last good one would be thrown away.", keep=keep)
            )
        self._folder, self._keep = folder, keep
        self._stem, self._ending = book_path.stem, book_path.suffix
        self._name = re.compile(rf"{re.escape(self._stem)}-(\d{{4}}-\d\d-\d\dT\d{{6}}Z){re.escape(self._ending)}")

    def good(self) -> list[tuple[datetime, Path]]:
        """The proven backups with the moments they were made at, oldest first."""
        if not self._folder.is_dir():
            return []
        matches = ((self._name.fullmatch(path.name), path) for path in self._folder.iterdir())
        return sorted((_moment(match[1]), path) for match, path in matches if match)

    def make(self, book: Book, at: datetime, watch: Watch = nobody) -> tuple[Path, int]:
        """Makes a backup and proves it, then drops the oldest beyond those to keep; its path and number of entries.

        Raises :class:`BookDamaged` where the copy is not what its entries say, :class:`BookUnavailable` or OSError
        where it cannot be made; then no other backup was touched.  ``watch`` is told how far copy and proof have come;
        what it raises ends the backup in the same way.
        """
        if book.went_back is not None:  # or old copies would take the place of the good ones
            raise BookDamaged(book.went_back)
        self._drop_unproven()
        path = self._folder / f"{self._stem}-{at.strftime(_MOMENT)}{self._ending}"
        unproven = self._folder / f".{path.name}.unproven"
        try:
            book.backup(unproven, watch)
            entries = _proven(book, unproven, watch)
            os.replace(unproven, path)
        finally:
            unproven.unlink(missing_ok=True)
        others = [old for _, old in self.good() if old != path]
        for old in others[: max(0, len(others) + 1 - self._keep)]:
            old.unlink()
        return path, entries

    def _drop_unproven(self) -> None:
        """Removes what a killed run has left behind: copies not yet proven, and those that were not yet whole."""
        for dots in (".", ".."):
            for left in self._folder.glob(f"{dots}{escape(self._stem)}-*.unproven*"):
                left.unlink(missing_ok=True)


def _moment(text: str) -> datetime:
    return datetime.strptime(text, _MOMENT).replace(tzinfo=UTC)


def _proven(book: Book, path: Path, watch: Watch) -> int:
    """How many entries the copy of a book has; raises :class:`BookDamaged` where it does not prove clean, and has
    everybody who opens the book told."""
    try:
        with Book.open_copy(path, watch) as copy:
            report = copy.prove(watch)
    except BookDamaged as error:
        book.tell_everybody((error.said,))
        raise
    book.tell_everybody(report.differences)
    if not report.clean:
        raise BookDamaged(
            said(
                "The tables of the copy do not agree with its entries: {difference} The copy was thrown away.",
                difference=report.differences[0],
            )
        )
    return report.entries

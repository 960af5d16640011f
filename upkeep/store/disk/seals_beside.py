"""The seals known of a book, in a file of seals beside it.

They are no part of the book and no evidence; with them an older copy of the book, put in its place, is noticed as soon
as it is opened.  They name no person, and who takes them away is found out by the seals that stand elsewhere.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from upkeep.seals.line import SealLine, seal_lines
from upkeep.store.disk.place import make_private

SEALS = "-seals"
"""The ending of the file of seals beside a book."""

_MOST = 40
_LONGEST = 1_000_000


class SealsBeside:
    """The file of seals beside one book.  Where it cannot be written it is not; whoever asks is told all the same."""

    def __init__(self, book_path: Path) -> None:
        self.path = Path(f"{book_path}{SEALS}")
        self._read: tuple[tuple[int, int], tuple[SealLine, ...]] | None = None

    def all(self) -> tuple[SealLine, ...]:
        """Every seal in it, in the order in which they became known; read again when the file has changed."""
        try:
            status = self.path.stat()
            stamp = status.st_mtime_ns, status.st_size
            if self._read is None or self._read[0] != stamp:
                self._read = stamp, read_seals(self.path)
        except OSError:
            return ()
        return self._read[1]

    def add(self, seal: SealLine) -> None:
        """Keeps a seal, unless it is there; of many, that with the highest number and those that came last."""
        kept = [
            one for one in self.all() if (one.book, one.entry, one.letters) != (seal.book, seal.entry, seal.letters)
        ]
        highest = max((one.entry for one in kept), default=seal.entry)
        before = [one for place, one in enumerate(kept) if one.entry == highest or place >= len(kept) - _MOST]
        self._write([*before, seal])

    def remove(self, entry: int) -> int:
        """Forgets the seals of an entry; how many there were."""
        kept = [one for one in self.all() if one.entry != entry]
        gone = len(self.all()) - len(kept)
        if gone:
            self._write(kept)
        return gone

    def _write(self, seals: Sequence[SealLine]) -> None:
        partial = self.path.with_name(f".{self.path.name}.part")
        with suppress(OSError):
            partial.unlink(missing_ok=True)
            make_private(partial)
            partial.write_text("".join(f"{seal.text}\n" for seal in seals), encoding="ascii")
            os.replace(partial, self.path)


def read_seals(path: Path) -> tuple[SealLine, ...]:
    """The seals in a file of seals; raises OSError where it cannot be read."""
    with path.open(encoding="ascii", errors="replace") as file:
        return tuple(seal_lines(file.read(_LONGEST)))


def append_seal(path: Path, seal: SealLine) -> None:
    """Adds a seal at the end of a file of seals outside the book; raises OSError where it cannot be written."""
    with path.open("a", encoding="ascii") as file:
        file.write(f"{seal.text}\n")
        file.flush()
        os.fsync(file.fileno())

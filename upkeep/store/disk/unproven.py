"""The mark by which all programs see that a book did not prove clean: a file beside it with what was found.

It is no part of the book and no evidence: a proof that is clean takes it away again.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

from upkeep.said import Said
from upkeep.store.disk.place import UNPROVEN, make_private

_MOST = 20


class Finding(NamedTuple):
    """What the last proof found.

    Attributes:
        at: When it was found.
        first: The first thing it found, in English.
    """

    at: datetime
    first: str


class UnprovenMark:
    """The mark of one book.  Where it cannot be made, it is not; whoever asked for the proof is told all the same."""

    def __init__(self, book_path: Path) -> None:
        self._path = Path(f"{book_path}{UNPROVEN}")

    def finding(self) -> Finding | None:
        """What the last proof found; None: it was clean, or there was none."""
        try:
            at = datetime.fromtimestamp(int(self._path.stat().st_mtime), UTC)
            text = self._path.read_text(encoding="utf-8", errors="replace")
        except OSError:
            return None
        return Finding(at, text.partition("\n")[0])

    def set(self, differences: Sequence[Said]) -> None:
        """Marks the book as one that did not prove clean, or takes the mark away where there are no differences."""
        with suppress(OSError):
            self._path.unlink(missing_ok=True)
            if differences:
                make_private(self._path)  # it may quote what stands in the book
                self._path.write_text("\n".join(map(str, differences[:_MOST])) + "\n", encoding="utf-8")

"""What a seal says of a book: that it is the one that was sealed, or that it has lost its tail, or is another."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from enum import StrEnum
from typing import NamedTuple

from upkeep.frozen import frozen
from upkeep.scan_codes import link_letters
from upkeep.seals.line import SealLine


class Verdict(StrEnum):
    """How a book stands to a seal."""

    FITS = "fits"
    LOST_TAIL = "lost its tail"
    DIFFERS = "differs"
    OTHER_BOOK = "another book"
    RESTORED = "restored since"


class Restored(NamedTuple):
    """A note in the book that it was restored from a backup: its number, and when it was written."""

    number: int
    at: datetime


@frozen
class SealFound:
    """What a seal says of this book.

    Attributes:
        seal: the seal.
        verdict: how the book stands to it.
        ends: the number of the last entry of the book.
        written_at: when the sealed entry was written, where the book has it as it was sealed.
        by: the id of who wrote it then; "": nobody, or it is not there.
        restored: the note after which the entries are others than when the seal was made; None: none explains it.
    """

    seal: SealLine
    verdict: Verdict
    ends: int
    written_at: datetime | None = None
    by: str = ""
    restored: Restored | None = None

    @property
    def alarms(self) -> bool:
        """Whether this book is not the one that was sealed, and no restoration in it says why."""
        return self.verdict in (Verdict.LOST_TAIL, Verdict.DIFFERS)


def judged(
    seal: SealLine, book: str, ends: int, link_of: Callable[[int], str | None],
    restorations: Callable[[], Sequence[Restored]],
) -> SealFound:  # fmt: skip
    """How a book with an id and a last entry stands to a seal; ``link_of`` gives the link of an entry by its number.

    ``restorations`` are asked for only where the seal does not fit: what was written after a backup is lost with its
    restoration, which a keeper signed; a seal of what was lost then says no more than that.
    """
    if seal.book not in ("", book):
        return SealFound(seal, Verdict.OTHER_BOOK, ends)
    link = link_of(seal.entry) if seal.entry <= ends else None
    if link is not None and (link == seal.link or (seal.link is None and link_letters(link) == seal.letters)):
        return SealFound(seal, Verdict.FITS, ends)
    why = next((note for note in restorations() if _explains(note, seal)), None)
    if why is not None:
        return SealFound(seal, Verdict.RESTORED, ends, restored=why)
    return SealFound(seal, Verdict.LOST_TAIL if link is None else Verdict.DIFFERS, ends)


def _explains(note: Restored, seal: SealLine) -> bool:
    return note.number <= seal.entry and (seal.at is None or seal.at <= note.at)

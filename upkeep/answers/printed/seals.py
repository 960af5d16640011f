"""What a seal says of this book."""

from __future__ import annotations

from dataclasses import replace

from upkeep.entries.bookkeeping import Begin
from upkeep.keeping.context import Stores
from upkeep.seals.judging import SealFound, Verdict, judged
from upkeep.seals.line import SealLine


def book_id(stores: Stores) -> str:
    """The id of the book; "" while it has no entry."""
    first = stores.entries.by_number(0)
    return first.entry.book if first is not None and isinstance(first.entry, Begin) else ""


def seal_found(stores: Stores, seal: SealLine) -> SealFound:
    """How this book stands to a seal, and who wrote the sealed entry where it is there as it was sealed."""
    entries = stores.entries
    ends, _ = entries.last()
    found = judged(seal, book_id(stores), ends, entries.link_of, entries.restorations)
    sealed = entries.by_number(seal.entry) if found.verdict is Verdict.FITS else None
    if sealed is None:
        return found
    return replace(found, written_at=sealed.entry.recorded_at or sealed.entry.at, by=sealed.entry.by)

"""The row in which a book keeps an entry; what is hashed of it stands in :mod:`upkeep.entries.chain`."""

from __future__ import annotations

from typing import NamedTuple

START = bytes(32)
"""The link before the first entry."""

LINK_BYTES = len(START)
"""The length of a link."""

SALT_BYTES = 16
"""The length of an entry's salt."""


class EntryRow(NamedTuple):
    """One entry as the file has it, column by column.

    Attributes:
        id: The number of the entry; 0 is the one with which the book begins.
        at: When it happened, as UTC text like ``2026-03-02T06:00:00Z``.
        recorded_at: When it was written, as UTC text.
        kind: The first of its words.
        item: The item it is filed under; None: none, or it is about the whole plant.
        task: The task on that item; None: none.
        words: What it says, as on its line between the moment and ``by``.
        by: The id of the person who signed it.
        shift_day: The day its shift began, as an ISO date.
        about: The entry it refers to, to correct, strike, verify or go on from it; None: none.
        corrects: The entry it takes the place of; None: none.
        because: The reason in the writer's words, or empty.
        way_in: A word of :class:`upkeep.entries.origin.WayIn`; None: not known.
        station: Where it was written; None: not known.
        proof: A word of :class:`upkeep.entries.origin.Proof`; None: not known.
        entered_by: The id of the person who typed it, where that is another one; None: who signed it, or not known.
        salt: 16 random bytes that keep names and texts from being guessed from their hashes.
        hash: Its link of the chain, 32 bytes.
    """

    id: int
    at: str
    recorded_at: str
    kind: str
    item: str | None
    task: str | None
    words: str
    by: str
    shift_day: str
    about: int | None
    corrects: int | None
    because: str
    way_in: str | None
    station: str | None
    proof: str | None
    entered_by: str | None
    salt: bytes
    hash: bytes

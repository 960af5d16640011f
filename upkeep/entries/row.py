"""The row in which a book keeps an entry; what is hashed of it stands in :mod:`upkeep.entries.chain`."""

from __future__ import annotations

from typing import NamedTuple


class EntryRow(NamedTuple):
    """One entry as the file has it, column by column.

    Moments are UTC text.  ``kind`` is the first of the ``words``; ``item``, ``task`` and ``about`` (the entry it refers
    to) are where it is filed, and follow from the words.  ``way_in``, ``station``, ``proof`` and ``entered_by`` are its
    head; None stands for what is not known.  ``salt`` (16 bytes) keeps names and texts from being guessed from their
    hashes; ``hash`` (32 bytes) is the entry's link of the chain.
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

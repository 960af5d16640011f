"""What stands on every paper, whatever it is about, as frozen views."""

from __future__ import annotations

from datetime import datetime

from upkeep.entries.origin import Proof
from upkeep.frozen import frozen


@frozen
class Seal:
    """The seal of a book: the number of its last entry and the link of that entry (hexadecimal, SHA-256).

    On paper it stands outside the book, so whoever has the paper will notice when that entry is changed or lost.
    """

    entry: int
    link: str


@frozen
class Printed:
    """What every paper says of itself.

    Attributes:
        plant: the plant's name.
        zone: the name of its time zone.
        at: the moment the paper tells of.
        known_at: what was written after that moment is left out; None: nothing is.
        by: the name of who prints it; "": nobody said.
        proof: how that name was proven; None: it is no person's, or nobody's.
        counts_as_of: the oldest latest reading of any press in use; None: none was read.
        oldest_press: that press.
        never_read: the presses in use that were never read, by id.
        seal: the last entry the paper knows; its number is the revision of the paper.
    """

    plant: str
    zone: str
    at: datetime
    known_at: datetime | None
    by: str
    proof: Proof | None
    counts_as_of: datetime | None
    oldest_press: str | None
    never_read: tuple[str, ...]
    seal: Seal

"""The envelope of every entry: what all kinds share, whatever they say.

All are frozen: ``at`` when it happened, ``by`` the id of the person, ``recorded_at`` when it was written (None until
the book takes it: then the moment of writing), ``corrects`` the number of the entry that this one replaces in the
plant's history (both stay visible), ``because`` the reason in the writer's words, ``origin`` how it came into the book.
UTC throughout.
"""

from __future__ import annotations

from dataclasses import field
from datetime import datetime

from upkeep.entries.origin import NOT_KNOWN, Origin
from upkeep.frozen import frozen


@frozen(kw_only=True)
class Entry:
    """The envelope of every entry.

    ``salt`` is only on the lines of an export, which may become a book again; an entry that is new has none yet (see
    :mod:`upkeep.entries.chain`), and it is no part of what the entry says.
    """

    at: datetime
    by: str
    recorded_at: datetime | None = None
    corrects: int | None = None
    because: str = ""
    origin: Origin = NOT_KNOWN
    salt: bytes | None = field(default=None, compare=False, repr=False)


@frozen
class Recorded:
    """An entry as the book holds it: its number, shift day (ISO date text), link of the chain (hexadecimal), salt."""

    id: int
    entry: Entry
    shift_day: str
    hash: str
    salt: bytes = b""

"""Frozen view of a trace: which set-ups something belongs to, what they made, and all that belongs to them in turn."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum

from upkeep.frozen import frozen
from upkeep.views.checks import SetUp
from upkeep.views.suspect import Quantity


class Traceable(StrEnum):
    """What a name may be of that is traced."""

    ORDER = "order"
    REEL = "reel"
    WIRE = "wire lot"
    BATCH = "batch"
    PERSON = "person"
    ITEM = "item"


@frozen
class PartIn:
    """A part that sat in a die set during a set-up, and its batch (None: nobody said)."""

    item: str
    batch: str | None


@frozen
class Traced:
    """A set-up that belongs to what is traced.

    ``press`` is where it ran (None: not known), ``strokes`` what the item did in it: at least, best estimate, at most.
    ``pieces`` were booked on that press meanwhile.  ``orders``, ``reels``, ``wires``, ``gauges``, ``people`` and
    ``parts`` are all that belongs to it: from there the trace leads on.
    """

    set_up: SetUp
    press: str | None
    strokes: tuple[int, int, int]
    pieces: tuple[Quantity, ...]
    orders: tuple[str, ...]
    reels: tuple[str, ...]
    wires: tuple[str, ...]
    gauges: tuple[str, ...]
    people: tuple[str, ...]
    parts: tuple[PartIn, ...]


@frozen
class Trace:
    """What a name of a kind belongs to, newest first; ``total`` set-ups in all, of which the newest are shown."""

    name: str
    what: Traceable
    title: str
    first: datetime | None
    last: datetime
    set_ups: tuple[Traced, ...]
    total: int

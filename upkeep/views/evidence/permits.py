"""Frozen views of deviation permits and concessions: who allowed what, and how it ended."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum

from upkeep.entries.origin import Proof
from upkeep.frozen import frozen


class PermitEnd(StrEnum):
    """How far a deviation permit has come."""

    RUNNING = "running"
    USED_UP = "used up"
    RELEASED = "released"
    REPLACED = "replaced"


@frozen
class PermitLine:
    """A deviation permit (ISO 9000:2015, 3.12.6): a held item may do ``strokes`` more; ``used`` it did at most.

    ``ends`` says how it ended and ``ended_at`` when, as far as the counts tell (None: it runs, or nobody knows).
    """

    entry: int
    item: str
    area: str
    at: datetime
    by: str
    proof: Proof
    strokes: int
    used: int
    because: str
    ends: PermitEnd
    ended_at: datetime | None


@frozen
class Concession:
    """A concession (ISO 9000:2015, 3.12.5): suspect product that was released, as a line of a hold list."""

    entry: int
    list: int
    item: str
    area: str
    press: str
    at: datetime
    by: str
    proof: Proof
    how: str
    strokes: int | None
    pieces: tuple[tuple[str, int], ...]
    because: str


@frozen
class Permits:
    """The permits and concessions of a span, oldest first."""

    first: datetime | None
    last: datetime
    permits: tuple[PermitLine, ...]
    concessions: tuple[Concession, ...]

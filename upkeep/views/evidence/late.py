"""Frozen view of late work with its reasons."""

from __future__ import annotations

from datetime import date, datetime

from upkeep.due.compliance import Share, Verdict
from upkeep.entries.origin import Proof
from upkeep.frozen import frozen


@frozen
class LateLine:
    """Work that was not done in time: when it was due, what became of it, and why it was late, in the words of whoever
    signed or cancelled it ("": nobody said).  ``days`` is by how many days it was done after it was due (None: it is
    not done)."""

    line: str
    title: str
    area: str
    occurrence: str
    due_at: datetime
    verdict: Verdict
    done_at: datetime | None
    by: str | None
    proof: Proof
    entry: int | None
    days: int | None
    because: str
    deferred: bool
    statutory: bool


@frozen
class LateWork:
    """The late work of some days, oldest first; work of shifts is missed and never late, and is not in it.

    ``on_time`` is the share of all work asked for that was done in time, shifts among it; ``without_reason`` counts
    lines that were done late and say nothing of why.
    """

    first_day: date
    last_day: date
    area: str | None
    item: str | None
    on_time: Share
    lines: tuple[LateLine, ...]
    without_reason: int

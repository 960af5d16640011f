"""Rows of what is under way: jobs on lines, locks on presses; and of shifts handed over."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.store.rows.table import Table


class UnderWayRow(NamedTuple):
    """A job was under way, or a lock hung, over [at, until).

    Attributes:
        item: The item worked on, or the press that was locked.
        task: The task of the job; None: it is a lock.
        at: When it began.
        entry: The entry that began it, whose number names it.
        until: When it ended; None: it has not.
        ended_by: The entry that ended it: a sign-off, a cancellation, that it was given up, that the lock came off.
    """

    item: str
    task: str | None
    at: str
    entry: int
    until: str | None
    ended_by: int | None


class HandoverRow(NamedTuple):
    """A shift was given, or accepted, by somebody.

    Attributes:
        shift: The shift.
        side: "given" or "accepted".
        at: When.
        entry: The entry that says so.
    """

    shift: str
    side: str
    at: str
    entry: int


UNDER_WAY = Table(
    "under_way",
    UnderWayRow,
    ("entry",),
    entries=("entry", "ended_by"),
    items=("item",),
    indexes={"under_way_ending": "(until)", "under_way_on_line": "(item, task, until)"},
)
HANDOVERS = Table("handovers", HandoverRow, ("entry",), indexes={"handovers_of_shift": "(shift, side)"})

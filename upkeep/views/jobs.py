"""Frozen views of what is under way: jobs on lines, and locks on presses."""

from __future__ import annotations

from datetime import datetime

from upkeep.frozen import frozen


@frozen
class Job:
    """A job on a line that has begun and not ended; ``number`` is that of the entry that began it.

    ``by`` has it now (``name``), since ``since``; ``before`` are the names of those it was taken over from, the first
    one first.  ``interrupted_at`` is since when it waits (None: it is being worked on), ``why`` what for, ``step`` the
    last of its ``steps`` that was done (None: nobody said), ``left`` where its parts lie.  ``ran`` are the strokes the
    item did at the least while the job waited: what was done by then counts no more, and it begins at step 1.
    """

    number: int
    line: str
    item: str
    task: str
    title: str
    place: str
    began_at: datetime
    by: str
    name: str
    since: datetime
    before: tuple[str, ...]
    interrupted_at: datetime | None
    why: str
    step: int | None
    steps: int
    left: str
    ran: int


@frozen
class Lock:
    """A lock that hangs on a press at ``point``; ``number`` is that of the entry that says so, ``name`` its owner's."""

    number: int
    press: str
    point: str
    by: str
    name: str
    at: datetime

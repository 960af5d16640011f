"""Why a line is where it is, as data: one class for each kind of reason, with whole numbers, ids, days and instants.

Sentences are made where they are shown.  A field that is None has nothing to say.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Literal

from upkeep.counting.marks import StrokeDoubt
from upkeep.due.holds import Gone, HoldReason
from upkeep.frozen import frozen

# What overrides the triggers (an item that is Gone does as well), or why none asks


@frozen
class Held:
    """The item is held, and why."""

    reason: HoldReason


@frozen
class Paused:
    """The item is in storage or out of use, for a reason in somebody's own words; "" for none."""

    because: str


@frozen
class InStorageOnly:
    """The task is asked for in storage only, and the item is in use."""


@frozen
class NotUsed:
    """The item is not in use: its count did not move."""


@frozen
class NoFinding:
    """No inspection found so bad a grade since the work was last done."""

    grade: int


@frozen
class WithinWarning:
    """These points were within their warning limits when last measured."""

    points: tuple[str, ...]


@frozen
class NoEvent:
    """None of these events came since the work was last done."""

    events: tuple[str, ...]


@frozen
class OnRequest:
    """Nothing asks for the work but people."""


# What a trigger asks


@frozen
class Deferred:
    """An occurrence was moved to a later one by a person, for the how manieth time, by an entry."""

    occurrence: str
    to: str
    by: str
    times: int
    entry: int


@frozen
class Usage:
    """Strokes done (least, best, most) of those allowed, since the work was done or the item came into the book.

    ``halved_after`` is the grade that halved the interval, ``deducted`` how many strokes over last time count into it,
    ``doubts`` why strokes had to be guessed (None: they had not, or counts were not taken).
    """

    low: int
    done: int
    high: int
    allowed: int
    since_done: bool
    halved_after: int | None = None
    deducted: int | None = None
    deferred: Deferred | None = None
    doubts: tuple[StrokeDoubt, ...] | None = None


@frozen
class Life:
    """Strokes done (least, best, most) of the life of a part, new or as granted by its last rework, by an entry.

    ``unknown`` is the entry since which nobody knows what the part has done; ``doubts`` as in :class:`Usage`.
    """

    part: str
    low: int
    done: int
    high: int
    allowed: int
    rework: int | None = None
    entry: int | None = None
    unknown: int | None = None
    doubts: tuple[StrokeDoubt, ...] | None = None


Origin = Literal["came", "done", "stated", "cancelled", "stored"]
"""What the day was that an interval counts from: the item came into the book; the work was done, or only stated to have
been; the planned day that was cancelled; storage began."""


@frozen
class Floating:
    """Due an interval after a day; ``moved`` is the working day it moves to from a day off."""

    due: date
    every: str
    start: date
    origin: Origin
    moved: date | None = None
    deferred: Deferred | None = None


@frozen
class Spread:
    """First due after its share of the interval, so that the items do not all come due at once."""

    due: date
    every: str
    moved: date | None = None
    deferred: Deferred | None = None


@frozen
class PlannedFirst:
    """Due on the day planned for its first time in this book, by an entry; ``is_stated``: when it was done before is
    stated, else nobody knows."""

    due: date
    entry: int
    is_stated: bool
    moved: date | None = None
    deferred: Deferred | None = None


@frozen
class Fixed:
    """Due on a day fixed by an RFC 5545 rule."""

    due: date
    rule: str
    moved: date | None = None
    deferred: Deferred | None = None


@frozen
class After:
    """Due since an event, told by an entry, and before the item runs again; ``of``: the other item it was seen on."""

    event: str
    at: datetime
    entry: int
    of: str | None = None


@frozen
class AfterShutdown:
    """Due before the item runs again after a shutdown of the plant."""

    name: str
    last_day: date


@frozen
class AfterFinding:
    """Due since an inspection found a grade, or a point beyond its warning limit."""

    at: datetime
    entry: int
    grade: int | None = None
    point: str | None = None


@frozen
class InShift:
    """Due in a shift, or by an hour of it, once each shift the item is used."""

    shift: str
    day: date
    by_hour: int | None = None


Asking = Usage | Life | Floating | Spread | PlannedFirst | Fixed | After | AfterShutdown | AfterFinding | InShift
"""What one trigger asks."""


@frozen
class Asked:
    """What the triggers ask, and which of them decides: the one that comes first, or the one that comes last."""

    combine: str
    by: tuple[Asking, ...]


@frozen
class AtNextStop:
    """To be done when tools are next changed on the press, at the latest when it falls due; ``stopped`` when they were,
    after the window had opened."""

    stopped: datetime | None = None


# What was done before


@frozen
class AwaitsSecond:
    """A sign-off waits for its second signature, by somebody of a role."""

    entry: int
    role: str


@frozen
class Cancelled:
    """The last occurrence was cancelled by an entry."""

    occurrence: str
    entry: int


@frozen
class LastDone:
    """When the work was last done and by whom; ``covered_by`` the bigger task whose sign-off covered it, ``gap_days``
    the days since the time before."""

    at: datetime
    by: str
    entry: int
    covered_by: str | None = None
    gap_days: int | None = None


@frozen
class NeverSigned:
    """The work was never signed in this book, in which the item has been since a moment."""

    since: datetime


@frozen
class StatedDone:
    """Somebody stated that the work was done before the book; ``lacks`` what a statement cannot bring."""

    at: datetime
    by: str
    entry: int
    lacks: Literal["grade", "second signature"] | None = None


@frozen
class Source:
    """Where the interval comes from, in the words of the plant's definitions."""

    text: str


Reason = (
    Held | Gone | Paused | InStorageOnly | NotUsed | NoFinding | WithinWarning | NoEvent | OnRequest | Asked
    | AtNextStop | AwaitsSecond | Cancelled | LastDone | NeverSigned | StatedDone | Source
)  # fmt: skip
"""One reason of a line."""

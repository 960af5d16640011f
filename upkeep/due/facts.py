"""What a line stands on, as plain values, and what one trigger asks of it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from enum import StrEnum
from typing import Literal

from upkeep.counting.strokes import Counts
from upkeep.due.edges import Edges
from upkeep.due.holds import Gone, HoldReason
from upkeep.due.reasons import Asking, Deferred
from upkeep.entries.occurrences import Day, OfEvent, OfShift, OfShutdown, Strokes, occurrence_of
from upkeep.frozen import frozen
from upkeep.plant.model import Item, Task
from upkeep.units.instants import Zone
from upkeep.units.shifts import ShiftCalendar
from upkeep.units.workdays import WorkingDays

LOST_RECORD = "lost record"
"""The event that nobody knows any more what an item has done: it asks for its inspection."""

OUT_OF_LIMITS = "value out of limits"
"""The event that work was signed with a value out of its limits: it is asked for again."""

PRESS_IN_DOUBT = "points that say press"
"""The event that measured points say that the press is at fault: its shut height is asked for."""

Lacking = Literal["grade", "second signature"]
"""What a task asks for that no statement about the past can bring."""


class How(StrEnum):
    """How an occurrence was answered: signed itself, covered by bigger work, only stated to be done, or cancelled."""

    SIGNED = "signed"
    COVERED = "covered"
    STATED = "stated"
    CANCELLED = "cancelled"


@frozen
class Done:
    """Something that answered an occurrence: when, by whom, which one, its grade and entry number.

    ``covered_by`` names the bigger task whose sign-off covered this one; ``reach`` is how many days ahead that answers
    planned days.
    """

    at: datetime
    by: str
    occurrence: str
    grade: int | None
    entry: int
    how: How = How.SIGNED
    covered_by: str | None = None
    reach: int = 0


@frozen
class Finding:
    """An inspection that found a grade, or a point beyond its warning limit: when, and the entry that says so."""

    at: datetime
    entry: int
    grade: int | None = None
    point: str | None = None


def latest(*done: Done | None) -> Done | None:
    """The last of some answers."""
    return max(
        (done_at for done_at in done if done_at is not None),
        key=lambda done_at: (done_at.at, done_at.entry),
        default=None,
    )


def names_strokes(occurrence: str) -> bool:
    """Whether an occurrence is a planned number of strokes."""
    return isinstance(occurrence_of(occurrence), Strokes)


def names_day(occurrence: str) -> bool:
    """Whether an occurrence is a planned day or shift."""
    return isinstance(occurrence_of(occurrence), Day | OfShift)


def names_event(occurrence: str) -> bool:
    """Whether an occurrence is an event or the end of a shutdown."""
    return isinstance(occurrence_of(occurrence), OfEvent | OfShutdown)


@frozen
class Happening:
    """Something that happened to an item and asks for a task: what ("fitting"), when, and the entry that says so.

    ``of`` is the other item that it was seen on; None: it was seen on the item itself.
    """

    what: str
    at: datetime
    entry: int
    of: str | None = None

    @property
    def occurrence(self) -> str:
        """How a sign-off names it: ``fitting.812``."""
        return str(OfEvent(self.what, self.entry))


@frozen
class Reworked:
    """The last rework of a part: when, the strokes it granted, and the how manieth it was."""

    at: datetime
    granted: int
    entry: int
    times: int


@frozen
class Deferral:
    """An occurrence moved to a later planned point, by whom and when, and how often it was moved by then."""

    occurrence: str
    to: str
    by: str
    at: datetime
    entry: int
    times: int

    @property
    def reason(self) -> Deferred:
        """The move as a reason of a line."""
        return Deferred(self.occurrence, self.to, self.by, self.times, self.entry)


@frozen
class LineFacts:
    """All a line stands on besides counts and calendar.

    ``since`` is when the item came into the book; ``works`` the last times the work was done (or covered by other
    work), newest first, ``gap_days`` how many days lay between that and the time before (None where it does not go
    by the calendar, or was done once); ``stated`` what somebody said of the time before the book, until the work is
    signed; ``first_time`` the day planned for the first time in this book; ``cancelled`` the occurrences that will not
    be done, newest first; ``usage_done`` the last sign-off that
    answered a number of strokes; ``unverified`` a later sign-off that waits for its second signature; ``finding``
    the last inspection bad enough for an ``after_grade`` task; ``happening`` the last event of those the task waits
    for; ``rework`` the last rework of ``part``, the part whose life is asked for (of a set: the one with least
    left), ``unknown_life`` the entry since which nobody knows what that part has done; ``deferrals`` the last move of
    each occurrence that was moved; ``hold`` and ``pause`` the reasons in force, ``paused_since`` when storage began;
    ``fitted`` whether the item hangs on a press (a press always does); ``share`` the part of the first interval after
    which a spread line first comes due.
    """

    task: Task
    item: Item
    since: datetime
    works: tuple[Done, ...] = ()
    gap_days: int | None = None
    stated: Done | None = None
    first_time: FirstTime | None = None
    cancelled: tuple[Done, ...] = ()
    usage_done: Done | None = None
    unverified: int | None = None
    finding: Finding | None = None
    happening: Happening | None = None
    part: Item | None = None
    rework: Reworked | None = None
    unknown_life: int | None = None
    deferrals: tuple[Deferral, ...] = ()
    hold: HoldReason | None = None
    pause: str | None = None
    rests: bool = False
    rests_since: datetime | None = None
    lain_by: datetime | None = None
    opens_at_once: bool = False
    fitted: bool = False
    press: str | None = None
    share: float = 1.0

    @property
    def gone(self) -> bool:
        """Whether the item left for ever: nothing is asked of it any more."""
        return isinstance(self.hold, Gone)

    @property
    def last(self) -> Done | None:
        """The last time the work was done, by itself or with bigger work."""
        return self.works[0] if self.works else None

    @property
    def counted_from(self) -> Done | None:
        """What the calendar counts from: the last answer to a planned day, else what was stated."""
        return self.answered(names_day) or self.worked

    @property
    def worked(self) -> Done | None:
        """The last time the work was done, else what was stated.

        Where the task asks for more than a word (:func:`not_told_by_a_word`), a statement does not count.
        """
        return self.last or (None if not_told_by_a_word(self.task) else self.stated)

    def answered(self, asked: Callable[[str], bool]) -> Done | None:
        """The last answer to an occurrence of a kind: work, which answers all there are, or a cancellation of it."""
        off = next((cancelled for cancelled in self.cancelled if asked(cancelled.occurrence)), None)
        return latest(self.last, off)


def not_told_by_a_word(task: Task) -> Lacking | None:
    """What a task asks for that no statement about the past can bring; None: a statement counts."""
    if task.graded:
        return "grade"
    return "second signature" if task.second_signature else None


@frozen
class FirstTime:
    """The day on which work is to be done for the first time in this book, the entry that plans it, and whether it is
    stated when it was done before."""

    day: date
    entry: int
    is_stated: bool


@frozen
class Standstill:
    """A shutdown of the plant: its name, its last day, when that day is over and when the first shift begins after."""

    name: str
    last_day: date
    over: datetime
    restart: datetime

    @property
    def occurrence(self) -> str:
        """How a sign-off names it: ``shutdown.2026-08-14``."""
        return str(OfShutdown(self.last_day))


@frozen
class Setting:
    """Where and how a line is judged: the counts to look up, the plant's zone, shifts and working days, names, and its
    shutdowns in order."""

    counts: Counts
    zone: Zone
    calendar: ShiftCalendar
    workdays: WorkingDays
    names: dict[str, str]
    standstills: tuple[Standstill, ...] = ()


@frozen
class Trigger:
    """What one trigger asks: its edges, the planned occurrence and the reason."""

    edges: Edges
    occurrence: str
    reason: Asking
    due_day: date | None = None
    deferral: Deferral | None = None

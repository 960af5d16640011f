"""Frozen view of what the lead has to know first, in the order of urgency."""

from __future__ import annotations

from datetime import date, datetime
from enum import StrEnum

from upkeep.due.holds import HoldReason
from upkeep.frozen import frozen
from upkeep.said import Said
from upkeep.views.board import BoardLine


class Part(StrEnum):
    """The parts of the page, in their order."""

    HELD = "held"
    STOP = "past the hard stop"
    OVERDUE = "overdue"
    TODAY = "due today"
    OPENING = "opening this week"
    QUESTIONS = "open questions"
    FAULTS = "faults"
    HINTS = "hints"
    PERMITS = "permits running"


class GoingOn(StrEnum):
    """What goes on at this moment, before all parts."""

    LOCKED = "locked"
    HANDOVER = "handover not accepted"
    JOB = "job under way"
    PARTS = "waits for parts"


@frozen
class HomeRow:
    """One row: an item that is held, a line or the cleans of a press folded to one (``lines``), a question, a fault.

    ``item`` is what it is about (None: several), ``since`` from when it stands, ``what`` the words of what is no line,
    ``reason`` why it is held; ``fault`` the number of its report.
    """

    part: Part | GoingOn
    place: str
    item: str | None = None
    lines: tuple[BoardLine, ...] = ()
    since: datetime | None = None
    what: Said | None = None
    reason: HoldReason | None = None
    fault: int | None = None


@frozen
class HomePart:
    """A part with its rows; ``total`` counts what they stand for, those not shown too."""

    part: Part
    total: int
    rows: tuple[HomeRow, ...]


@frozen
class DayAhead:
    """What falls due on a day, work of every shift left out: how many lines, and how long they take (minutes)."""

    day: date
    lines: int
    minutes: float


@frozen
class Expected:
    """A line by strokes that is going to be due: the day expected and the latest safe one (None: cannot be said)."""

    line: BoardLine
    expected: date | None
    latest_safe: date | None


@frozen
class Home:
    """The page at a moment: every part, also those with nothing in them; the days of the coming week; the lines that
    strokes bring due next, the soonest first.  ``now`` is what goes on: locks, a shift that nobody has accepted, jobs;
    and what is asked for and waits for parts.
    """

    at: datetime
    plant: str
    parts: tuple[HomePart, ...]
    week: tuple[DayAhead, ...]
    ahead: tuple[Expected, ...]
    now: tuple[HomeRow, ...] = ()

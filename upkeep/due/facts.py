"""What a line stands on, as plain values, and what one trigger asks of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime

from upkeep.counting.strokes import Counts
from upkeep.due.edges import Edges
from upkeep.plant.model import Item, Task
from upkeep.units.instants import Zone
from upkeep.units.shifts import ShiftCalendar

BEGINNING = datetime(1, 1, 2, tzinfo=UTC)
"""Before every entry: where the stay of a press on itself begins."""


@dataclass(frozen=True, slots=True)
class Done:
    """A sign-off in effect: when, by whom, the occurrence it answered, its grade and entry number."""

    at: datetime
    by: str
    occurrence: str
    grade: int | None
    entry: int


@dataclass(frozen=True, slots=True)
class LineFacts:
    """All a line stands on besides counts and calendar.

    ``since`` is when the item came into the book; ``last`` the last sign-off that counts; ``unverified`` a later one
    that waits for its second signature; ``finding`` the last inspection bad enough for an ``after_grade`` task;
    ``hold`` and ``pause`` the reasons in force; ``fitted`` whether the item hangs on a press (a press always does).
    """

    task: Task
    item: Item
    since: datetime
    last: Done | None = None
    unverified: int | None = None
    finding: Done | None = None
    hold: str | None = None
    pause: str | None = None
    fitted: bool = False
    press: str | None = None


@dataclass(frozen=True, slots=True)
class Setting:
    """Where and how a line is judged: the counts to look up, the plant's zone and shifts, and names for the ids."""

    counts: Counts
    zone: Zone
    calendar: ShiftCalendar
    names: dict[str, str]


@dataclass(frozen=True, slots=True)
class Trigger:
    """What one trigger asks: its edges, the planned occurrence and half a sentence of reason."""

    edges: Edges
    occurrence: str
    reason: str
    due_day: date | None = None

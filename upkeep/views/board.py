"""Frozen views: what a screen or a paper gets when it asks the book once.  Meaning only; looks are made elsewhere."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import TYPE_CHECKING

from upkeep.due.reason_list import Reasons
from upkeep.due.states import State
from upkeep.frozen import frozen

if TYPE_CHECKING:
    from upkeep.units.instants import Zone
    from upkeep.views.items import HistoryLine, LifeNumbers
    from upkeep.views.jobs import Job, Lock
    from upkeep.views.week import WeekRow


@frozen
class BoardLine:
    """One task on one item at an instant.

    ``line`` names it ("M-12/clean-module").  The four edges are the instants at which its state changes; None is
    never.  ``strokes`` counts since it was last done (best estimate, ``strokes_high`` the upper bound) towards
    ``due_strokes``; ``remaining`` is the difference; all None where the task has no stroke trigger.
    ``occurrence`` names what a sign-off now would answer, ``deferred_to`` the later point it was moved to.
    ``unverified`` is the sign-off waiting for the second signature.  ``place`` is where the item hangs or stands,
    ``inside`` what it sits in.  ``at_next_stop``: it is to be done at a change of tools, at the latest when due;
    ``stopped_at`` is when they were changed since its window opened; None: they were not.  ``lines_held`` are the lines
    that wait with the hold of its item, itself among them; 0: it is not held.  ``for_item``: the row stands for all of
    them.  ``job`` is the job under way on it; None: nobody has begun.
    ``owner`` is whose the item is, where it belongs to a customer.  ``locks`` are those on the press where it is.
    """

    line: str
    item: str
    item_kind: str
    item_title: str
    task: str
    title: str
    state: State
    place: str
    area: str
    inside: str | None
    opens_at: datetime | None
    due_at: datetime | None
    overdue_at: datetime | None
    stop_at: datetime | None
    due_day: date | None
    strokes: int | None
    strokes_high: int | None
    due_strokes: int | None
    remaining: int | None
    estimated: bool
    missed: int
    occurrence: str
    deferred_to: str | None
    reasons: Reasons
    last_done_at: datetime | None
    last_done_by: str | None
    unverified: int | None
    minutes: float
    energy: str
    roles: tuple[str, ...]
    second_signature: str | None
    statutory: bool
    each_shift: bool
    source: str
    at_next_stop: bool = False
    stopped_at: datetime | None = None
    lines_held: int = 0
    for_item: bool = False
    job: Job | None = None
    owner: str | None = None
    locks: tuple[Lock, ...] = ()

    @property
    def of_rounds(self) -> bool:
        """Whether it is left to the rounds at the presses: work of every shift, unless law asks for it."""
        return self.each_shift and not self.statutory


def day_due(line: BoardLine | WeekRow, zone: Zone) -> date | None:
    """The day on which a line is due, on the plant's wall; None: never, or by strokes alone."""
    return line.due_day or (zone.day(line.due_at) if line.due_at else None)


@frozen
class BoardQuery:
    """Which lines to show; empty means all.  ``search`` matches item, task, title or place, ignoring case;
    ``also`` are the tasks that a word of it names besides, as in another language in which the plant has titles.

    ``holds_by_item``: of the held lines of an item that match only the first by name is shown, and stands for them all.
    """

    states: frozenset[State] = frozenset()
    place: str | None = None
    area: str | None = None
    item: str | None = None
    task: str | None = None
    role: str | None = None
    search: str = ""
    also: tuple[tuple[str, tuple[str, ...]], ...] = ()
    holds_by_item: bool = False


@frozen
class Board:
    """A window of lines at an instant, most urgent first: rows ``offset`` and on out of ``total`` that match.

    ``by_state`` counts all matching lines, ``total`` rows.  ``counts_as_of`` is the oldest latest reading of any press
    and ``oldest_count_press`` that press; None while no press has been read.
    ``by_state`` counts all matching lines.  ``counts_as_of`` is the oldest latest reading of any press and
    ``oldest_count_press`` that press; None while no press has been read.  ``locks`` are those on any press.
    """

    at: datetime
    plant: str
    zone: str
    offset: int
    total: int
    rows: tuple[BoardLine, ...]
    by_state: Mapping[State, int]
    counts_as_of: datetime | None
    oldest_count_press: str | None
    locks: tuple[Lock, ...] = ()


@frozen
class LineDetail:
    """Everything about one line: the line itself, the life of its item and its history, newest first."""

    line: BoardLine
    life: LifeNumbers
    history: tuple[HistoryLine, ...]

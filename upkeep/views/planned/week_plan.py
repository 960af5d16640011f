"""Frozen views of a planned week: which job on which shift by whom, and the hours there are for it."""

from __future__ import annotations

from datetime import date, datetime
from enum import StrEnum

from upkeep.frozen import frozen


class Stage(StrEnum):
    """How far the plan of a week has come."""

    NONE = "none"
    PROPOSED = "proposed"
    CHANGED = "changed"
    AGREED = "agreed"
    FROZEN = "frozen"


class Unplaced(StrEnum):
    """Why a row stands on no shift."""

    HELD = "held"
    NOBODY = "nobody"
    WINDOW = "window"
    HOURS = "hours"
    OUT = "out"
    NEW = "new"
    PROMISED = "promised"
    """The week before still has it on a shift to come."""


class Mark(StrEnum):
    """What became of a row after the list was frozen."""

    NONE = ""
    ADDED = "added"
    REMOVED = "removed"
    MOVED = "moved"


@frozen
class PlanRow:
    """One row of a planned week.

    Attributes:
        row: Its number on the list, from 1.
        due_day: The shift day by whose end it is not late; None: it goes by strokes, or is late already.
        shift: The shift it is planned for; None: it stands on none, and ``why`` says why.
        person: Who is to do it; ``name`` is what they are called.
        minutes: How long it takes; those without minutes count as the plan took them.
        carried: How many frozen weeks in a row had it before and did not see it done.
        decision: What the lead decided about it as carried over too often; None: nothing, or it was not asked.
        asks: Whether that decision is still to be made before the week can be frozen.
        done_at: When it was signed or cancelled since the list was frozen; None: it was not.
        may: Who may do it, by id, on any shift.
    """

    row: int
    line: str
    item: str
    task: str
    title: str
    place: str
    area: str
    occurrence: str
    statutory: bool
    late: bool
    due_day: date | None
    minutes: int
    shift: str | None = None
    person: str | None = None
    name: str = ""
    carried: int = 0
    why: Unplaced | None = None
    mark: Mark = Mark.NONE
    decision: str | None = None
    asks: bool = False
    done_at: datetime | None = None
    may: tuple[str, ...] = ()


@frozen
class RoleHours:
    """Minutes due and minutes there are in a week, of a role; of one area of it where ``area`` is named.

    ``jobs`` are those of the list, with the way to each and the set-up once a stop, ``care`` those of work of every
    shift.  ``there`` are the hours of people less absence; ``reserve`` is kept of them for breakdowns.  People who may
    work everywhere are ``there`` in each area.
    """

    role: str
    area: str | None
    jobs: int
    care: int
    there: int
    reserve: int

    @property
    def due(self) -> int:
        """All minutes due."""
        return self.jobs + self.care

    @property
    def over(self) -> int:
        """By how many minutes more is due than there is, the reserve kept; 0: it is not."""
        return max(0, self.due - (self.there - self.reserve))


@frozen
class Capacity:
    """The hours of a week by role, and by role and area.

    ``away`` are those who do not work some days of it, by name with their days; ``untimed`` how many jobs have no
    minutes and count as ``taken_as`` minutes each; ``shifts_unknown`` how many people have no shift named, and count on
    the first of each working day; ``role`` percent of a shift that planned work gets, where the plant says less than
    all.
    """

    plant: str
    week: str
    first_day: date
    last_day: date
    roles: tuple[RoleHours, ...]
    areas: tuple[RoleHours, ...]
    between_stops: int
    set_up: int
    reserve_percent: int
    away: tuple[tuple[str, date, date], ...]
    untimed: int
    taken_as: int
    shifts_unknown: int

    @property
    def is_over(self) -> bool:
        """Whether anything is over its hours."""
        return any(row.over for row in (*self.roles, *self.areas))


@frozen
class WeekPlan:
    """The plan of a week as it stands.

    ``shifts`` are those of the week in order, by their keys.  ``made`` is the way the proposal was found ("exact",
    "greedy"; "" where there is none) and ``gap`` the most by which a better one could be cheaper, as a share.
    ``revision`` is the number of the entry that froze the list, ``frozen_at`` and ``frozen_by`` when and who.
    ``carries`` is how often a line is carried before the lead has to decide.
    """

    plant: str
    zone: str
    week: str
    stage: Stage
    shifts: tuple[str, ...]
    rows: tuple[PlanRow, ...]
    capacity: Capacity
    made: str = ""
    gap: float = 0.0
    agreed_by: str = ""
    agreed_at: datetime | None = None
    revision: int | None = None
    frozen_at: datetime | None = None
    frozen_by: str = ""
    carries: int = 3
    orders_known: bool = False

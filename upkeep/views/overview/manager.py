"""Frozen view of the page the plant manager reads on Monday: ten things, and eight weeks of each."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from enum import StrEnum

from upkeep.due.compliance import Share
from upkeep.frozen import frozen
from upkeep.views.figures import ChangedTask
from upkeep.views.overview.indicators import Between, LineOver, Overdue, Restored
from upkeep.views.planned.week_plan import RoleHours


class Topic(StrEnum):
    """What the page tells of, in its order."""

    STATUTORY = "statutory"
    STOPS = "hard stops"
    OVERDUE = "overdue"
    ON_TIME = "on time"
    FAULTS = "faults"
    BLOCKED = "blocked"
    HOURS = "hours"
    GAUGES = "gauges"
    CHANGES = "changes"
    COUNTS = "counts"


class Blocked(StrEnum):
    """What a job waits for that cannot be done."""

    PARTS = "parts"
    PRODUCTION = "production"
    PEOPLE = "people"
    RELEASE = "a release"
    OTHER = "something else"


@frozen
class LateByLaw:
    """Lines that law or safety asks for: how many there are, and those that are late."""

    lines: int
    late: tuple[LineOver, ...]


@frozen
class PermitGiven:
    """A deviation permit: for what, for how many strokes, by whom."""

    item: str
    strokes: int
    by: str
    entry: int


@frozen
class Stops:
    """Lines past their hard stop, of so many in use; deviation permits granted in the week; and hold lists whose
    product still waits for a disposition, with the strokes on them."""

    lines: int
    past: tuple[LineOver, ...]
    permits: tuple[PermitGiven, ...]
    lists_open: int
    strokes_waiting: int


@frozen
class Repeated:
    """A symptom that came back on an item: how often in the eight weeks."""

    item: str
    symptom: str
    times: int


@frozen
class Faults:
    """Faults of the week, those that stopped something among them; of the eight weeks the mean between two, the time to
    restoration and the symptoms that came back most, at most three."""

    week: int
    stopped: int
    open: int
    between: Between
    restored: Restored
    repeated: tuple[Repeated, ...]


@frozen
class BlockedJob:
    """A job that cannot be done, and what it waits for; ``says`` in words where somebody said more ("": nobody did)."""

    line: str
    title: str
    why: Blocked
    says: str = ""


@frozen
class Hours:
    """The hours of the week to come by role, and how many of its jobs are carried over for the lead to decide."""

    week: str
    roles: tuple[RoleHours, ...]
    to_decide: int


@frozen
class GaugeDue:
    """A gauge that does not count any more, or stops doing so on a day (None: it does not now)."""

    gauge: str
    title: str
    until: date | None


@frozen
class Gauges:
    """Gauges in use, those that do not count now, and those that stop doing so in the 30 days to come."""

    number: int
    invalid: tuple[GaugeDue, ...]
    soon: tuple[GaugeDue, ...]


@frozen
class DeferralSigned:
    """Work put off in the week: from which planned point to which, by whom, at which risk."""

    line: str
    occurrence: str
    to: str
    by: str
    risk: str
    entry: int


@frozen
class Changes:
    """What moved due dates in the week: intervals and windows changed, work put off, work cancelled."""

    tasks: tuple[ChangedTask, ...]
    deferrals: tuple[DeferralSigned, ...]
    cancelled: int


@frozen
class CountsRead:
    """Presses in use, the one whose latest count is the oldest, those not read for more than a day of working time, and
    those never read; of the week the counts taken in time."""

    presses: int
    oldest: str | None
    oldest_at: datetime | None
    behind: tuple[str, ...]
    never: tuple[str, ...]
    in_time: Share


@frozen
class ManagerPage:
    """The ten things as they stand at a moment, and of the last whole week before it.

    ``weeks`` are the eight weeks up to that one, by their ISO names; ``trend`` has a value for each of them and each
    topic (None: not known): occurrences not on time that law asks for, permits, occurrences not on time, percent on
    time, faults, jobs interrupted, hours signed, gauge work not on time, changes and deferrals, percent of counts in
    time.
    """

    plant: str
    zone: str
    at: datetime
    week: str
    first_day: date
    last_day: date
    weeks: tuple[str, ...]
    statutory: LateByLaw
    stops: Stops
    overdue: Overdue
    on_time: Share
    by_area: Mapping[str, Share]
    faults: Faults
    blocked: tuple[BlockedJob, ...]
    hours: Hours
    gauges: Gauges
    changes: Changes
    counts: CountsRead
    trend: Mapping[Topic, tuple[float | None, ...]]

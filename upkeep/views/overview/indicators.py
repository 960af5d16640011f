"""Frozen views of the figures a plant is led by, beside what was done on time."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from enum import StrEnum

from upkeep.due.compliance import Share
from upkeep.frozen import frozen


class Age(StrEnum):
    """How long work has been overdue, in whole days."""

    WEEK = "up to 7 days"
    MONTH = "8 to 30 days"
    OLDER = "over 30 days"


@frozen
class LineOver:
    """A line that is over its strokes by so many, or overdue since a moment (None: by strokes alone)."""

    line: str
    title: str
    place: str
    statutory: bool
    since: datetime | None
    strokes_over: int


@frozen
class Overdue:
    """What is overdue at the moment, of so many ``lines`` that ask or will ask for work.

    ``by_age`` counts by the days since each became overdue; ``oldest`` are the longest overdue first, at most a few.
    """

    lines: int
    by_age: Mapping[Age, int]
    strokes_over: int
    oldest: tuple[LineOver, ...]

    @property
    def number(self) -> int:
        """How many lines are overdue."""
        return sum(self.by_age.values())


@frozen
class Between:
    """Strokes and faults, with the 90 % interval of the mean between two (None: no upper end, for none was seen)."""

    strokes: int
    faults: int
    low: float
    high: float | None

    @property
    def mean(self) -> float | None:
        """Strokes between two faults on average; None: there was none."""
        return self.strokes / self.faults if self.faults else None


@frozen
class Restored:
    """Faults that ended in these days, and the mean minutes from report to end: in which the plant worked, and by the
    clock (None: none ended)."""

    number: int
    worked: float | None
    clock: float | None


@frozen
class Minutes:
    """Minutes of signed work (as their tasks plan them) and of repairs (from taken to fixed, as entered).

    ``by_operators`` are those of signed work that operators signed; ``untimed`` how many sign-offs have no minutes.
    """

    planned: float
    repairs: float
    by_operators: float
    untimed: int

    @property
    def planned_percent(self) -> float | None:
        """The planned share in percent; None: nothing was done."""
        total = self.planned + self.repairs
        return 100 * self.planned / total if total else None

    @property
    def operators_percent(self) -> float | None:
        """The share of signed work that operators did, in percent; None: nothing was signed."""
        return 100 * self.by_operators / self.planned if self.planned else None


@frozen
class DataQuality:
    """How far the counts can be relied on.

    ``in_time`` are counts taken no later than a shift after the one before, of all.  ``in_doubt`` are strokes of
    modules that are estimated within bounds so far apart, of ``module_strokes``; ``unattributed`` strokes that presses
    counted while no module is known to have hung there, of ``press_strokes``.
    """

    in_time: Share
    in_doubt: int
    module_strokes: int
    unattributed: int
    press_strokes: int


@frozen
class Indicators:
    """The figures of some days, of the plant, an area (``area``) or an item (``item``), looked at from a moment.

    ``between`` counts all faults, ``between_stops`` those for which something stopped.  ``as_scheduled`` are jobs of
    frozen weeks done in their week, of all those a frozen week promised; ``findings`` the inspections that found
    something.  Data quality is that of the whole plant where an item is named (None).
    """

    at: datetime
    area: str | None
    item: str | None
    first_day: date
    last_day: date
    overdue: Overdue
    as_scheduled: Share
    minutes: Minutes
    between: Between
    between_stops: Between
    restored: Restored
    findings: Share
    quality: DataQuality | None

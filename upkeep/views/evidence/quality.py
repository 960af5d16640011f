"""Frozen views of how good the data are, and which tasks find something."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum

from upkeep.frozen import frozen
from upkeep.quality.pruning import Advice


class Measure(StrEnum):
    """What is looked at in the data."""

    LATE_READINGS = "readings entered late"
    MISSING = "readings missing"
    ESTIMATED = "strokes estimated"
    UNATTRIBUTED = "strokes with no module on the press"
    GAUGES = "gauges that do not count"
    QUESTIONS = "questions unanswered"
    UNPROVEN = "names not proven"


@frozen
class Counted:
    """So many of so many; ``base`` None: of no base, a number alone."""

    number: int
    base: int | None


@frozen
class QualityRow:
    """A measure of an area (None: the whole plant) over all weeks, and week by week, the oldest first."""

    measure: Measure
    area: str | None
    whole: Counted
    weeks: tuple[Counted, ...]


@frozen
class DataQuality:
    """The quality of the data of some weeks (ISO), by measure and area; ``at`` is the moment it was looked at."""

    at: datetime
    weeks: tuple[str, ...]
    area: str | None
    rows: tuple[QualityRow, ...]


@frozen
class TaskFindings:
    """How often a task was done and found something, with the 95 % interval of the share in percent; ``others`` is the
    share of all other work in percent (None: there is none), ``chance`` that of nothing found in so many
    times if it were like them (None: something was found, or there are no others)."""

    task: str
    title: str
    kind: str
    times: int
    findings: int
    low: float
    high: float
    others: float | None
    chance: float | None
    minutes: float
    advice: Advice
    statutory: bool


@frozen
class Pruning:
    """Which work never finds anything, and which finds too much, from ``first`` to ``last``."""

    first: datetime
    last: datetime
    tasks: tuple[TaskFindings, ...]

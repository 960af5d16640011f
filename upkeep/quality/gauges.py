"""Whether a gauge counted at a moment: by its calibration and block checks, and by what was found out about it later.

A gauge counts until the first of the tasks that vouch for it is overdue.  Where it was found to read wrong, nothing it
measured since its last good calibration or block check counts, until it is calibrated again: the error may have begun
at any time between.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

from upkeep.frozen import frozen
from upkeep.plant.crimps import Crimp
from upkeep.plant.model import Task
from upkeep.said import DayOf, Numeral, Said, said, said_many
from upkeep.units.instants import Zone
from upkeep.units.measures import InUnits, measured

Mark = tuple[datetime, int]
"""When something was written down as done, with its entry."""


@frozen
class Care:
    """A task that vouches for a gauge, as it stood at a moment.

    ``until`` is when it is overdue; None: it was never done and nobody stated it.  ``bad`` says that it was done last
    with a reading out of its limits.
    """

    title: str
    until: datetime | None
    bad: bool = False


@frozen
class Doubt:
    """The time over which a gauge found to read wrong does not count.

    ``off`` is its reading less the true value, in ``unit``; ``since`` None: from its beginning; ``until`` None: to this
    day.
    """

    off: float
    found_at: datetime
    entry: int
    since: datetime | None
    until: datetime | None
    unit: str = ""

    @property
    def by(self) -> InUnits:
        """By how much the gauge reads wrong, with its sign and unit."""
        return measured(self.off, self.unit, "+g")

    def takes_in(self, moment: datetime) -> bool:
        """Whether a reading of a moment is in doubt; one at the good calibration itself is not."""
        after = self.since is None or moment > self.since
        return after and (self.until is None or moment < self.until)


@frozen
class GaugeState:
    """Whether a gauge counted at a moment, and why.

    ``until`` is how long it counts if nothing is done (None where it does not, or nothing is asked of it); ``wrong``
    tells a gauge found to read wrong from one that is only overdue.
    """

    valid: bool
    why: Said
    until: datetime | None = None
    wrong: bool = False


def unit_of(gauge_class: str | None, tasks: Iterable[Task], crimps: Iterable[Crimp]) -> str:
    """The unit that gauges of a class measure in: that of all points for which a plant asks for one; else ""."""
    points = [(task.gauge_class, point) for task in tasks for point in task.points]
    points += [(point.gauge_class, point) for crimp in crimps for point in crimp.points]
    units = {point.unit for wanted, point in points if wanted is not None and wanted == gauge_class}
    return units.pop() if len(units) == 1 else ""


def doubt_of(out_of_tolerance: Mark, off: float, unit: str, good: Iterable[Mark], repaired: Iterable[Mark]) -> Doubt:
    """The doubt that a gauge found to read wrong casts.

    ``good`` are its good calibrations and block checks, ``mended`` what may end the doubt: its calibrations.
    """
    before = max((mark for mark in good if mark < out_of_tolerance), default=None)
    after = min((mark for mark in repaired if mark > out_of_tolerance), default=None)
    return Doubt(
        off,
        out_of_tolerance[0],
        out_of_tolerance[1],
        before[0] if before else None,
        after[0] if after else None,
        unit,
    )


def valid_at(moment: datetime, cares: Sequence[Care], doubts: Iterable[Doubt], zone: Zone) -> GaugeState:
    """The state of a gauge at a moment: ``cares`` as they stood then, ``doubts`` as they are known."""
    for doubt in doubts:
        if doubt.takes_in(moment):
            wrong = said(
                "found on {day} to read {off} off (#{entry})",
                off=doubt.by,
                day=DayOf(doubt.found_at, zone),
                entry=Numeral(doubt.entry),
            )
            if doubt.since is not None:
                wrong = said("{wrong}; its last good check was on {day}", wrong=wrong, day=DayOf(doubt.since, zone))
            return GaugeState(False, wrong, wrong=True)
    for care in cares:
        if care.until is None:
            return GaugeState(
                False, said("{task}: never done in this book, and no earlier date stated", task=care.title)
            )
        if care.bad:
            return GaugeState(False, said("{task}: out of limits when it was last done", task=care.title), wrong=True)
        if moment >= care.until:
            return GaugeState(False, said("{task}: overdue since {day}", task=care.title, day=DayOf(care.until, zone)))
    if not cares:
        return GaugeState(True, said("this plant requires no calibration"))
    first = min((care for care in cares if care.until is not None), key=lambda care: care.until or moment)
    return GaugeState(True, said("{task} done in time", task=first.title), first.until)


def state_said(state: GaugeState, moment: datetime, zone: Zone) -> Said:
    """The state in a few words for the one who picks a gauge: valid, due in so many days, or not valid and why."""
    if not state.valid:
        return said("not valid: {why}", why=state.why)
    if state.until is None:
        return said("valid")
    days = (zone.day(state.until - timedelta(seconds=1)) - zone.day(moment)).days
    if days == 0:
        return said("valid, due today")
    return said_many("valid, next due in {n} day", "valid, next due in {n} days", n=days)

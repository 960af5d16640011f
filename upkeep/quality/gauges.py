"""Whether a gauge counted at a moment: by its calibration and block checks, and by what was found out about it later.

A gauge counts until the first of the tasks that vouch for it is overdue.  Where it was found to read wrong, nothing it
measured since its last good calibration or block check counts, until it is calibrated again: the error may have begun
at any time between.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from upkeep.units.instants import Zone

Mark = tuple[datetime, int]
"""When something was written down as done, with its entry."""


@dataclass(frozen=True, slots=True)
class Care:
    """A task that vouches for a gauge, as it stood at a moment.

    ``until`` is when it is overdue; None: it was never done and nobody stated it.  ``bad`` says that it was done last
    with a reading out of its limits.
    """

    title: str
    until: datetime | None
    bad: bool = False


@dataclass(frozen=True, slots=True)
class Doubt:
    """The time over which a gauge found to read wrong does not count.

    ``off`` is its reading less the true value; ``since`` None: from its beginning; ``until`` None: to this day.
    """

    off: float
    found: datetime
    entry: int
    since: datetime | None
    until: datetime | None

    def takes_in(self, moment: datetime) -> bool:
        """Whether a reading of a moment is in doubt; one at the good calibration itself is not."""
        after = self.since is None or moment > self.since
        return after and (self.until is None or moment < self.until)


@dataclass(frozen=True, slots=True)
class GaugeState:
    """Whether a gauge counted at a moment, and why.

    ``until`` is how long it counts if nothing is done (None where it does not, or nothing is asked of it); ``wrong``
    tells a gauge found to read wrong from one that is only overdue.
    """

    valid: bool
    why: str
    until: datetime | None = None
    wrong: bool = False


def doubt_of(found: Mark, off: float, good: Iterable[Mark], mended: Iterable[Mark]) -> Doubt:
    """The doubt that a gauge found to read wrong casts.

    ``good`` are its good calibrations and block checks, ``mended`` what may end the doubt: its calibrations.
    """
    before = max((mark for mark in good if mark < found), default=None)
    after = min((mark for mark in mended if mark > found), default=None)
    return Doubt(off, found[0], found[1], before[0] if before else None, after[0] if after else None)


def valid_at(moment: datetime, cares: Sequence[Care], doubts: Iterable[Doubt], zone: Zone) -> GaugeState:
    """The state of a gauge at a moment: ``cares`` as they stood then, ``doubts`` as they are known."""
    for doubt in doubts:
        if doubt.takes_in(moment):
            found = f"found to read {doubt.off:+g} wrong on {zone.day(doubt.found)} (#{doubt.entry})"
            since = "" if doubt.since is None else f", last good check of it {zone.day(doubt.since)}"
            return GaugeState(False, f"{found}{since}", wrong=True)
    for care in cares:
        if care.until is None:
            return GaugeState(False, f"{care.title}: never done in this book, and not stated")
        if care.bad:
            return GaugeState(False, f"{care.title}: out of its limits when it was done last", wrong=True)
        if moment >= care.until:
            return GaugeState(False, f"{care.title}: overdue since {zone.day(care.until)}")
    if not cares:
        return GaugeState(True, "no calibration is asked for in this plant")
    first = min((care for care in cares if care.until is not None), key=lambda care: care.until or moment)
    return GaugeState(True, f"{first.title} done in time", first.until)


def told(state: GaugeState, moment: datetime, zone: Zone) -> str:
    """The state in a few words for the one who picks a gauge: valid, due in so many days, or not valid and why."""
    if not state.valid:
        return f"not valid: {state.why}"
    if state.until is None:
        return "valid"
    days = (zone.day(state.until - timedelta(seconds=1)) - zone.day(moment)).days
    return "valid, due today" if days == 0 else f"valid, due in {days} day{'' if days == 1 else 's'}"

"""The four edges of a line - opens, due, overdue, stop - as instants, and how edges of two triggers combine.

Edges never move with the clock, only with entries: the state at any instant is read off by comparison.  A usage edge is
the moment of the reading that showed the strokes to have reached it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from upkeep.plant.model import Task
from upkeep.units.instants import NEVER, Zone


@dataclass(frozen=True, slots=True)
class Edges:
    """The instants from which a line is open, due, overdue and stopped; ``NEVER`` where an edge is not in sight."""

    opens: datetime = NEVER
    due: datetime = NEVER
    overdue: datetime = NEVER
    stop: datetime = NEVER

    def in_order(self) -> Edges:
        """The same edges, none later than the one after it."""
        overdue = min(self.overdue, self.stop)
        due = min(self.due, overdue)
        return Edges(min(self.opens, due), due, overdue, self.stop)


def combined(first: Edges, second: Edges, how: str) -> Edges:
    """Whichever comes "first" or "last", edge by edge."""
    pick = max if how == "last" else min
    return Edges(
        pick(first.opens, second.opens),
        pick(first.due, second.due),
        pick(first.overdue, second.overdue),
        pick(first.stop, second.stop),
    )


def calendar_edges(task: Task, due: date, zone: Zone) -> Edges:
    """The edges around a due day: the whole day is in time, then ``late_days`` of grace, then it is overdue.

    The hard stop counts from the end of the due day and never comes before overdue.
    """
    overdue = due + timedelta(days=1 + task.late_days)
    stop = NEVER
    if task.stop_days is not None:
        stop = zone.start_of(max(overdue, due + timedelta(days=1 + task.stop_days)))
    return Edges(zone.start_of(due - timedelta(days=task.early_days)), zone.start_of(due), zone.start_of(overdue), stop)


@dataclass(frozen=True, slots=True)
class StrokeLimits:
    """The same four edges in strokes since the task was last done; ``stop`` None: no hard stop."""

    opens: int
    due: int
    overdue: int
    stop: int | None


def stroke_limits(task: Task, interval: int) -> StrokeLimits:
    """Plan-from, due, overdue and hard stop of a stroke interval: due on the stroke, overdue one past the grace."""
    return StrokeLimits(
        opens=-(-interval * task.plan_from // 100),
        due=interval,
        overdue=interval + task.late_strokes + 1,
        stop=None if task.stop_at is None else -(-interval * task.stop_at // 100),
    )


def usage_edges(limits: StrokeLimits, reached: Callable[[int], datetime | None], slack: int) -> Edges:
    """When each stroke limit was reached.  ``slack`` (high less best) brings the hard stop forward: stop with high."""

    def moment(strokes: int) -> datetime:
        return reached(max(1, strokes)) or NEVER

    return Edges(
        moment(limits.opens),
        moment(limits.due),
        moment(limits.overdue),
        NEVER if limits.stop is None else moment(limits.stop - slack),
    )

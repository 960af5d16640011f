"""The four edges of a line - opens, due, overdue, stop - as instants, and how edges of several triggers combine.

Edges never move with the clock, only with entries: the state at any instant is read off by comparison.  A usage edge is
the moment of the reading that showed the strokes to have reached it.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta

from upkeep.frozen import frozen
from upkeep.plant.model import Task
from upkeep.units.instants import NEVER, Zone


@frozen
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


@frozen
class Window:
    """How many days before and after its due day a line is in time."""

    early: int
    late: int


def window_of(task: Task, interval_days: int) -> Window:
    """The window of a task: its days, or its percent of the interval where that is wider, cut off at the cap.

    Ten percent of 30, 91 and 365 days are 3, 9 and 36 days (parts of a day do not count).
    """

    def wider(days: int, percent: int) -> int:
        share = interval_days * percent // 100
        return max(days, share if task.window_cap_days is None else min(share, task.window_cap_days))

    return Window(wider(task.early_days, task.early_percent), wider(task.late_days, task.late_percent))


def calendar_edges(task: Task, due: date, window: Window, zone: Zone) -> Edges:
    """The edges around a due day: the whole day is in time, then the days of grace, then it is overdue.

    The hard stop counts from the end of the due day and never comes before overdue.
    """
    overdue = due + timedelta(days=1 + window.late)
    stop = NEVER
    if task.stop_days is not None:
        stop = zone.start_of(max(overdue, due + timedelta(days=1 + task.stop_days)))
    return Edges(zone.start_of(due - timedelta(days=window.early)), zone.start_of(due), zone.start_of(overdue), stop)


@frozen
class StrokeLimits:
    """The same four edges in strokes since the task was last done; ``stop`` None: no hard stop."""

    opens: int
    due: int
    overdue: int
    stop: int | None

    def sooner(self, strokes: int) -> StrokeLimits:
        """The limits with so many strokes already used up (fewer than none: later), none below one stroke."""
        stop = None if self.stop is None else max(1, self.stop - strokes)
        return StrokeLimits(
            max(1, self.opens - strokes), max(1, self.due - strokes), max(1, self.overdue - strokes), stop
        )


def stroke_limits(task: Task, interval: int) -> StrokeLimits:
    """Plan-from, due, overdue and hard stop of a stroke interval: due on the stroke, overdue one past the grace."""
    plan_from = min(task.plan_from, 100 - task.early_percent) if task.early_percent else task.plan_from
    grace = max(task.late_strokes, interval * task.late_percent // 100)
    return StrokeLimits(
        opens=-(-interval * plan_from // 100),
        due=interval,
        overdue=interval + grace + 1,
        stop=None if task.stop_at is None else -(-interval * task.stop_at // 100),
    )


Reached = Callable[[int], datetime | None]
"""The moment from which a number of strokes was done; None: it was not."""


def usage_edges(limits: StrokeLimits, reached: Reached, possibly_reached: Reached) -> Edges:
    """When each stroke limit was reached: by the best estimate, but the hard stop when it can have been."""

    def moment(strokes: int) -> datetime:
        return reached(max(1, strokes)) or NEVER

    opens = moment(limits.opens)
    due, overdue = (NEVER, NEVER) if opens == NEVER else (moment(limits.due), moment(limits.overdue))  # more strokes
    stop = NEVER if limits.stop is None else possibly_reached(max(1, limits.stop)) or NEVER
    return Edges(opens, due, overdue, stop)

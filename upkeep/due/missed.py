"""What has come due on a line after the occurrence that is open, and is answered together with it."""

from __future__ import annotations

from datetime import date, datetime
from typing import NamedTuple

from upkeep.due.days import planned_after
from upkeep.due.facts import Setting
from upkeep.due.in_shift import used_after
from upkeep.plant.model import Task


class LateLine(NamedTuple):
    """An overdue line: its task and item, since when the item is in the book, the planned occurrence that is open, and
    the day that was due, where it has one."""

    task: Task
    item: str
    since: datetime
    occurrence: str
    due_day: date | None


def missed(line: LateLine, setting: Setting, now: datetime) -> int:
    """How many planned occurrences after the open one have come due by ``now`` and are answered with it."""
    if line.task.each_shift:
        return used_after(line.task, line.item, setting, line.occurrence, now)
    if line.task.rule is not None and line.due_day is not None:
        return planned_after(line.task, line.since, line.due_day, now, setting)
    return 0

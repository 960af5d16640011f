"""What has come due on a line after the occurrence that is open, and is answered together with it."""

from __future__ import annotations

from datetime import date, datetime

from upkeep.due.days import planned_after
from upkeep.due.facts import LineFacts, Setting
from upkeep.due.in_shift import used_after


def missed(facts: LineFacts, occurrence: str, due_day: date | None, setting: Setting, now: datetime) -> int:
    """How many planned occurrences after an open, overdue one have come due by ``now`` and are answered with it.

    ``due_day`` is the day it was due, where it has one; of the facts only task, item and since are looked at.
    """
    if facts.task.each_shift:
        return used_after(facts, setting, occurrence, now)
    if facts.task.rule is not None and due_day is not None:
        return planned_after(facts, due_day, now, setting)
    return 0

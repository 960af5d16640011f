"""Event triggers: a fitting, a crash, rework, the end of storage asks for work before the item runs again."""

from __future__ import annotations

from upkeep.counting.strokes import reached
from upkeep.due import why
from upkeep.due.edges import Edges
from upkeep.due.facts import LineFacts, Setting, Trigger
from upkeep.units.instants import NEVER


def after_event(facts: LineFacts, setting: Setting) -> Trigger | None:
    """Due from the event on, overdue as soon as the item did strokes without it; None while nothing happened.

    Strokes below the task's ``used_from`` (a hand cycle, a trial) do not count as running.
    """
    happening = facts.happening
    if happening is None:
        return None
    answered = facts.answered(happening.occurrence.__eq__)
    if answered is not None and answered.at >= happening.at:
        return None
    ran = reached(setting.counts, facts.item.id, happening.at, facts.task.used_from) or NEVER
    stop = ran if facts.task.stop_days is not None else NEVER
    edges = Edges(happening.at, happening.at, ran, stop)
    return Trigger(edges, happening.occurrence, why.event(happening, setting.zone))

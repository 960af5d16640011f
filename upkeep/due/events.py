"""Event triggers: a fitting, a crash, rework, the end of storage or of a shutdown asks for work before an item runs."""

from __future__ import annotations

from datetime import datetime

from upkeep.counting.since import StrokesSince
from upkeep.due.edges import Edges
from upkeep.due.facts import LineFacts, Setting, Trigger
from upkeep.due.reasons import After, AfterShutdown
from upkeep.plant.model import Event
from upkeep.units.instants import NEVER


def after_event(facts: LineFacts, setting: Setting) -> Trigger | None:
    """Due from the event on, overdue as soon as the item did strokes without it; None while nothing happened.

    Strokes below the task's ``used_from`` (a hand cycle, a trial) do not count as running.
    """
    happening = facts.happening
    if happening is None:
        return None
    answered = facts.answered(happening.occurrence.__eq__)
    # A sign-off that finds a value out of limits is itself what happened, and cannot answer itself.
    if answered is not None and answered.at >= happening.at and answered.entry != happening.entry:
        return None
    edges = _until_it_runs(facts, setting, happening.at, happening.at)
    reason = After(happening.what, happening.at, happening.entry, happening.of)
    return Trigger(edges, happening.occurrence, reason)


def after_shutdown(facts: LineFacts, setting: Setting) -> Trigger | None:
    """Due when the plant starts again after the first shutdown not yet answered; None where the calendar has none.

    Open from the end of its last day, and answered by work done from then on.
    """
    if Event.SHUTDOWN not in facts.task.after:
        return None
    for standstill in setting.standstills:
        if standstill.over <= facts.since:
            continue
        answered = facts.answered(standstill.occurrence.__eq__)
        if answered is None or (answered.at < standstill.over and answered.occurrence != standstill.occurrence):
            edges = _until_it_runs(facts, setting, standstill.over, standstill.restart)
            return Trigger(edges, standstill.occurrence, AfterShutdown(standstill.name, standstill.last_day))
    return None


def _until_it_runs(facts: LineFacts, setting: Setting, opens: datetime, due: datetime) -> Edges:
    ran = StrokesSince(setting.counts, facts.item.id, opens).reached(facts.task.used_from) or NEVER
    return Edges(opens, due, ran, ran if facts.task.stop_days is not None else NEVER).in_order()

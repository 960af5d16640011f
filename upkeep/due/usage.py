"""The usage trigger: every so many strokes, counted from the strokes at which the task was last done."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from upkeep.counting.marks import Band
from upkeep.counting.since import StrokesSince
from upkeep.counting.strokes import BEGINNING
from upkeep.due.edges import Edges, stroke_limits, usage_edges
from upkeep.due.facts import Deferral, Done, LineFacts, Setting, Trigger, names_strokes
from upkeep.due.reasons import Life, Usage
from upkeep.entries.occurrences import Strokes, occurrence_of
from upkeep.plant.model import Item, Task
from upkeep.units.instants import NEVER


def stroke_interval(task: Task, item: Item) -> int | None:
    """The stroke interval of a task on an item: the item's own, its family's, or the task's.  None: no such trigger."""
    for key in (item.id, item.family):
        if key is not None and key in task.strokes_for:
            return task.strokes_for[key]
    return task.strokes


HALVING_GRADES = (2, 3)
"""Findings after which the next interval is half: worn visibly, or at the limit.  Common practice, no source."""


def usage_trigger(facts: LineFacts, setting: Setting) -> tuple[Trigger | None, Band | None, int | None]:
    """What the strokes ask for, the strokes since the task was last done, and how many of them are allowed."""
    if facts.task.life:
        return _life(facts, setting)
    interval = stroke_interval(facts.task, facts.item)
    if interval is None:
        return None, None, None
    last = facts.usage_done if facts.task.own_usage_clock else facts.last
    halved = last is not None and last.grade in HALVING_GRADES
    if halved:
        interval = max(1, interval // 2)
    start = last.at if last else facts.since
    # To NEVER, not to now: a row of the board does not go stale, so nothing in it may hang on when it was made.
    since = StrokesSince(setting.counts, facts.item.id, start)
    # Planned points are named in strokes since new, so that a name stays when the work is done early or late.
    at_start = since.new_at_start
    overrun = _overrun(facts.task, last, at_start)
    allowed = max(1, interval - overrun)
    cancelled = _cancelled(facts, last)
    if cancelled is not None:
        # What was cancelled is passed over: the next point lies an interval behind it, whatever was done since.
        allowed = max(1, cancelled - at_start + interval)
    # The window and the grace are shares of the whole interval, also where an overrun has used some of it up.
    limits = stroke_limits(facts.task, interval).sooner(interval - allowed)
    edges = usage_edges(limits, since.reached, since.possibly_reached)
    grade = last.grade if halved and last else None
    reason = Usage(*since.done, allowed, last is not None, grade, overrun or None, doubts=since.doubts)
    deferral = _deferral(facts, start)
    if deferral is not None:
        # Up to the stroke it was moved to it is in time; the one after is late.
        past = max(1, int(deferral.to) - at_start + 1)
        edges = _deferred(edges, since.reached(past) or NEVER)
        reason = replace(reason, deferred=deferral.reason)
    return Trigger(edges, str(Strokes(at_start + allowed)), reason, deferral=deferral), since.done, allowed


def _life(facts: LineFacts, setting: Setting) -> tuple[Trigger | None, Band | None, int | None]:
    """The life of a part, or of the part of a set that has least left: what its last rework granted, or its life new.

    Signing does not renew it.  None is left of a life that is not known.
    """
    part = facts.part
    start, allowed = (
        (facts.rework.at, facts.rework.granted) if facts.rework else (BEGINNING, part.life if part else None)
    )
    if part is None or allowed is None:
        return None, None, None
    since = StrokesSince(setting.counts, part.id, start)
    if facts.unknown_life is not None:
        # None is left by any estimate, so it is due at once.
        allowed = since.done.high
    edges = usage_edges(stroke_limits(facts.task, allowed), since.reached, since.possibly_reached)
    times, entry = (facts.rework.times, facts.rework.entry) if facts.rework else (None, None)
    reason = Life(part.id, *since.done, allowed, times, entry, facts.unknown_life, since.doubts)
    return Trigger(edges, str(Strokes(since.new_at_start + allowed)), reason), since.done, allowed


def _cancelled(facts: LineFacts, last: Done | None) -> int | None:
    """The planned strokes that were cancelled since the work was done; the next ones count from these."""
    since = [
        occurrence_of(cancelled.occurrence) for cancelled in facts.cancelled if last is None or cancelled.at > last.at
    ]
    return max((occurrence.number for occurrence in since if isinstance(occurrence, Strokes)), default=None)


def _overrun(task: Task, answered: Done | None, strokes: int) -> int:
    """Strokes done beyond the planned point that was answered; they count into the next interval.

    Published model: 14 CFR 91.409(b), the excess over the 100 hours is included in computing the next 100 hours.
    """
    planned = occurrence_of(answered.occurrence) if task.deduct_overrun and answered is not None else None
    return max(0, strokes - planned.number) if isinstance(planned, Strokes) else 0


def _deferral(facts: LineFacts, since: datetime) -> Deferral | None:
    """The last move of the strokes now planned; their number may have shifted with a late count, so it goes by time."""
    since = max([since, *(cancelled.at for cancelled in facts.cancelled if names_strokes(cancelled.occurrence))])
    moved = [deferral for deferral in facts.deferrals if names_strokes(deferral.occurrence) and deferral.at > since]
    return max(moved, key=lambda deferral: (deferral.at, deferral.entry), default=None)


def _deferred(edges: Edges, behind: datetime) -> Edges:
    """A deferral moves overdue and stop behind the strokes it names; due stays where it was, so late stays late."""
    return Edges(edges.opens, edges.due, max(edges.overdue, behind), max(edges.stop, behind))

"""The usage trigger: every so many strokes, counted from the strokes at which the task was last done."""

from __future__ import annotations

from upkeep.counting.marks import Band
from upkeep.counting.strokes import reached, strokes_between, strokes_since_new
from upkeep.due import why
from upkeep.due.edges import stroke_limits, usage_edges
from upkeep.due.facts import LineFacts, Setting, Trigger
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
    """What the strokes ask for, the strokes since the task was last done, and the interval in force."""
    interval = stroke_interval(facts.task, facts.item)
    if interval is None:
        return None, None, None
    halved = facts.last is not None and facts.last.grade in HALVING_GRADES
    if halved:
        interval = max(1, interval // 2)
    counts, item = setting.counts, facts.item.id
    start = facts.last.at if facts.last else facts.since
    done = strokes_between(counts, item, start, NEVER)
    edges = usage_edges(
        stroke_limits(facts.task, interval),
        lambda strokes: reached(counts, item, start, strokes),
        done.high - done.best,
    )
    planned = strokes_since_new(counts, item, start).best + interval
    reason = why.usage(facts, done, interval, halved)
    return Trigger(edges, str(planned), reason), done, interval

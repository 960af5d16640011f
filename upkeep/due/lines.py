"""One task on one item: when it is next due and why, from its last sign-off and the strokes since."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from upkeep.counting.marks import Band
from upkeep.due import days, in_shift, why
from upkeep.due.edges import Edges, combined
from upkeep.due.facts import Done, LineFacts, Setting, Trigger
from upkeep.due.states import State, state_at
from upkeep.due.usage import usage_trigger

ACTIVE = "active"


@dataclass(frozen=True, slots=True)
class Line:
    """A line as it stands until the next entry.  ``standing`` is "active", or the state that overrides the edges."""

    task: str
    item: str
    standing: str
    edges: Edges
    due_day: date | None
    strokes: Band | None
    due_strokes: int | None
    occurrence: str
    why: str
    last: Done | None
    unverified: int | None

    def state(self, now: datetime) -> State:
        """The state at an instant not earlier than the entries the line stands on."""
        if self.standing != ACTIVE:
            return State(self.standing)
        return state_at(now, self.edges.opens, self.edges.due, self.edges.overdue, self.edges.stop)


def line_from(facts: LineFacts, setting: Setting) -> Line:
    """The line of a task on an item, with the sentence that says why."""
    usage, strokes, interval = usage_trigger(facts, setting)
    timed = _timed(facts, setting)
    asked = [trigger for trigger in (timed, usage) if trigger is not None]
    standing = _standing(facts, bool(asked))
    edges = Edges()
    if len(asked) == 2:
        edges = combined(asked[0].edges, asked[1].edges, facts.task.combine)
    elif asked:
        edges = asked[0].edges
    return Line(
        task=facts.task.id,
        item=facts.item.id,
        standing=standing,
        edges=edges.in_order(),
        due_day=timed.due_day if timed else None,
        strokes=strokes,
        due_strokes=interval,
        occurrence=asked[0].occurrence if asked else "extra",
        why=why.sentence(facts, standing, [trigger.reason for trigger in asked], setting.zone, setting.names),
        last=facts.last,
        unverified=facts.unverified,
    )


def _standing(facts: LineFacts, asked: bool) -> str:
    if facts.hold is not None:
        return State.HELD
    if facts.pause is not None:
        return State.PAUSED
    return ACTIVE if asked else State.NOT_REQUIRED


def _timed(facts: LineFacts, setting: Setting) -> Trigger | None:
    task = facts.task
    if task.each_shift:
        return in_shift.shift_bound(facts, setting)
    if task.after_grade is not None:
        return days.after_finding(facts, setting)
    if task.every is not None:
        return days.floating(facts, task.every, setting)
    return days.fixed(facts, setting) if task.rule is not None else None


def missed(facts: LineFacts, overdue: datetime, due_day: date | None, setting: Setting, now: datetime) -> int:
    """How many planned occurrences after the open one have come due by ``now`` and are answered with it.

    The open one is overdue since ``overdue`` and, where it has a day, was due on ``due_day``; of the facts only task,
    item and since are looked at.
    """
    if facts.task.each_shift:
        shifts = setting.calendar.between(overdue, now)
        return sum(1 for shift in shifts if shift.end <= now and in_shift.was_used(facts, setting, shift))
    if facts.task.rule is not None and due_day is not None:
        return days.planned_after(facts, due_day, now, setting.zone)
    return 0

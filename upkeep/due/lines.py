"""One task on one item: when it is next due and why, from its last sign-off and the strokes since."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from upkeep.counting.marks import Band
from upkeep.due import days, events, in_shift, why
from upkeep.due.edges import Edges, combined
from upkeep.due.facts import Done, LineFacts, Setting, Trigger
from upkeep.due.holds import GaugeOutOfTolerance, HoldReason, LifeUnknown, OutOfLimits
from upkeep.due.reason_list import Reasons
from upkeep.due.states import State, state_at
from upkeep.due.stops import due_at_stop, stopped_at
from upkeep.due.usage import usage_trigger
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.standing import LineStanding
from upkeep.frozen import frozen
from upkeep.plant.model import Task


@frozen
class Line:
    """A line as it stands until the next entry.

    ``occurrence`` is the planned occurrence a sign-off answers now; ``also`` others it may name as well, since each
    trigger plans its own.  ``stopped_at`` is the stop at which work that waits for one is to be done.
    """

    task: str
    item: str
    standing: LineStanding
    edges: Edges
    due_day: date | None
    strokes: Band | None
    due_strokes: int | None
    occurrence: str
    also: tuple[str, ...]
    deferred_to: str | None
    reasons: Reasons
    last: Done | None
    unverified: int | None
    stopped_at: datetime | None = None

    def state(self, now: datetime) -> State:
        """The state at an instant not earlier than the entries the line stands on."""
        if self.standing is not LineStanding.ACTIVE:
            return State(self.standing)
        return state_at(now, self.edges.opens, self.edges.due, self.edges.overdue, self.edges.stop)


def line_from(facts: LineFacts, setting: Setting) -> Line:
    """The line of a task on an item, with the reasons why it stands so."""
    usage, strokes, allowed = usage_trigger(facts, setting)
    timed = _timed(facts, setting)
    happened = [events.after_event(facts, setting), events.after_shutdown(facts, setting)]
    reasons = [trigger for trigger in happened if trigger is not None]
    planned = [trigger for trigger in (timed, usage) if trigger is not None]
    asked = [*reasons, *planned]
    standing = _standing(facts, bool(asked), bool(reasons))
    edges = _edges_planned("first" if facts.first_time else facts.task.combine, planned)
    stopped = stopped_at(facts, edges.opens, setting)
    # A sign-off answers what fell due first, also where the line itself waits for the last of its triggers.
    first = min(asked, key=lambda trigger: trigger.edges.due, default=None)
    return Line(
        task=facts.task.id,
        item=facts.item.id,
        standing=standing,
        edges=_with_events(due_at_stop(edges, stopped), reasons).in_order(),
        due_day=timed.due_day if timed else None,
        strokes=strokes,
        due_strokes=allowed,
        occurrence=first.occurrence if first else EXTRA,
        also=tuple(trigger.occurrence for trigger in asked),
        deferred_to=first.deferral.to if first and first.deferral else None,
        reasons=why.reasons(facts, standing, [trigger.reason for trigger in asked], stopped),
        last=facts.last,
        unverified=facts.unverified,
        stopped_at=stopped,
    )


def _edges_planned(how: str, planned: Sequence[Trigger]) -> Edges:
    """The edges of the planned triggers: whichever comes first or last, as the task says (what was never done here does
    not wait for the last)."""
    # In order before they are combined: else one trigger would lend its late edge to the early one of another.
    edges = planned[0].edges.in_order() if planned else Edges()
    for trigger in planned[1:]:
        edges = combined(edges, trigger.edges.in_order(), how)
    return edges


def _with_events(edges: Edges, events: Sequence[Trigger]) -> Edges:
    """What is planned, or an event, whichever comes first."""
    for event in events:
        edges = combined(edges, event.edges, "first")
    return edges


def _standing(facts: LineFacts, asked: bool, happened: bool) -> LineStanding:
    if facts.gone:
        return LineStanding.NOT_REQUIRED
    if facts.hold is not None and not (happened and _ends(facts.task, facts.hold)):
        return LineStanding.HELD
    if facts.task.while_resting:
        return LineStanding.ACTIVE if facts.rests and asked else LineStanding.NOT_REQUIRED
    if facts.pause is not None:
        return LineStanding.PAUSED
    return LineStanding.ACTIVE if asked else LineStanding.NOT_REQUIRED


def _ends(task: Task, hold: HoldReason) -> bool:
    """Whether an item is held until a task is done on it, so that the line does not wait with the item: the calibration
    of a gauge out of tolerance, the inspection of a part of unknown life, what was measured out of limits."""
    match hold:
        case GaugeOutOfTolerance():
            return True
        case LifeUnknown():
            return task.graded
        case OutOfLimits(task=measuring):
            return measuring == task.id
    return False


def _timed(facts: LineFacts, setting: Setting) -> Trigger | None:
    task = facts.task
    if facts.first_time is not None:
        return days.first_time(facts, facts.first_time, setting)
    if task.each_shift:
        return in_shift.shift_bound(facts, setting)
    if task.after_grade is not None or task.after_warning:
        return days.after_finding(facts, setting)
    if task.every is not None:
        return days.floating(facts, task.every, setting)
    return days.fixed(facts, setting) if task.rule is not None else None

"""One task on one item: when it is next due and why, from its last sign-off and the strokes since."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime

from upkeep.counting.marks import NOTHING, Band
from upkeep.counting.strokes import Counts, reached, strokes_between, strokes_since_new
from upkeep.due import why
from upkeep.due.edges import Edges, calendar_edges, combined, stroke_limits, usage_edges
from upkeep.due.states import State, state_at
from upkeep.plant.model import Item, Kind, Task
from upkeep.units.instants import NEVER, Zone
from upkeep.units.recurrence import Recurrence, interval_after
from upkeep.units.shifts import ShiftCalendar, ShiftSpan

ACTIVE = "active"


@dataclass(frozen=True, slots=True)
class Done:
    """A sign-off in effect: when, by whom, the occurrence it answered, its grade and entry number."""

    at: datetime
    by: str
    occurrence: str
    grade: int | None
    entry: int


@dataclass(frozen=True, slots=True)
class LineFacts:
    """All a line stands on besides counts and calendar.

    ``since`` is when the item came into the book; ``last`` the last sign-off that counts; ``unverified`` a later one
    that waits for its second signature; ``finding`` the last inspection bad enough for an ``after_grade`` task;
    ``hold`` and ``pause`` the reasons in force; ``fitted`` whether the item hangs on a press (a press always does).
    """

    task: Task
    item: Item
    since: datetime
    last: Done | None = None
    unverified: int | None = None
    finding: Done | None = None
    hold: str | None = None
    pause: str | None = None
    fitted: bool = False
    press: str | None = None


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


@dataclass(frozen=True, slots=True)
class Setting:
    """Where and how a line is judged: the counts to look up, the plant's zone and shifts, and names for the ids."""

    counts: Counts
    zone: Zone
    calendar: ShiftCalendar
    names: dict[str, str]


@dataclass(frozen=True, slots=True)
class _Trigger:
    """What one trigger asks: its edges, the planned occurrence and half a sentence of reason."""

    edges: Edges
    occurrence: str
    reason: str
    due_day: date | None = None


def line_from(facts: LineFacts, setting: Setting) -> Line:
    """The line of a task on an item, with the sentence that says why."""
    usage, strokes, interval = _usage(facts, setting)
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


# Usage --------------------------------------------------------------------------------------------------------------


def stroke_interval(task: Task, item: Item) -> int | None:
    """The stroke interval of a task on an item: the item's own, its family's, or the task's.  None: no such trigger."""
    for key in (item.id, item.family):
        if key is not None and key in task.strokes_for:
            return task.strokes_for[key]
    return task.strokes


HALVING_GRADES = (2, 3)
"""Findings after which the next interval is half: worn visibly, or at the limit.  Common practice, no source."""


def _usage(facts: LineFacts, setting: Setting) -> tuple[_Trigger | None, Band | None, int | None]:
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
    return _Trigger(edges, str(planned), reason), done, interval


# Time ---------------------------------------------------------------------------------------------------------------


def _timed(facts: LineFacts, setting: Setting) -> _Trigger | None:
    task = facts.task
    if task.each_shift:
        return _shift_bound(facts, setting)
    if task.after_grade is not None:
        return _after_finding(facts, setting)
    if task.every is not None:
        start = setting.zone.day(facts.last.at if facts.last else facts.since)
        return _on_day(facts, interval_after(start, task.every), setting)
    if task.rule is not None:
        day = _fixed_day(facts, setting.zone)
        return None if day is None else _on_day(facts, day, setting)
    return None


def _on_day(facts: LineFacts, due: date, setting: Setting) -> _Trigger:
    reason = why.on_day(facts, due, setting.zone)
    return _Trigger(calendar_edges(facts.task, due, setting.zone), due.isoformat(), reason, due)


def _fixed_day(facts: LineFacts, zone: Zone) -> date | None:
    """The first planned day not yet answered: later than the one last answered and not yet open when that was done."""
    task = facts.task
    rule = fixed_rule(task, facts.since)
    if facts.last is None:
        first = rule.next_after(_wall(zone.day(facts.since)), inclusive=True)
        return None if first is None else first.date()
    done = zone.day(facts.last.at).toordinal() + task.early_days
    answered = _answered_day(facts.last.occurrence)
    after = max(done, answered.toordinal() if answered else 0)
    following = rule.next_after(_wall(date.fromordinal(after)))
    return None if following is None else following.date()


def _answered_day(occurrence: str) -> date | None:
    try:
        return date.fromisoformat(occurrence)
    except ValueError:
        return None


def fixed_rule(task: Task, since: datetime) -> Recurrence:
    """The RFC 5545 rule of a fixed task on local days, from its start (or the day the item came into the book)."""
    return Recurrence(task.rule or "", _wall(task.start or since.date()))


def _wall(day: date) -> datetime:
    return datetime(day.year, day.month, day.day)


def _after_finding(facts: LineFacts, setting: Setting) -> _Trigger | None:
    finding = facts.finding
    if finding is None or (facts.last is not None and facts.last.at >= finding.at):
        return None
    day = setting.zone.day(finding.at)
    edges = replace(calendar_edges(facts.task, day, setting.zone), opens=finding.at, due=finding.at)
    return _Trigger(edges, day.isoformat(), why.finding(finding, setting.zone), day)


# Shifts -------------------------------------------------------------------------------------------------------------


def _shift_bound(facts: LineFacts, setting: Setting) -> _Trigger | None:
    start = _unanswered_from(facts, setting.calendar)
    shift = _first_used(facts, setting, start)
    if shift is None:
        return None
    edges = Edges(shift.start, shift.start, shift.end, NEVER)
    return _Trigger(edges, shift.key, why.in_shift(shift), shift.day)


def _unanswered_from(facts: LineFacts, calendar: ShiftCalendar) -> datetime:
    if facts.last is None:
        return facts.since
    shift = calendar.at(facts.last.at)
    answered = _answered_shift(facts.last.occurrence, calendar)
    ends = [span.end for span in (shift, answered) if span is not None]
    return max([facts.last.at, *ends])


def _answered_shift(occurrence: str, calendar: ShiftCalendar) -> ShiftSpan | None:
    return calendar.named(occurrence) if "/" in occurrence else None


def _first_used(facts: LineFacts, setting: Setting, start: datetime) -> ShiftSpan | None:
    """The first shift from ``start`` in which the item did strokes, or may still do so; None: not in use."""
    counts, item = setting.counts, facts.item.id
    moved = reached(counts, item, start, 1)
    if moved is not None:
        stay = counts.stay_from(item, moved)
        before = counts.read_before(stay.press, moved) if stay else None
        earliest = max(start, before or start)
        return next(setting.calendar.between(earliest, moved), None) or setting.calendar.next_from(earliest)
    if not facts.fitted or facts.press is None:
        return None
    stay = counts.stay_from(item, NEVER)
    known = [start, counts.last_read(facts.press) or start]
    if stay is not None and facts.item.kind is not Kind.PRESS:
        known.append(stay.start)
    idle_until = max(known)
    return setting.calendar.at(idle_until) or setting.calendar.next_from(idle_until)


def missed(line: Line, facts: LineFacts, setting: Setting, now: datetime) -> int:
    """How many planned occurrences after the open one have come due by ``now`` and are answered with it."""
    if line.standing != ACTIVE or now < line.edges.overdue:
        return 0
    if facts.task.each_shift:
        shifts = setting.calendar.between(line.edges.overdue, now)
        return sum(1 for shift in shifts if shift.end <= now and _was_used(facts, setting, shift))
    if facts.task.rule is not None and line.due_day is not None:
        later = fixed_rule(facts.task, facts.since)
        until = setting.zone.local(now).replace(tzinfo=None)
        return sum(1 for day in later.between(_wall(line.due_day), until) if day.date() > line.due_day)
    return 0


def _was_used(facts: LineFacts, setting: Setting, shift: ShiftSpan) -> bool:
    return strokes_between(setting.counts, facts.item.id, shift.start, shift.end).best > NOTHING.best


BEGINNING = datetime(1, 1, 2, tzinfo=UTC)
"""Before every entry: where the stay of a press on itself begins."""

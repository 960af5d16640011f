"""The shift-bound trigger: once each shift the item is used.  The count says whether it was, not a person's word."""

from __future__ import annotations

from datetime import datetime

from upkeep.counting.strokes import first_stroke, strokes_between
from upkeep.due import why
from upkeep.due.edges import Edges
from upkeep.due.facts import LineFacts, Setting, Trigger
from upkeep.errors import Unreadable
from upkeep.plant.model import Kind
from upkeep.units.instants import NEVER
from upkeep.units.shifts import ShiftCalendar, ShiftSpan


def shift_bound(facts: LineFacts, setting: Setting) -> Trigger | None:
    """Due in the first shift since the last sign-off in which the item did strokes or may still do so."""
    start = _unanswered_from(facts, setting.calendar)
    shift = _first_used(facts, setting, start)
    if shift is None:
        return None
    edges = Edges(shift.start, shift.start, shift.end, NEVER)
    return Trigger(edges, shift.key, why.in_shift(shift), shift.day)


def _unanswered_from(facts: LineFacts, calendar: ShiftCalendar) -> datetime:
    if facts.last is None:
        return facts.since
    shift = calendar.at(facts.last.at)
    answered = _answered_shift(facts.last.occurrence, calendar)
    ends = [span.end for span in (shift, answered) if span is not None]
    return max([facts.last.at, *ends])


def _answered_shift(occurrence: str, calendar: ShiftCalendar) -> ShiftSpan | None:
    try:
        return calendar.named(occurrence) if "/" in occurrence else None
    except Unreadable:  # signed for a shift that the plant no longer has
        return None


def _first_used(facts: LineFacts, setting: Setting, start: datetime) -> ShiftSpan | None:
    """The first shift from ``start`` in which the item did strokes, or may still do so; None: not in use."""
    counts, item = setting.counts, facts.item.id
    first = first_stroke(counts, item, start)
    if first is not None:
        return next(setting.calendar.between(*first), None) or setting.calendar.next_from(first[0])
    if not facts.fitted or facts.press is None:
        return None
    stay = counts.stay_from(item, NEVER)
    known = [start, counts.last_read(facts.press) or start]
    if stay is not None and facts.item.kind is not Kind.PRESS:
        known.append(stay.start)
    idle_until = max(known)
    return setting.calendar.at(idle_until) or setting.calendar.next_from(idle_until)


def was_used(facts: LineFacts, setting: Setting, shift: ShiftSpan) -> bool:
    """Whether the item did strokes in a shift, as far as the counts tell."""
    return strokes_between(setting.counts, facts.item.id, shift.start, shift.end).best > 0

"""The shift-bound trigger: once each shift the item is used.  The count says whether it was, not a person's word."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from functools import lru_cache
from heapq import merge
from itertools import chain

from upkeep.counting.strokes import reached_by_count, strokes_between
from upkeep.due.edges import Edges
from upkeep.due.facts import LineFacts, Setting, Trigger, names_day
from upkeep.due.reasons import InShift
from upkeep.entries.occurrences import OfShift, occurrence_of
from upkeep.errors import Unreadable
from upkeep.plant.model import Kind, Task
from upkeep.units.instants import NEVER
from upkeep.units.shifts import ShiftCalendar, ShiftSpan


def shift_bound(facts: LineFacts, setting: Setting) -> Trigger | None:
    """Due in the first shift since the last one answered in which the item was used, or may still be.

    Overdue when the shift ends, or ``by_hour`` hours into it.
    """
    start = _unanswered_from(facts, setting.calendar)
    shift = _first_used(facts, setting, start)
    if shift is None:
        return None
    overdue = shift.end
    if facts.task.by_hour is not None:
        overdue = min(overdue, shift.start + timedelta(hours=facts.task.by_hour))
    edges = Edges(shift.start, shift.start, overdue, NEVER)
    return Trigger(edges, shift.key, InShift(shift.name, shift.day, facts.task.by_hour), shift.day)


def _unanswered_from(facts: LineFacts, calendar: ShiftCalendar) -> datetime:
    """The end of the last shift that was answered.

    Work answers the shift it names and none after it, whenever it was done; where it names none that the plant knows,
    the one it was done in.
    """
    ends = [
        end_of(cancelled.occurrence, calendar) or cancelled.at
        for cancelled in facts.cancelled
        if names_day(cancelled.occurrence)
    ]
    # Not the last work alone: what was done for an earlier shift may be told after that of the running one.
    ends += [end_of(work.occurrence, calendar) or _done_until(work.at, calendar) for work in facts.works]
    return max(ends, default=facts.since)


def _done_until(at: datetime, calendar: ShiftCalendar) -> datetime:
    """The end of the shift in which work was done; the moment itself outside every shift."""
    shift = calendar.at(at)
    return shift.end if shift else at


def end_of(occurrence: str, calendar: ShiftCalendar) -> datetime | None:
    """The end of the shift an occurrence names; None for another kind, and for a shift the plant no longer has."""
    shift = _named(occurrence, calendar)
    return shift.end if shift else None


@lru_cache(maxsize=1024)
def _named(occurrence: str, calendar: ShiftCalendar) -> ShiftSpan | None:
    """The shift itself; a whole round of lines stands at the same few."""
    try:
        return calendar.named(occurrence) if isinstance(occurrence_of(occurrence), OfShift) else None
    except Unreadable:
        return None


def _first_used(facts: LineFacts, setting: Setting, start: datetime) -> ShiftSpan | None:
    """The first shift from ``start`` in which the item did strokes enough, or may still do so; None: not in use."""
    for shift in used(facts.task, facts.item.id, setting, start):
        return shift
    if not facts.fitted or facts.press is None:
        return None
    # No count says that it moved since then, but none says that it did not: the shift of now may be using it.
    idle_until = _known_until(facts, setting, start)
    return setting.calendar.at(idle_until) or setting.calendar.next_from(idle_until)


def used(task: Task, item: str, setting: Setting, start: datetime) -> Iterator[ShiftSpan]:
    """The shifts that end after ``start`` and in which the item did strokes enough to count as used."""
    counts, least = setting.counts, task.used_from
    shifts: Iterable[ShiftSpan] = chain.from_iterable(_moved_in(item, setting, start))
    uncounted = list(_moved_by_uncounted(item, setting, start))
    if uncounted:
        shifts = merge(shifts, uncounted, key=_start_of)
    made = sorted(_made_while_still(item, setting, start), key=_start_of)
    if made:
        shifts = merge(shifts, made, key=_start_of)
    if least > 1:
        shifts = (shift for shift in shifts if strokes_between(counts, item, shift.start, shift.end).best >= least)
    return iter(shifts)


_SECOND = timedelta(seconds=1)

LATE_READING = 0.1
"""A shift that covers less of the time between two readings than this is not held to be used for it: the count was
taken late, not the press run early.  Plant default, no source."""


def _moved_in(item: str, setting: Setting, start: datetime) -> Iterator[Iterable[ShiftSpan]]:
    """The shifts that end after ``start`` and in which the counts say the item moved, the earliest first, those of
    one reading together.

    Where a reading covers several shifts all of them are; strokes outside every shift are put to the next one.
    """
    for before, moved in chain.from_iterable(_moves(item, setting, start)):
        yield (shift for shift in _worked(setting.calendar, before, moved) if shift.end > start)


Move = tuple[datetime, datetime]
"""The moments of two readings between which an item moved."""


def _moves(item: str, setting: Setting, start: datetime) -> Iterator[Iterable[Move]]:
    """Between which readings the counts say the item moved after ``start``, the earliest first."""
    counts = setting.counts
    since = start
    while (moved := reached_by_count(counts, item, since, 1)) is not None:
        # A second before: who is fitted at the moment of the reading did not do the strokes that it shows.
        stay = counts.stay_from(item, moved - _SECOND)
        before = (counts.read_before(stay.press, moved) if stay else None) or since
        before = max(before, stay.start) if stay else before
        yield ((before, moved),)
        if moved <= since:
            return
        since = moved
        if stay is None or (stay.end is not None and stay.end <= since):
            continue
        rises = counts.rises(stay.press, since)  # as long as it hangs there, whoever asks gets the same
        if stay.end is None:
            yield rises
            return
        for before, moved in rises:
            if moved > stay.end:
                break
            yield ((before, moved),)
            since = moved


def _moved_by_uncounted(item: str, setting: Setting, start: datetime) -> Iterator[ShiftSpan]:
    """The shifts that end after ``start`` in which strokes were written that no counter counted."""
    for moment, strokes in setting.counts.uncounted_from(item, start):
        shift = setting.calendar.at(moment) or setting.calendar.next_from(moment)
        if strokes > 0 and shift is not None and shift.end > start:
            yield shift


def _made_while_still(item: str, setting: Setting, start: datetime) -> Iterator[ShiftSpan]:
    """The shifts that end after ``start`` in which pieces were made though the counter stood still: the item ran."""
    for since, until in setting.counts.made_while_still(item, start):
        yield from (shift for shift in _worked(setting.calendar, since, until) if shift.end > start)


def _start_of(shift: ShiftSpan) -> datetime:
    return shift.start


@lru_cache(maxsize=4096)
def _worked(calendar: ShiftCalendar, before: datetime, moved: datetime) -> tuple[ShiftSpan, ...]:
    """The shifts that cover enough of the time between two readings to have done its strokes.

    Strokes outside every shift are put to the next one.
    """
    shifts = tuple(calendar.between(before, moved))
    if not shifts:
        following = calendar.next_from(before)
        return (following,) if following else ()
    covered = [(min(shift.end, moved) - max(shift.start, before)).total_seconds() for shift in shifts]
    whole = sum(covered)
    if whole <= 0:
        return shifts
    return tuple(shift for shift, part in zip(shifts, covered, strict=True) if part / whole >= LATE_READING)


def _known_until(facts: LineFacts, setting: Setting, start: datetime) -> datetime:
    """Until when the counts tell that the item did not move."""
    counts = setting.counts
    known = [start, (counts.last_read(facts.press) if facts.press else None) or start]
    stay = counts.stay_from(facts.item.id, NEVER)
    if stay is not None and facts.item.kind is not Kind.PRESS:
        known.append(stay.start)
    return max(known)


def used_after(task: Task, item: str, setting: Setting, occurrence: str, now: datetime) -> int:
    """In how many shifts after the one named the item was used, of those that have ended by ``now``."""
    named = _named(occurrence, setting.calendar)
    if named is None:
        return 0
    if task.used_from <= 1 and not any(_moved_beside(item, setting, named.end)):
        moves = tuple(chain.from_iterable(_moves(item, setting, named.end)))
        return bisect_right(_ends_of_worked(setting.calendar, moves, named.end), now)
    return bisect_right(_ends(used(task, item, setting, named.end)), now)


def _moved_beside(item: str, setting: Setting, start: datetime) -> Iterator[ShiftSpan]:
    """The shifts that end after ``start`` in which the item moved and no count says so."""
    return chain(_moved_by_uncounted(item, setting, start), _made_while_still(item, setting, start))


@lru_cache(maxsize=64)
def _ends_of_worked(calendar: ShiftCalendar, moves: tuple[Move, ...], start: datetime) -> list[datetime]:
    """When the shifts ended that end after ``start`` and were worked, in order.

    All that hangs on one press was moved in the same shifts, and whoever looks again later asks for most of them again.
    """
    worked = chain.from_iterable(_worked(calendar, before, moved) for before, moved in moves)
    return _ends(shift for shift in worked if shift.end > start)


def _ends(shifts: Iterable[ShiftSpan]) -> list[datetime]:
    """When shifts end, in order; a shift that comes twice, under two readings, counts once."""
    return sorted({(shift.day, shift.name): shift.end for shift in shifts}.values())

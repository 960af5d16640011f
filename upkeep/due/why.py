"""The sentence that says why a line is where it is: the arithmetic, its inputs and the source of the interval."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from upkeep.counting.marks import Band
from upkeep.due.facts import Deferral, Done, Happening, LineFacts, Reworked, Standstill, not_told_by_a_word
from upkeep.due.states import State
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped, strokes

if TYPE_CHECKING:
    from upkeep.units.shifts import ShiftSpan


def sentence(facts: LineFacts, standing: str, reasons: Sequence[str], zone: Zone, names: dict[str, str]) -> str:
    """The whole sentence: what overrides, then each trigger's arithmetic, then when it was last done and the source."""
    parts = []
    if facts.gone:
        parts.append(f"Not required: {facts.hold}")
    elif standing == State.HELD:
        parts.append(f"Held until released: {facts.hold or 'no reason given'}")
    elif standing == State.PAUSED:
        parts.append(f"Paused: {facts.pause or 'out of use'}")
    elif facts.task.while_resting and facts.pause is None:
        parts.append("Not required: asked for in storage only")
    elif not reasons:
        parts.append(_nothing_asked(facts))
    if reasons:
        parts.append(f" {_JOIN[facts.task.combine]} ".join(reasons))
    if facts.unverified is not None:
        parts.append(f"sign-off #{facts.unverified} waits for the second signature ({facts.task.second_signature})")
    parts.append(_last_done(facts, zone, names))
    return f"{'; '.join(parts)}. Interval: {facts.task.source}."


_JOIN = {"first": "or, whichever comes first,", "last": "and, whichever comes last,"}


def _nothing_asked(facts: LineFacts) -> str:
    if facts.task.each_shift:
        return "Not required: not in use, the count did not move"
    if facts.task.after_grade is not None:
        return f"Not required: no finding of grade {facts.task.after_grade} or worse since it was last done"
    if facts.task.after_warning:
        return f"Not required: {' and '.join(facts.task.after_warning)} within the warning limits when last measured"
    if facts.task.after:
        return f"Not required: no {' or '.join(facts.task.after)} since it was last done"
    return "Done on request only"


def _last_done(facts: LineFacts, zone: Zone, names: dict[str, str]) -> str:
    cancelled = ""
    off = facts.cancelled[0] if facts.cancelled else None
    if off is not None and (facts.last is None or off.at > facts.last.at):
        cancelled = f"{off.occurrence} was cancelled (#{off.entry}); "
    if facts.last is None:
        stated = _stated(facts, zone, names)
        return f"{cancelled}never signed in this book (in it since {zone.day(facts.since)}){stated}"
    covered = f", covered by {facts.last.through}" if facts.last.through else ""
    name = names.get(facts.last.by, facts.last.by)
    gap = "" if facts.gap_days is None else f", {grouped(facts.gap_days)} days after the time before"
    return f"{cancelled}last done {zone.show(facts.last.at)} by {name} (#{facts.last.entry}{covered}){gap}"


def _stated(facts: LineFacts, zone: Zone, names: dict[str, str]) -> str:
    if facts.stated is None:
        return ""
    name = names.get(facts.stated.by, facts.stated.by)
    missing = not_told_by_a_word(facts.task)
    doubt = f"does not count without {missing}" if missing else "not verified"
    return f"; stated done {zone.day(facts.stated.at)} by {name} (#{facts.stated.entry}), {doubt}"


def usage(done: Band, allowed: int, answered: Done | None, halved: bool, overrun: int) -> str:
    """ "192,400 of 200,000 strokes since it was last done, 7,600 left"."""
    since = "since it was last done" if answered else "since it came into the book"
    left = allowed - done.best
    rest = f"{grouped(left)} left" if left >= 0 else f"{grouped(-left)} over"
    text = f"{grouped(done.best)} of {strokes(allowed)} {since}, {rest}"
    if halved and answered is not None:
        text += f" (interval halved after grade {answered.grade})"
    if overrun:
        text += f" (the {strokes(overrun)} over last time are deducted)"
    if done.estimated:
        text += f" (estimated: between {grouped(done.low)} and {grouped(done.high)}, a count was not taken)"
    return text


def life(part: str, done: Band, allowed: int, rework: Reworked | None) -> str:
    """ "192,400 of 200,000 strokes of the life of CP-031 since new, 7,600 left"."""
    since = "since new" if rework is None else f"granted by rework {rework.times} (#{rework.entry}), since then"
    left = allowed - done.best
    rest = f"{grouped(left)} left" if left >= 0 else f"{grouped(-left)} over"
    doubt = f" (estimated: between {grouped(done.low)} and {grouped(done.high)})" if done.estimated else ""
    return f"{grouped(done.best)} of {strokes(allowed)} of the life of {part} {since}, {rest}{doubt}"


def floating(due: date, every: str, start: date, origin: str) -> str:
    """ "due on Mon 2026-03-09: 7 days from the day done, Mon 2026-03-02"."""
    return f"due on {due:%a %Y-%m-%d}: {every} from {origin}, {start:%a %Y-%m-%d}"


def spread(due: date, every: str) -> str:
    """ "due on Wed 2026-03-04: its share of the first 7 days, spread over the items"."""
    return f"due on {due:%a %Y-%m-%d}: its share of the first {every}, spread over the items"


def fixed(due: date, rule: str) -> str:
    """ "due on Mon 2026-03-09: fixed by rule FREQ=WEEKLY;BYDAY=MO"."""
    return f"due on {due:%a %Y-%m-%d}: fixed by rule {rule}"


def deferred(deferral: Deferral, names: dict[str, str]) -> str:
    """ "deferred from 2026-03-09 to 2026-03-16 by Eva Example, deferral 1 (#812)"."""
    name = names.get(deferral.by, deferral.by)
    return (
        f"deferred from {deferral.occurrence} to {deferral.to} by {name}, deferral {deferral.times} (#{deferral.entry})"
    )


def event(happening: Happening, zone: Zone) -> str:
    """ "due since the fitting of 2026-03-09 14:05 (#812), before it runs again"."""
    return f"due since the {happening.what} of {zone.show(happening.at)} (#{happening.entry}), before it runs again"


def shutdown(one: Standstill) -> str:
    """ "due before it runs again after the shutdown until Fri 2026-08-14 (summer)"."""
    return f"due before it runs again after the shutdown until {one.last_day:%a %Y-%m-%d} ({one.name})"


def finding(done: Done, zone: Zone) -> str:
    """ "due since the inspection of 2026-03-09 14:05 found grade 3"."""
    found = done.through or f"grade {done.grade}"
    return f"due since the inspection of {zone.show(done.at)} found {found} (#{done.entry})"


def in_shift(shift: ShiftSpan, by_hour: int | None) -> str:
    """ "due in the early shift of Mon 2026-03-02, once a shift in use"."""
    until = f", by hour {by_hour} of it" if by_hour is not None else ""
    return f"due in the {shift.name} shift of {shift.day:%a %Y-%m-%d}{until}, once each shift it is used"

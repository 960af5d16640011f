"""The sentence that says why a line is where it is: the arithmetic, its inputs and the source of the interval."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from upkeep.counting.marks import Band
from upkeep.due.states import State
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped, strokes

if TYPE_CHECKING:
    from upkeep.due.facts import Done, LineFacts
    from upkeep.units.shifts import ShiftSpan


def sentence(facts: LineFacts, standing: str, reasons: Sequence[str], zone: Zone, names: dict[str, str]) -> str:
    """The whole sentence: what overrides, then each trigger's arithmetic, then when it was last done and the source."""
    parts = []
    if standing == State.HELD:
        parts.append(f"Held until released: {facts.hold or 'no reason given'}")
    elif standing == State.PAUSED:
        parts.append(f"Paused: {facts.pause or 'out of use'}")
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
    return "Done on request only"


def _last_done(facts: LineFacts, zone: Zone, names: dict[str, str]) -> str:
    if facts.last is None:
        return f"never signed in this book (in it since {zone.day(facts.since)})"
    return f"last done {zone.show(facts.last.at)} by {names.get(facts.last.by, facts.last.by)} (#{facts.last.entry})"


def usage(facts: LineFacts, done: Band, interval: int, halved: bool) -> str:
    """ "192,400 of 200,000 strokes since it was last done, 7,600 left"."""
    since = "since it was last done" if facts.last else "since it came into the book"
    left = interval - done.best
    rest = f"{grouped(left)} left" if left >= 0 else f"{grouped(-left)} over"
    text = f"{grouped(done.best)} of {strokes(interval)} {since}, {rest}"
    if halved and facts.last is not None:
        text += f" (interval halved after grade {facts.last.grade})"
    if done.estimated:
        text += f" (estimated: between {grouped(done.low)} and {grouped(done.high)}, a count was not taken)"
    return text


def on_day(facts: LineFacts, due: date, zone: Zone) -> str:
    """ "due on Mon 2026-03-09: every 7 days from the day done, Mon 2026-03-02"."""
    if facts.task.every is not None:
        start = zone.day(facts.last.at if facts.last else facts.since)
        origin = "the day done" if facts.last else "the day it came into the book"
        return f"due on {due:%a %Y-%m-%d}: {facts.task.every} from {origin}, {start:%a %Y-%m-%d}"
    return f"due on {due:%a %Y-%m-%d}: fixed by rule {facts.task.rule}"


def finding(done: Done, zone: Zone) -> str:
    """ "due since the inspection of 2026-03-09 14:05 found grade 3"."""
    return f"due since the inspection of {zone.show(done.at)} found grade {done.grade} (#{done.entry})"


def in_shift(shift: ShiftSpan) -> str:
    """ "due in the early shift of Mon 2026-03-02, once a shift in use"."""
    return f"due in the {shift.name} shift of {shift.day:%a %Y-%m-%d}, once each shift it is used"

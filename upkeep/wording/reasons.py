"""The sentence that says why a line is where it is: the arithmetic, its inputs and the source of the interval."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import singledispatch

from upkeep.due.holds import Gone
from upkeep.due.reasons import (
    After,
    AfterShutdown,
    Asked,
    AwaitsSecond,
    Cancelled,
    Deferred,
    Fixed,
    Floating,
    Found,
    Held,
    InShift,
    InStorageOnly,
    LastDone,
    Life,
    NeverSigned,
    NoEvent,
    NoFinding,
    NotUsed,
    OnRequest,
    Origin,
    Paused,
    Reasons,
    Source,
    Spread,
    StatedDone,
    Usage,
    WithinWarning,
)
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped, strokes
from upkeep.wording.holds import hold_text


@dataclass(frozen=True, slots=True)
class Reader:
    """For whom a sentence is made: the zone of their wall clock, and the names of people by id."""

    zone: Zone
    names: Mapping[str, str]

    def name(self, by: str) -> str:
        """The name behind an id; the id itself where nobody is known by it."""
        return self.names.get(by, by)


def sentence(reasons: Reasons, zone: Zone, names: Mapping[str, str]) -> str:
    """All reasons of a line: what overrides, what each trigger asks, when it was last done, and the source."""
    reader = Reader(zone, names)
    said = [text(one, reader) for one in reasons.all if not isinstance(one, Source)]
    sources = [f" Interval: {one.text}." for one in reasons.all if isinstance(one, Source)]
    return "".join(["; ".join(said), ".", *sources])


@singledispatch
def text(reason: object, reader: Reader) -> str:
    """One reason, as a part of the sentence."""
    raise TypeError(type(reason).__name__)


# What overrides the triggers, or why none asks


@text.register
def _gone(reason: Gone, reader: Reader) -> str:
    return f"Not required: {hold_text(reason)}"


@text.register
def _held(reason: Held, reader: Reader) -> str:
    return f"Held until released: {hold_text(reason.reason) or 'no reason given'}"


@text.register
def _paused(reason: Paused, reader: Reader) -> str:
    return f"Paused: {reason.because or 'out of use'}"


@text.register
def _in_storage_only(reason: InStorageOnly, reader: Reader) -> str:
    return "Not required: asked for in storage only"


@text.register
def _not_used(reason: NotUsed, reader: Reader) -> str:
    return "Not required: not in use, the count did not move"


@text.register
def _no_finding(reason: NoFinding, reader: Reader) -> str:
    return f"Not required: no finding of grade {reason.grade} or worse since it was last done"


@text.register
def _within_warning(reason: WithinWarning, reader: Reader) -> str:
    return f"Not required: {' and '.join(reason.points)} within the warning limits when last measured"


@text.register
def _no_event(reason: NoEvent, reader: Reader) -> str:
    return f"Not required: no {' or '.join(reason.events)} since it was last done"


@text.register
def _on_request(reason: OnRequest, reader: Reader) -> str:
    return "Done on request only"


# What the triggers ask

_JOIN = {"first": "or, whichever comes first,", "last": "and, whichever comes last,"}


@text.register
def _asked(reason: Asked, reader: Reader) -> str:
    return f" {_JOIN[reason.combine]} ".join(text(one, reader) for one in reason.by)


@text.register
def _usage(reason: Usage, reader: Reader) -> str:
    """ "192,400 of 200,000 strokes since it was last done, 7,600 left"."""
    since = "since it was last done" if reason.since_done else "since it came into the book"
    said = f"{grouped(reason.done)} of {strokes(reason.allowed)} {since}, {_left(reason)}"
    if reason.halved_after is not None:
        said += f" (interval halved after grade {reason.halved_after})"
    if reason.deducted is not None:
        said += f" (the {strokes(reason.deducted)} over last time are deducted)"
    if reason.low != reason.high:
        said += f" (estimated: between {grouped(reason.low)} and {grouped(reason.high)}, a count was not taken)"
    return said + _deferred(reason.deferred, reader)


@text.register
def _life(reason: Life, reader: Reader) -> str:
    """ "192,400 of 200,000 strokes of the life of CP-031 since new, 7,600 left"."""
    since = "since new" if reason.rework is None else f"granted by rework {reason.rework} (#{reason.entry}), since then"
    estimated = reason.low != reason.high
    doubt = f" (estimated: between {grouped(reason.low)} and {grouped(reason.high)})" if estimated else ""
    of_life = f"{grouped(reason.done)} of {strokes(reason.allowed)} of the life of {reason.part}"
    return f"{of_life} {since}, {_left(reason)}{doubt}"


def _left(reason: Usage | Life) -> str:
    left = reason.allowed - reason.done
    return f"{grouped(left)} left" if left >= 0 else f"{grouped(-left)} over"


_ORIGIN: dict[Origin, str] = {
    "came": "the day it came into the book",
    "done": "the day done",
    "stated": "the day done (stated, not verified)",
    "cancelled": "the planned day that was cancelled",
    "stored": "the day storage began",
}


@text.register
def _floating(reason: Floating, reader: Reader) -> str:
    """ "due on Mon 2026-03-09: 7 days from the day done, Mon 2026-03-02"."""
    origin = f"{_ORIGIN[reason.origin]}, {reason.start:%a %Y-%m-%d}"
    return f"due on {reason.due:%a %Y-%m-%d}: {reason.every} from {origin}{_moved(reason, reader)}"


@text.register
def _spread(reason: Spread, reader: Reader) -> str:
    """ "due on Wed 2026-03-04: its share of the first 7 days, spread over the items"."""
    share = f"its share of the first {reason.every}, spread over the items"
    return f"due on {reason.due:%a %Y-%m-%d}: {share}{_moved(reason, reader)}"


@text.register
def _fixed(reason: Fixed, reader: Reader) -> str:
    """ "due on Mon 2026-03-09: fixed by rule FREQ=WEEKLY;BYDAY=MO"."""
    return f"due on {reason.due:%a %Y-%m-%d}: fixed by rule {reason.rule}{_moved(reason, reader)}"


def _moved(reason: Floating | Spread | Fixed, reader: Reader) -> str:
    moved = "" if reason.moved is None else f", moved to {reason.moved:%a %Y-%m-%d} since that is a day off"
    return moved + _deferred(reason.deferred, reader)


def _deferred(one: Deferred | None, reader: Reader) -> str:
    """ ", deferred from 2026-03-09 to 2026-03-16 by Eva Example, deferral 1 (#812)"; "" for none."""
    if one is None:
        return ""
    return f", deferred from {one.occurrence} to {one.to} by {reader.name(one.by)}, deferral {one.times} (#{one.entry})"


@text.register
def _after(reason: After, reader: Reader) -> str:
    """ "due since the fitting of 2026-03-09 14:05 (#812), before it runs again"."""
    return f"due since the {reason.event} of {reader.zone.show(reason.at)} (#{reason.entry}), before it runs again"


@text.register
def _after_shutdown(reason: AfterShutdown, reader: Reader) -> str:
    """ "due before it runs again after the shutdown until Fri 2026-08-14 (summer)"."""
    return f"due before it runs again after the shutdown until {reason.last_day:%a %Y-%m-%d} ({reason.name})"


@text.register
def _found(reason: Found, reader: Reader) -> str:
    """ "due since the inspection of 2026-03-09 14:05 found grade 3"."""
    found = f"grade {reason.grade}" if reason.point is None else f"{reason.point} beyond its warning limit"
    return f"due since the inspection of {reader.zone.show(reason.at)} found {found} (#{reason.entry})"


@text.register
def _in_shift(reason: InShift, reader: Reader) -> str:
    """ "due in the early shift of Mon 2026-03-02, once each shift it is used"."""
    until = f", by hour {reason.by_hour} of it" if reason.by_hour is not None else ""
    return f"due in the {reason.shift} shift of {reason.day:%a %Y-%m-%d}{until}, once each shift it is used"


# What was done before


@text.register
def _awaits_second(reason: AwaitsSecond, reader: Reader) -> str:
    return f"sign-off #{reason.entry} waits for the second signature ({reason.role})"


@text.register
def _cancelled(reason: Cancelled, reader: Reader) -> str:
    return f"{reason.occurrence} was cancelled (#{reason.entry})"


@text.register
def _last_done(reason: LastDone, reader: Reader) -> str:
    covered = f", covered by {reason.covered_by} #{reason.entry}" if reason.covered_by else ""
    gap = "" if reason.gap_days is None else f", {grouped(reason.gap_days)} days after the time before"
    return f"last done {reader.zone.show(reason.at)} by {reader.name(reason.by)} (#{reason.entry}{covered}){gap}"


@text.register
def _never_signed(reason: NeverSigned, reader: Reader) -> str:
    return f"never signed in this book (in it since {reader.zone.day(reason.since)})"


@text.register
def _stated_done(reason: StatedDone, reader: Reader) -> str:
    doubt = "not verified" if reason.lacks is None else f"does not count without a {reason.lacks}"
    return f"stated done {reader.zone.day(reason.at)} by {reader.name(reason.by)} (#{reason.entry}), {doubt}"

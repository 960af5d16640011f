"""Why a line is where it is, gathered in order: what overrides, what the triggers ask, what was done before, and where
the interval comes from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from upkeep.due.facts import Done, LineFacts, not_told_by_a_word
from upkeep.due.holds import ByHand, Gone
from upkeep.due.reason_list import Reasons
from upkeep.due.reasons import (
    Asked,
    Asking,
    AtNextStop,
    AwaitsSecond,
    Cancelled,
    Held,
    InStorageOnly,
    LastDone,
    NeverSigned,
    NoEvent,
    NoFinding,
    NotUsed,
    OnRequest,
    Paused,
    Reason,
    Source,
    StatedDone,
    WithinWarning,
)
from upkeep.entries.standing import LineStanding


def reasons(
    facts: LineFacts, standing: LineStanding, asking: Sequence[Asking], stopped: datetime | None = None
) -> Reasons:
    """All reasons of a line with a standing, of which some triggers ask something; ``stopped`` is the stop it waited
    for."""
    return Reasons(tuple(_all(facts, standing, asking, stopped)))


def _all(
    facts: LineFacts, standing: LineStanding, asking: Sequence[Asking], stopped: datetime | None
) -> Iterator[Reason]:
    if isinstance(facts.hold, Gone):
        yield facts.hold
    elif standing is LineStanding.HELD:
        yield Held(facts.hold or ByHand(""))
    elif standing is LineStanding.PAUSED:
        yield Paused(facts.pause or "")
    elif facts.task.while_resting and not facts.rests:
        yield InStorageOnly()
    elif not asking:
        yield _nothing_asked(facts)
    if asking:
        yield Asked(facts.task.combine, tuple(asking))
        if facts.task.at_next_stop:
            yield AtNextStop(stopped)
    if facts.unverified is not None:
        yield AwaitsSecond(facts.unverified, facts.task.second_signature or "")
    yield from _done_before(facts)
    yield Source(facts.task.source)


def _nothing_asked(facts: LineFacts) -> Reason:
    if facts.task.each_shift:
        return NotUsed()
    if facts.task.after_grade is not None:
        return NoFinding(facts.task.after_grade)
    if facts.task.after_warning:
        return WithinWarning(facts.task.after_warning)
    return NoEvent(facts.task.after) if facts.task.after else OnRequest()


def _done_before(facts: LineFacts) -> Iterator[Reason]:
    last, off = facts.last, facts.cancelled[0] if facts.cancelled else None
    if off is not None and (last is None or off.at > last.at):
        yield Cancelled(off.occurrence, off.entry)
    if last is not None:
        yield LastDone(last.at, last.by, last.entry, last.covered_by, facts.gap_days)
        return
    yield NeverSigned(facts.since)
    if facts.stated is not None:
        yield _stated(facts, facts.stated)


def _stated(facts: LineFacts, stated: Done) -> StatedDone:
    return StatedDone(stated.at, stated.by, stated.entry, not_told_by_a_word(facts.task))

"""What a book says of holds: why an item is held, when it was, what a permit has left, what is gone, open faults."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from itertools import islice

from upkeep.counting.strokes import strokes_between
from upkeep.due.holds import HoldReason, LifeUnknown, PressInDoubt
from upkeep.due.rests import ran_since
from upkeep.entries.faults import Release
from upkeep.frozen import frozen
from upkeep.keeping.context import Context
from upkeep.keeping.rows.doubted_presses import doubted
from upkeep.keeping.rows_then import RowsThen
from upkeep.keeping.standings import Rest, held_because, rests
from upkeep.said import Numeral, Said, said, said_as
from upkeep.store.rows.findings import FaultRow, RetiredRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text

_LATEST = "~"
"""Sorts after every stored moment."""


@frozen
class Held:
    """A hold over [since, until): its reason, the entry that began it, and what ended it; ``until`` None: it is in
    force.  ``press`` is the one it holds on; None: on any."""

    item: str
    since: datetime
    until: datetime | None
    reason: HoldReason
    entry: int
    ended: Said
    press: str | None = None


def holds_of(context: Context, item: str) -> Iterator[Held]:
    """Every hold of an item in order: until it was released, inspected if its life was unknown, or held once more; then
    those on one press alone, until its shut height was measured good."""
    holds = {held.entry: held for held in (*_in_force_then(context, item), *_told(context, item))}
    in_order = sorted(holds.values(), key=lambda held: (held.since, held.entry))
    for held, later in zip(in_order, [*in_order[1:], None], strict=False):
        if later is None or (held.until is not None and held.until <= later.since):
            yield held
        else:
            yield replace(held, until=later.since, ended=said("held again (#{entry})", entry=Numeral(later.entry)))
    yield from _on_one_press(context, item)


def _on_one_press(context: Context, item: str) -> Iterator[Held]:
    """The holds on a press that points measured on the item said to be at fault."""
    for press in context.findings.presses_doubted(item):
        for doubt, good in doubted(context.rows, context.known, item, press):
            ended = said("still held on {press}", press=press)
            if good is not None:
                ended = said("shut height of {press} measured good", press=press)
            yield Held(
                item, from_utc_text(doubt.at), from_utc_text(good) if good else None, PressInDoubt(press, doubt.entry),
                doubt.entry, ended, press,
            )  # fmt: skip


def _in_force_then(context: Context, item: str) -> Iterator[Held]:
    """The hold that stood at each release of an item, and the one in force."""
    for release in context.entries.of_item(item, ("release",)):
        row = RowsThen(context.file, release.entry.at, release.id, known=context.known).hold_on(item)
        if row is not None:
            since, reason = from_utc_text(row.since), context.known.reason_of(row)
            yield Held(item, since, release.entry.at, reason, row.entry, said_as("end of a hold", "released"))
    hold = context.rows.hold_on(item)
    if hold is not None:
        since = from_utc_text(hold.since)
        yield Held(item, since, None, context.known.reason_of(hold), hold.entry, said_as("end of a hold", "still held"))


def _told(context: Context, item: str) -> Iterator[Held]:
    """The holds by hand, by a fault and for an unknown life, whatever held the item beside them."""
    told = context.entries.of_item(item, ("hold", "fault", "unknown-life", "release"))
    releases = [(one.entry.at, one.id) for one in told if isinstance(one.entry, Release)]
    for recorded in told:
        reason, number, at = held_because(recorded), recorded.id, recorded.entry.at
        if reason is None:
            continue
        ends = [(end, said_as("end of a hold", "released")) for end, entry in releases if (end, entry) > (at, number)][
            :1
        ]
        if isinstance(reason, LifeUnknown):
            graded = context.findings.graded_on_from(item, "", utc_text(at), number)
            ends += [(from_utc_text(row.at), said_as("end of a hold", "inspected")) for row in islice(graded, 1)]
        until, ended = min(ends, key=lambda end: end[0], default=(None, said_as("end of a hold", "still held")))
        yield Held(item, at, until, reason, number, ended)


def hold_reason(context: Context, item: str) -> HoldReason | None:
    """Why an item is held; None: it is not."""
    hold = context.rows.hold_on(item)
    return context.known.reason_of(hold) if hold else None


class Rests:
    """When the items of one book were in storage or out of use, or gone for ever; what was looked up it keeps."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._rests: dict[str, list[Rest]] = {}
        self._told: dict[str, list[Rest]] = {}

    def at(self, item: str, moment: datetime) -> Rest | None:
        """The time without work that a moment lies in; None: the item was in use."""
        at = utc_text(moment)
        return next(
            (rest for rest in self._of(item) if rest.since <= at and (rest.until is None or at < rest.until)), None
        )

    def all_through(self, item: str, start: datetime, end: datetime) -> bool:
        """Whether an item was in storage or out of use over all of [start, end), and no count says that it ran."""
        first, last = utc_text(start), utc_text(end)
        told = self._told_of(item)
        whole = (rest for rest in told if rest.since <= first and (rest.until is None or last <= rest.until))
        return any(rest == self._until_it_ran(item, rest) for rest in whole)

    def _told_of(self, item: str) -> list[Rest]:
        if item not in self._told:
            self._told[item] = rests(self._context.entries.of_item(item, ("pause", "resume")))
        return self._told[item]

    def _of(self, item: str) -> list[Rest]:
        if item not in self._rests:
            gone = self._context.wear_history.retired(item)
            self._rests[item] = [self._until_it_ran(item, rest) for rest in self._told_of(item)]
            self._rests[item] += [Rest(gone.at, None, gone.end, gone.entry)] if gone else []
        return self._rests[item]

    def _until_it_ran(self, item: str, rest: Rest) -> Rest:
        """A rest that ends with the first count that says the item ran all the same."""
        until = NEVER if rest.until is None else from_utc_text(rest.until)
        ran = ran_since(self._context.judge.counts, item, from_utc_text(rest.since), until)
        return rest if ran is None else rest._replace(until=utc_text(min(ran, until)))


def permit_left(context: Context, item: str, at: datetime) -> int:
    """How many strokes an item may still do although it is held: what is left of its last deviation permit; 0: none.

    What it may have done since counts at its high.
    """
    row = context.findings.last_permit(item, utc_text(at))
    if row is None:
        return 0
    used = strokes_between(context.judge.counts, item, from_utc_text(row.at), at).high
    return max(0, row.strokes - used)


def gone_by(context: Context, item: str, at: datetime) -> RetiredRow | None:
    """How an item left for ever, if it had by a moment."""
    gone = context.wear_history.retired(item)
    return gone if gone is not None and gone.at <= utc_text(at) else None


def standing_faults(context: Context, item: str | None) -> list[FaultRow]:
    """The faults of an item or of all that neither a closing has ended nor, where they stopped it, a release, in order.

    What was released within the minute of its fault may still be among them.
    """
    released: dict[str, str] = {}
    standing = []
    for row in context.fault_history.unclosed(item):
        if row.stopped and row.item not in released:
            released[row.item] = context.findings.last_release(row.item, _LATEST) or ""
        if not row.stopped or released[row.item] <= row.at:
            standing.append(row)
    return standing

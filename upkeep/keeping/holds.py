"""What a book says of holds: why an item is held, when it was, what a permit has left, what is gone, open faults."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from upkeep.counting.strokes import strokes_between
from upkeep.due.holds import HoldReason
from upkeep.due.reason_json import hold_from
from upkeep.entries.entry import Recorded
from upkeep.entries.faults import Release
from upkeep.entries.kinds import STANDING
from upkeep.keeping.context import Context
from upkeep.keeping.standings import standing_rows
from upkeep.store.projections import Projections
from upkeep.store.rows.findings import FaultRow, RetiredRow
from upkeep.store.rows.signatures import StandingRow
from upkeep.units.instants import from_utc_text, utc_text

_LATEST = "~"
"""Sorts after every stored moment."""


@dataclass(frozen=True, slots=True)
class Held:
    """A hold over [since, until): its reason and the entry that began it; ``until`` None: it is in force."""

    item: str
    since: datetime
    until: datetime | None
    reason: HoldReason
    entry: int


def holds_of(context: Context, item: str) -> Iterator[Held]:
    """Every hold of an item that a person ended, and the one in force, in order."""
    rows, entries = context.rows, context.entries.of_item(item, STANDING)
    for place, recorded in enumerate(entries):
        if isinstance(recorded.entry, Release):
            row = _hold_before(rows, item, entries[:place], recorded)
            if row is not None:
                yield Held(item, from_utc_text(row.since), recorded.entry.at, hold_from(row.reason), row.entry)
    hold = rows.hold_on(item)
    if hold is not None:
        yield Held(item, from_utc_text(hold.since), None, hold_from(hold.reason), hold.entry)


def hold_reason(context: Context, item: str) -> HoldReason | None:
    """Why an item is held; None: it is not."""
    hold = context.rows.hold_on(item)
    return hold_from(hold.reason) if hold else None


def _hold_before(rows: Projections, item: str, entries: list[Recorded], release: Recorded) -> StandingRow | None:
    """The hold that a release ended."""
    key = (utc_text(release.entry.at), release.id)
    last = rows.last_graded(item), rows.last_graded(item, 4)
    graded = [row for row in last if row and (row.at, row.entry) < key]
    out = next((row for row in graded if row.grade == 4), None)
    bad = [row for row in rows.failed(item) if (row.at, row.entry) < key]
    standings = standing_rows(item, entries, graded[0] if graded else None, out, bad)
    return next((row for row in standings if row.what == "hold"), None)


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

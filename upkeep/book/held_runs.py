"""Running while held: when an item was held, and what it did meanwhile."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from upkeep.book.judging import Judge
from upkeep.book.rows import STANDING, standing_rows
from upkeep.counting.strokes import strokes_between
from upkeep.entries.kinds import Recorded, Release
from upkeep.store.entries import EntryStore
from upkeep.store.found import Found
from upkeep.store.projections import Projections, Row
from upkeep.units.instants import from_utc_text, utc_text


@dataclass(frozen=True, slots=True)
class Held:
    """A hold over [since, until): its reason and the entry that began it; ``until`` None: it is in force."""

    item: str
    since: datetime
    until: datetime | None
    reason: str
    entry: int


def holds_of(rows: Projections, entries: EntryStore, item: str) -> Iterator[Held]:
    """Every hold of an item that a person ended, and the one in force, in order."""
    told = entries.of_item(item, STANDING)
    for place, one in enumerate(told):
        if isinstance(one.entry, Release):
            row = _hold_before(rows, item, told[:place], one)
            if row is not None:
                yield Held(item, from_utc_text(row[2]), one.entry.at, row[3], row[4])
    for row in rows.standings_of(item):
        if row[1] == "hold":
            yield Held(item, from_utc_text(row[2]), None, row[3], row[4])


def _hold_before(rows: Projections, item: str, told: list[Recorded], release: Recorded) -> Row | None:
    """The hold that a release ended."""
    key = (utc_text(release.entry.at), release.id)
    graded = [row for row in (rows.last_graded(item), rows.last_graded(item, 4)) if row and (row[2], row[3]) < key]
    out = next((row for row in graded if row[6] == 4), None)
    bad = [row for row in rows.failed(item) if (row[2], row[3]) < key]
    found = standing_rows(item, told, graded[0] if graded else None, out, bad)
    return next((row for row in found if row[1] == "hold"), None)


def leave_left(found: Found, judge: Judge, item: str, at: datetime) -> int:
    """How many strokes an item may still do although it is held: what is left of its last override; 0: none.

    What it may have done since counts at its high.
    """
    row = found.last_override(item, utc_text(at))
    if row is None:
        return 0
    used = strokes_between(judge.counts, item, from_utc_text(row[1]), at).high
    return max(0, int(row[2]) - used)

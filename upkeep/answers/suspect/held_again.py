"""Runs of a set that a failed check or an inspection holds, beside the windows of those: after it was put back on a
press, or measured good and not released."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from typing import NamedTuple

from upkeep.entries.checking import WHILE_SETTING, Check
from upkeep.entries.entry import Recorded
from upkeep.entries.signing import Sign
from upkeep.keeping.context import Context
from upkeep.keeping.standings import AGAIN, found_again
from upkeep.said import Said, said, said_as
from upkeep.store.rows.findings import MeasuredRow
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.views.suspect import HoldList

_OUT = 4

Span = tuple[datetime, datetime]
"""From one moment to another."""


class HeldRun(NamedTuple):
    """A held item may have run over [start, end): the entry it goes back to, since which one it was held, and why it
    ends."""

    start: datetime
    end: datetime
    entry: int
    held_by: int
    end_why: Said


class _Hold(NamedTuple):
    start: datetime
    end: datetime
    entry: int
    end_why: Said


class HeldAgain:
    """Finds such runs in a book as of the moment of its context."""

    def __init__(self, context: Context, found_out: Mapping[tuple[int, str], tuple[datetime, int]]) -> None:
        """``found_out`` tells of checks that turned bad with their gauge, by entry and point, when and by which entry
        that was found out."""
        self._context, self._at, self._found_out = context, context.moment, found_out
        self._findings, self._rows, self._entries = context.findings, context.rows, context.entries

    def runs(self, item: str, windows: Iterable[HoldList], listed: Iterable[Span]) -> Iterator[HeldRun]:
        """The runs of an item while a failed check or an inspection held it that lie outside of its ``windows`` and of
        what is ``listed`` already."""
        windows = list(windows)
        taken = sorted([*((window.start, window.end) for window in windows), *listed])
        covered: datetime | None = None
        holds = sorted(hold for window in windows if (hold := self._hold(window)) is not None)
        for hold in holds:
            start = hold.start if covered is None else max(hold.start, covered)
            for begin, end in outside(start, hold.end, taken):
                yield HeldRun(
                    begin, end, self._begun_by(item, begin, end) or hold.entry, hold.entry,
                    hold.end_why if end == hold.end else said("the window of the next failed check"),
                )  # fmt: skip
            covered = hold.end if covered is None else max(covered, hold.end)

    def _hold(self, window: HoldList) -> _Hold | None:
        """The hold behind a window; None: it held nothing."""
        recorded = self._entries.by_number(window.number)
        if recorded is None:
            return None
        if (found_out := self._found_out.get((window.number, window.point))) is not None:
            return self._hold_by_gauge(recorded, window, *found_out)
        if not _holds(recorded, window.point):
            return None
        return self._until(window.item, window.found_at, window.number, self._measured_good(recorded, window))

    def _hold_by_gauge(self, recorded: Recorded, window: HoldList, found_at: datetime, out: int) -> _Hold | None:
        """The hold from the moment at which the gauge of a check was found out, until the point is checked anew; None:
        it was checked again before."""
        later = self._findings.on_from(window.item, window.point, utc_text(recorded.entry.at), recorded.id)
        checked = next((row for row in later if row.occasion is not None and row.readings is not None), None)
        before = checked is not None and (checked.at, checked.entry) < (utc_text(found_at), out)
        if before or not isinstance(recorded.entry, Check):
            return None
        return self._until(window.item, found_at, out, from_utc_text(checked.at) if checked else None)

    def _until(self, item: str, since: datetime, entry: int, good: datetime | None) -> _Hold:
        """A hold up to the release of its item, or to when it was measured ``good``."""
        ends = [(self._at, said_as("end of a hold", "still held"))]
        released = self._context.measurements.released_after(item, utc_text(since), entry)
        if released is not None:
            ends.append((from_utc_text(released.at), said_as("end of a hold", "released")))
        if good is not None:
            ends.append((good, said_as("end of a hold", "measured good again")))
        end, why = min(ends, key=lambda ended: ended[0])
        return _Hold(since, end, entry, why)

    def _measured_good(self, recorded: Recorded, window: HoldList) -> datetime | None:
        """When a value found bad while setting was measured good, which lifts its hold; None: it was not."""
        check = recorded.entry
        if not isinstance(check, Check) or check.occasion not in WHILE_SETTING:
            return None
        rows = self._findings.on_from(window.item, window.point, utc_text(check.at), recorded.id)
        bad = MeasuredRow(
            window.item, window.point, utc_text(check.at), recorded.id, check.gauge, 0, check.occasion, None, None, None
        )
        before = self._rows.found_before(window.item, window.point, bad.at, bad.entry)
        if found_again(bad, before).occasion == AGAIN:
            return None
        return next((from_utc_text(row.at) for row in rows if row.good), None)

    def _begun_by(self, item: str, start: datetime, end: datetime) -> int | None:
        """The entry a run goes back to: the fitting that brought the item to the press, else what was measured at the
        start; None: neither is told."""
        stays = self._findings.stays_between(item, utc_text(start), utc_text(end))
        begun = next((stay.start for stay in stays if from_utc_text(stay.start) >= start), None)
        if begun is not None:
            moved = [item, *(row.inside for row in self._rows.fittings_of(item, begun) if row.start <= begun)]
            fits = [number for key in moved for number in self._findings.entries_between(key, ("fit",), begun, begun)]
            return max(fits, default=None)
        moment = utc_text(start)
        return max(self._findings.entries_between(item, ("check", "sign", "release"), moment, moment), default=None)


def _holds(recorded: Recorded, point: str) -> bool:
    """Whether an entry held its item by what it found of a characteristic."""
    match recorded.entry:
        case Check() as check:
            return point in check.failed
        case Sign() as sign:
            return sign.grade == _OUT
    return False


def outside(start: datetime, end: datetime, taken: Iterable[Span]) -> Iterator[Span]:
    """What of [start, end) lies in none of the spans, which are in order."""
    for first, last in taken:
        if first > start and start < end:
            yield start, min(first, end)
        start = max(start, last)
    if start < end:
        yield start, end

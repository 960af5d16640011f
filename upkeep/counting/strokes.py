"""Strokes of an item: the totals of the presses it hung on, over the spans in which it hung there.

A *stay* is a span [start, end) of one item on one press, whatever it sat in meanwhile.  The strokes of an item over any
span are the sum over its stays of the press totals at both ends, so what all items of a kind did and what nobody did
always add up to what the counter says.  Where a boundary has no reading the band carries the doubt: forecasts use
the best, stops the high.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Protocol

from upkeep.counting.fittings import Fitting
from upkeep.counting.marks import NOTHING, Band

BEGINNING = datetime(1, 1, 2, tzinfo=UTC)
"""Before every entry: where the stay of a press on itself begins."""


@dataclass(frozen=True, slots=True)
class Stay:
    """An item on a press over [start, end), with the press total at both ends and its own strokes ``before``."""

    item: str
    press: str
    start: datetime
    end: datetime | None
    start_total: Band
    end_total: Band | None
    before: Band

    @property
    def after(self) -> Band:
        """The strokes of the item when the stay ended; its own start while it has not."""
        return self.before if self.end_total is None else self.before + difference(self.start_total, self.end_total)


@dataclass(frozen=True, slots=True)
class Span:
    """A span of an item on a press before any totals are looked up."""

    press: str
    start: datetime
    end: datetime | None


class Counts(Protocol):
    """Where totals and stays are looked up: in memory when a book is replayed, in the file's indexes otherwise."""

    def total_at(self, press: str, instant: datetime) -> Band:
        """The running total of a press at an instant."""
        ...

    def reached_at(self, press: str, total: int) -> datetime | None:
        """The moment of the first reading of a press at or over a total; None if there is none yet."""
        ...

    def read_before(self, press: str, instant: datetime) -> datetime | None:
        """The moment of the last reading of a press before an instant."""
        ...

    def rises(self, press: str, since: datetime) -> Iterator[tuple[datetime, datetime]]:
        """The readings of a press after one at which its total had risen, in order: (reading before, reading)."""
        ...

    def last_read(self, press: str) -> datetime | None:
        """The moment of the latest reading of a press."""
        ...

    def stay_from(self, item: str, instant: datetime) -> Stay | None:
        """The last stay of an item that starts at or before an instant."""
        ...

    def stay_after(self, item: str, instant: datetime) -> Stay | None:
        """The first stay of an item that starts after an instant."""
        ...

    def stay_with(self, item: str, strokes: int) -> Stay | None:
        """The first stay of an item in which its best strokes reach a number (or its last stay)."""
        ...

    def uncounted(self, item: str, start: datetime, end: datetime) -> int:
        """Strokes to add for [start, end) that the counter did not count as they wore; may be negative."""
        ...

    def uncounted_from(self, item: str, start: datetime) -> Sequence[tuple[datetime, int]]:
        """Such strokes written from an instant on, each with its moment, in order."""
        ...


def difference(start: Band, end: Band) -> Band:
    """Strokes between two totals of one press."""
    return Band(max(0, end.low - start.high), end.best - start.best, end.high - start.low)


def spans_of(fittings: Iterable[Fitting], parent_spans: Callable[[str], Sequence[Span]]) -> list[Span]:
    """Where an item hung: its fittings cut with the spans of what it sat in; neighbouring spans on a press are one."""
    joined: list[Span] = []
    for span in _cut(fittings, parent_spans):
        last = joined[-1] if joined else None
        if last and last.press == span.press and last.end == span.start:
            joined[-1] = Span(last.press, last.start, span.end)
        else:
            joined.append(span)
    return joined


def _cut(fittings: Iterable[Fitting], parent_spans: Callable[[str], Sequence[Span]]) -> Iterator[Span]:
    for fitting in fittings:
        for span in parent_spans(fitting.inside):
            start = max(fitting.start, span.start)
            end = _earlier(fitting.end, span.end)
            if end is None or start < end:
                yield Span(span.press, start, end)


def _earlier(first: datetime | None, other: datetime | None) -> datetime | None:
    if first is None or other is None:
        return first or other
    return min(first, other)


def stays_of(
    item: str, spans: Iterable[Span], total_at: Callable[[str, datetime], Band], before: Band = NOTHING
) -> list[Stay]:
    """The stays of an item over its spans in order, its strokes running on from ``before``."""
    stays = []
    for span in spans:
        end_total = None if span.end is None else total_at(span.press, span.end)
        stay = Stay(item, span.press, span.start, span.end, total_at(span.press, span.start), end_total, before)
        before = stay.after
        stays.append(stay)
    return stays


def strokes_between(counts: Counts, item: str, start: datetime, end: datetime) -> Band:
    """The strokes of an item over [start, end); up to the last reading where ``end`` is later than that."""
    counted = _counted_between(counts, item, start, end)
    return _with_uncounted(counted, counts.uncounted(item, start, end))


def _with_uncounted(counted: Band, uncounted: int) -> Band:
    if not uncounted:
        return counted
    low, best, high = (max(0, number + uncounted) for number in counted)
    return Band(low, best, high)


def _counted_between(counts: Counts, item: str, start: datetime, end: datetime) -> Band:
    if start >= end:
        return NOTHING
    first = counts.stay_from(item, start)
    if first is None or (first.end is not None and first.end <= start):
        first = counts.stay_after(item, start)
    last = counts.stay_from(item, end)
    if first is None or last is None or first.start >= end:
        return NOTHING
    if first.start == last.start:
        return difference(_total(counts, first, start), _total(counts, first, end))
    head = difference(_total(counts, first, start), _end_total(first))
    tail = difference(last.start_total, _total(counts, last, end))
    middle = Band(*(late - early for late, early in zip(last.before, first.after, strict=True)))
    return head + middle + tail


def strokes_since_new(counts: Counts, item: str, end: datetime) -> Band:
    """All strokes of an item up to an instant."""
    return _with_uncounted(_counted_since_new(counts, item, end), counts.uncounted(item, BEGINNING, end))


def _counted_since_new(counts: Counts, item: str, end: datetime) -> Band:
    last = counts.stay_from(item, end)
    return NOTHING if last is None else last.before + difference(last.start_total, _total(counts, last, end))


def reached(counts: Counts, item: str, start: datetime, strokes: int) -> datetime | None:
    """The moment from which an item has done so many strokes (best) since ``start``, to this day; None if it has not.

    It is that of a reading, or of the end of a stay, since in between nobody knows; or that of
    uncounted strokes where these make up the number.
    """
    uncounted = counts.uncounted_from(item, start)
    written = sum(number for _, number in uncounted)
    for moment, number in reversed(uncounted):
        counted = _counted_between(counts, item, start, moment).best
        if counted + written < strokes:
            break
        written -= number
        if counted + written < strokes:
            return max(moment, start)
    return reached_by_count(counts, item, start, strokes - written)


def reached_by_count(counts: Counts, item: str, start: datetime, strokes: int) -> datetime | None:
    """The same by the counts of its presses alone."""
    moment = _counted_reached(counts, item, start, strokes)
    return None if moment is None else max(moment, start)


def _counted_reached(counts: Counts, item: str, start: datetime, strokes: int) -> datetime | None:
    if strokes <= 0:
        return None
    target = _counted_since_new(counts, item, start).best + strokes
    stay = counts.stay_with(item, target)
    if stay is None:
        return None
    if stay.end_total is not None and stay.after.best < target:
        return None
    moment = counts.reached_at(stay.press, stay.start_total.best + target - stay.before.best)
    if stay.end is not None and (moment is None or moment > stay.end):
        moment = stay.end
    return moment


def _total(counts: Counts, stay: Stay, instant: datetime) -> Band:
    if instant <= stay.start:
        return stay.start_total
    if stay.end is not None and instant >= stay.end:
        return _end_total(stay)
    return counts.total_at(stay.press, instant)


def _end_total(stay: Stay) -> Band:
    return stay.start_total if stay.end_total is None else stay.end_total

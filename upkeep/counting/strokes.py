"""Strokes of an item: the totals of the presses it hung on, over the spans in which it hung there.

A *stay* is a span [start, end) of one item on one press, whatever it sat in meanwhile.  The strokes of an item over any
span are the sum over its stays of the press totals at both ends, so what all items of a kind did and what nobody did
always add up to what the counter says.  Where a boundary has no reading the band carries the doubt: forecasts use
the best, stops the high.

An item that leaves a press and comes back between two readings may have done all of that step, or none of it, but not
all of it twice: the doubts of its stays in one step are joint.  Each stay says how many strokes it *shares* with an
earlier one, and the most an item can have done takes these off.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import UTC, datetime, timedelta
from operator import itemgetter
from typing import Protocol

from upkeep.counting.fittings import Fitting
from upkeep.counting.marks import NOTHING, PARTS, Band, Done, StrokeDoubt, Total, least_parts
from upkeep.counting.standing_still import together
from upkeep.frozen import frozen
from upkeep.units.instants import NEVER

BEGINNING = datetime(1, 1, 2, tzinfo=UTC)
"""Before every entry: where the stay of a press on itself begins."""

_SECOND = timedelta(seconds=1)
"""Moments in a book are whole seconds."""


@frozen
class Stay:
    """An item on a press over [start, end), with the press total at both ends and its own strokes ``before``.

    ``shared`` are strokes of the step between two readings in which it came that its stay on the press before this one,
    begun at ``shared_with``, may have done as well: both left and came in the same step.  0 and None: there are none.
    """

    item: str
    press: str
    start: datetime
    end: datetime | None
    start_total: Total
    end_total: Total | None
    before: Done
    shared: int = 0
    shared_with: datetime | None = None

    @property
    def after(self) -> Done:
        """The strokes of the item when the stay ended; its own start while it has not."""
        return self.before if self.end_total is None else self.until(self.end_total)

    def until(self, total: Total) -> Done:
        """The strokes of the item at a moment within the stay, by the total of the press then."""
        return at_most_less(self.before + difference(self.start_total, total), self.shared)


@frozen
class Span:
    """A span of an item on a press before any totals are looked up."""

    press: str
    start: datetime
    end: datetime | None


class Counts(Protocol):
    """Where totals and stays are looked up: in memory when a book is replayed, in the file's indexes otherwise."""

    def total_at(self, press: str, instant: datetime) -> Total:
        """The running total of a press at an instant."""
        ...

    def reached_at(self, press: str, total: int) -> datetime | None:
        """The moment of the first reading of a press at or over a total; None if there is none yet."""
        ...

    def read_from(self, press: str, instant: datetime) -> datetime | None:
        """The moment of the first reading of a press at an instant or after it; None if there is none yet."""
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

    def first_change_on(self, press: str, since: datetime, until: datetime) -> datetime | None:
        """The first moment over [since, until] at which something came onto a press or left it; None: nothing did."""
        ...

    def stay_with(self, item: str, parts: int) -> Stay | None:
        """The last stay of an item that began with fewer parts of strokes (best) than a number."""
        ...

    def shared_across(self, item: str, start: datetime, end: datetime) -> int:
        """The strokes that stays of an item which start over (start, end] share with stays from before ``start``."""
        ...

    def made_while_still(self, item: str, start: datetime) -> Iterator[tuple[datetime, datetime]]:
        """Spans from an instant on in which pieces were made where an item hung though its counter stood still."""
        ...

    def strokes_of_pieces(self, item: str, start: datetime, end: datetime) -> Sequence[tuple[datetime, Done]]:
        """The strokes of an item over [start, end) by pieces made while a counter stood still, each with the moment by
        which they were done."""
        ...

    def doubts(self, item: str, start: datetime, end: datetime = NEVER) -> tuple[StrokeDoubt, ...]:
        """Why strokes of an item over [start, end) had to be guessed (:class:`upkeep.counting.marks.StrokeDoubt`);
        empty where it is only that counts were not taken."""
        ...

    def uncounted(self, item: str, start: datetime, end: datetime) -> int:
        """Strokes to add for [start, end) that the counter did not count as they wore; may be negative."""
        ...

    def uncounted_from(self, item: str, start: datetime) -> Sequence[tuple[datetime, int]]:
        """Such strokes written from an instant on, each with its moment, in order."""
        ...


def difference(start: Total, end: Total) -> Done:
    """Strokes between two totals of one press: at least those of the steps that lie between them as a whole."""
    return Done(max(0, end.low - start.low_next), end.parts - start.parts, end.high - start.high_last)


def at_most_less(done: Done, strokes: int) -> Done:
    """Strokes of which the most is so many less."""
    return Done(done.low, done.parts, done.high - strokes)


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
    item: str,
    spans: Iterable[Span],
    total_at: Callable[[str, datetime], Total],
    before: Done = NOTHING,
    earlier_on: Callable[[str, datetime], Stay | None] = lambda press, start: None,
) -> list[Stay]:
    """The stays of an item over its spans in order, its strokes running on from ``before``.

    ``earlier_on`` gives the stay before these spans that ended on a press since its last reading before a moment;
    None: there is none.
    """
    stays: list[Stay] = []
    latest: dict[str, Stay] = {}
    for span in spans:
        start_total = total_at(span.press, span.start)
        end_total = None if span.end is None else total_at(span.press, span.end)
        shared, shared_with = 0, None
        if start_total.estimated:
            earlier = latest.get(span.press) or earlier_on(span.press, span.start)
            shared, shared_with = _shared(earlier, start_total)
        stay = Stay(item, span.press, span.start, span.end, start_total, end_total, before, shared, shared_with)
        before, latest[span.press] = stay.after, stay
        stays.append(stay)
    return stays


def _shared(earlier: Stay | None, start_total: Total) -> tuple[int, datetime | None]:
    """The strokes a new stay shares with the one before it on the press; totals only rise, so bounds tell the step."""
    if earlier is None or earlier.end_total is None or not start_total.estimated:
        return 0, None
    if earlier.end_total._replace(parts=0) != start_total._replace(parts=0):
        return 0, None
    return start_total.high - start_total.high_last, earlier.start


def strokes_between(counts: Counts, item: str, start: datetime, end: datetime) -> Band:
    """The strokes of an item over [start, end); up to the last reading where ``end`` is later than that."""
    return _with_uncounted(_run_between(counts, item, start, end), counts.uncounted(item, start, end))


def _with_uncounted(counted: Done, uncounted: int) -> Band:
    band = counted.band
    if not uncounted:
        return band
    low, best, high = (max(0, number + uncounted) for number in band)
    return Band(low, best, high)


def counted_between(counts: Counts, item: str, start: datetime, end: datetime) -> Band:
    """The strokes of an item over [start, end) that the counters of its presses counted, and those told by pieces made
    while they stood still."""
    return _run_between(counts, item, start, end).band


def _run_between(counts: Counts, item: str, start: datetime, end: datetime) -> Done:
    return _counted(counts, item, start, end) + pieces_between(counts, item, start, end)


def pieces_between(counts: Counts, item: str, start: datetime, end: datetime) -> Done:
    """The strokes of an item over [start, end) by pieces made while a counter stood still."""
    return together(counts.strokes_of_pieces(item, start, end)) if start < end else NOTHING


def _counted(counts: Counts, item: str, start: datetime, end: datetime) -> Done:
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
    done = head + Done(*(late - early for late, early in zip(last.before, first.after, strict=True)))
    if last.start < end:
        done = at_most_less(done + difference(last.start_total, _total(counts, last, end)), last.shared)
    return at_most_less(done, -_shared_across(counts, item, first, last, end))


def _shared_across(counts: Counts, item: str, first: Stay, last: Stay, end: datetime) -> int:
    """Strokes taken off for stays before ``first``, of which nothing is counted here; asked only if it had any."""
    until = last.start if last.start < end else last.start - _SECOND
    return counts.shared_across(item, first.start, until) if first.before.high else 0


def strokes_since_new(counts: Counts, item: str, end: datetime) -> Band:
    """All strokes of an item up to an instant."""
    done = _counted_since_new(counts, item, end) + together(counts.strokes_of_pieces(item, BEGINNING, end))
    return _with_uncounted(done, counts.uncounted(item, BEGINNING, end))


def _counted_since_new(counts: Counts, item: str, end: datetime) -> Done:
    last = counts.stay_from(item, end)
    if last is None or last.start == end:
        return NOTHING if last is None else last.before
    return last.until(_total(counts, last, end))


def reached(counts: Counts, item: str, start: datetime, strokes: int) -> datetime | None:
    """The moment from which an item has done so many strokes (best) since ``start``, to this day; None if it has not.

    It is that of a reading, or of the end of a stay, since in between nobody knows; or that of
    uncounted strokes where these make up the number.
    """
    beside, wanted = _beside_counters(counts, item, start), least_parts(strokes)
    written = sum(parts for _, parts in beside)
    for moment, parts in reversed(beside):
        counted = _counted(counts, item, start, moment).parts
        if counted + written < wanted:
            break
        written -= parts
        if counted + written < wanted:
            return max(moment, start)
    return _counted_from(counts, item, start, wanted - written)


def _beside_counters(counts: Counts, item: str, start: datetime) -> list[tuple[datetime, int]]:
    """Strokes from an instant on that counters did not count, in parts of a stroke, each with its moment, in order."""
    beside = [(moment, number * PARTS) for moment, number in counts.uncounted_from(item, start)]
    by_pieces = [(moment - _SECOND, done.parts) for moment, done in counts.strokes_of_pieces(item, start, NEVER)]
    return sorted([*beside, *by_pieces], key=itemgetter(0)) if by_pieces else beside


def possibly_reached(counts: Counts, item: str, start: datetime, strokes: int) -> datetime | None:
    """The moment from which an item may have done so many strokes (high) since ``start``; None if it cannot have.

    Like :func:`reached` it is that of the reading, of the end of a stay or of the uncounted strokes that showed it: no
    doubt is older than what raised it.
    """
    if strokes_between(counts, item, start, NEVER).high < strokes:
        return None
    below, at = start, _last_told(counts, item, start)
    while at - below > _SECOND:
        middle = below + (at - below) // _SECOND // 2 * _SECOND
        if strokes_between(counts, item, start, middle).high < strokes:
            below = middle
        else:
            at = middle
    written = [moment for moment, _ in _beside_counters(counts, item, below) if moment < at]
    return written[0] if written else _shown_at(counts, item, at)


def _last_told(counts: Counts, item: str, start: datetime) -> datetime:
    """A moment after which no more strokes of an item are known."""
    told = [start + _SECOND, *(moment + _SECOND for moment, _ in _beside_counters(counts, item, start))]
    last = counts.stay_from(item, NEVER)
    if last is not None:
        told.append(last.end or max(last.start, counts.last_read(last.press) or last.start))
    return max(told)


def _shown_at(counts: Counts, item: str, moment: datetime) -> datetime:
    """When it was known what an item may have done by a moment: at the next reading, or when it left the press."""
    stay = counts.stay_from(item, moment)
    if stay is None:
        return moment
    read = counts.read_from(stay.press, moment)
    return min(filter(None, (read, stay.end)), default=moment)


def reached_by_count(counts: Counts, item: str, start: datetime, strokes: int) -> datetime | None:
    """The same by the counts of its presses alone."""
    return _counted_from(counts, item, start, least_parts(strokes))


def _counted_from(counts: Counts, item: str, start: datetime, parts: int) -> datetime | None:
    moment = _counted_reached(counts, item, start, parts)
    return None if moment is None else max(moment, start)


def _counted_reached(counts: Counts, item: str, start: datetime, parts: int) -> datetime | None:
    if parts <= 0:
        return None
    target = _counted_since_new(counts, item, start).parts + parts
    stay = counts.stay_with(item, target)
    if stay is None:
        return None
    if stay.end_total is not None and stay.after.parts < target:
        return None
    total = stay.start_total.parts + target - stay.before.parts
    moment = counts.reached_at(stay.press, -(-total // PARTS))
    if stay.end is not None and (moment is None or moment > stay.end):
        moment = stay.end
    return moment


def _total(counts: Counts, stay: Stay, instant: datetime) -> Total:
    if instant <= stay.start:
        return stay.start_total
    if stay.end is not None and instant >= stay.end:
        return _end_total(stay)
    return counts.total_at(stay.press, instant)


def _end_total(stay: Stay) -> Total:
    return stay.start_total if stay.end_total is None else stay.end_total

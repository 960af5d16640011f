"""Rows of what was counted, and what they stand for: readings, stays, how counters count, pieces made meanwhile."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from datetime import datetime

from upkeep.counting.marks import (
    NONE,
    PARTS,
    ConfigurationAt,
    CounterConfiguration,
    Done,
    Mark,
    Reading,
    StrokeDoubt,
    Total,
)
from upkeep.counting.standing_still import Uncounted, stood_still
from upkeep.counting.strokes import Stay
from upkeep.keeping.rows.asked import Rows
from upkeep.plant.model import Item
from upkeep.store.rows.counts import (
    CounterConfigurationRow,
    MadeWhileStillRow,
    MarkRow,
)
from upkeep.store.rows.places import StayRow
from upkeep.units.instants import from_utc_text, utc_text


def still_from(row: MadeWhileStillRow) -> Uncounted:
    """Pieces made while a counter stood still, from their row."""
    return Uncounted(row.press, from_utc_text(row.since), from_utc_text(row.until), row.pieces, row.total)


def still_rows(
    rows: Rows, press: str, after: str = "", stood_still_at: Callable[[int], bool] = lambda total: False
) -> Iterator[MadeWhileStillRow]:
    """What was made on a press while its counter stood still and finished after a moment, by marks and quantities.

    What was finished after the last reading is only taken to be so of a counter that is known to stand still:
    ``stood_still_at`` says whether pieces finished by that moment were made while it stood at a running total.
    """
    known: set[int] = set()
    for made in rows.quantities_after(press, after):
        begun, read = rows.mark_at(press, made.since), rows.mark_at(press, made.until)
        if begun is None or read is None or not made.pieces:
            continue
        following = read if read.at == made.until else rows.mark_after(press, made.until)
        last = mark_from(read if following is None else following)
        if not stood_still(mark_from(begun), last):
            continue
        if following is None and last.total not in known and not stood_still_at(last.total):
            continue
        known.add(last.total)
        since = made.until if following is None else following.at
        yield MadeWhileStillRow(press, made.entry, made.since, made.until, made.pieces, last.total, since)


def configuration_at(counter: Item, rows: Sequence[CounterConfigurationRow]) -> ConfigurationAt:
    """How a counter counted at any moment: as its definition says until rows of configuration say otherwise.

    Terms hold from their moment on; of several at one moment the last written holds.
    """
    first = CounterConfiguration(NONE) if counter.digits == 0 else CounterConfiguration(digits=counter.digits)
    since = [row.since for row in rows]
    configuration = [CounterConfiguration(row.way, row.digits, row.times) for row in rows]
    if not configuration:
        return lambda instant: first

    def at(instant: datetime) -> CounterConfiguration:
        place = bisect_right(since, utc_text(instant))
        return configuration[place - 1] if place else first

    return at


def mark_from(row: MarkRow) -> Mark:
    """The reading of a counter and the total strokes of its press, from its row."""
    at, rolled_over, after_reset = from_utc_text(row.at), bool(row.rolled_over), bool(row.after_reset)
    reading = Reading(
        at, row.value, row.entry, rolled_over, after_reset, row.restart, row.pieces, row.fastest, row.rate
    )
    doubt = None if row.doubt is None else StrokeDoubt(row.doubt)
    return Mark(reading, row.total, row.rest, row.less, row.more, doubt)


def mark_row(press: str, mark: Mark) -> MarkRow:
    """A reading of a counter as it stands in its table, with the total strokes of its press."""
    reading = mark.reading
    return MarkRow(
        press=press,
        at=utc_text(reading.at),
        entry=reading.entry,
        value=reading.value,
        rolled_over=int(reading.rolled_over),
        after_reset=int(reading.after_reset),
        restart=reading.restart,
        pieces=reading.pieces,
        total=mark.total,
        rest=mark.rest,
        fastest=reading.fastest,
        rate=reading.rate,
        less=mark.less,
        more=mark.more,
        doubt=None if mark.doubt is None else str(mark.doubt),
    )


def stay_from_row(row: StayRow) -> Stay:
    """A stay on a press from its row: strokes low, best and high at its start and end; no end while it lasts."""
    return Stay(
        item=row.item,
        press=row.press,
        start=from_utc_text(row.start),
        end=None if row.until is None else from_utc_text(row.until),
        start_total=Total(
            row.start_low,
            row.start_low_next,
            row.start_best * PARTS + row.start_rest,
            row.start_high_last,
            row.start_high,
        ),
        end_total=_end_of(row),
        before=Done(row.before_low, row.before_best * PARTS + row.before_rest, row.before_high),
        shared=row.shared,
        shared_with=None if row.shared_with is None else from_utc_text(row.shared_with),
    )


def _end_of(row: StayRow) -> Total | None:
    low, low_next, best, rest = row.end_low, row.end_low_next, row.end_best, row.end_rest
    high_last, high = row.end_high_last, row.end_high
    if low is None or low_next is None or best is None or rest is None or high_last is None or high is None:
        return None
    return Total(low, low_next, best * PARTS + rest, high_last, high)


def stay_row(stay: Stay) -> StayRow:
    """A stay on a press as it stands in its table; the end is None, in moment and strokes, while it lasts."""
    start, end, before = stay.start_total, stay.end_total, stay.before
    start_best, start_rest = divmod(start.parts, PARTS)
    end_best, end_rest = divmod(end.parts, PARTS) if end else (None, None)
    before_best, before_rest = divmod(before.parts, PARTS)
    return StayRow(
        item=stay.item,
        start=utc_text(stay.start),
        press=stay.press,
        until=None if stay.end is None else utc_text(stay.end),
        start_low=start.low,
        start_low_next=start.low_next,
        start_best=start_best,
        start_rest=start_rest,
        start_high_last=start.high_last,
        start_high=start.high,
        end_low=end.low if end else None,
        end_low_next=end.low_next if end else None,
        end_best=end_best,
        end_rest=end_rest,
        end_high_last=end.high_last if end else None,
        end_high=end.high if end else None,
        before_low=before.low,
        before_best=before_best,
        before_rest=before_rest,
        before_high=before.high,
        shared=stay.shared,
        shared_with=None if stay.shared_with is None else utc_text(stay.shared_with),
    )

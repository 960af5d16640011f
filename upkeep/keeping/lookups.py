"""Counts looked up in projections: the rules' question answered by the file's indexes, or by a replay in memory."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterable, Iterator, Sequence
from datetime import datetime
from fractions import Fraction
from functools import partial
from operator import attrgetter

from upkeep.counting.marks import (
    AT_FIRST,
    PARTS,
    Done,
    Mark,
    Reading,
    StrokeDoubt,
    Total,
    interpolated,
)
from upkeep.counting.sharing import Quantity, share_of
from upkeep.counting.standing_still import Hung, Uncounted, stood_still, strokes_of_pieces
from upkeep.counting.strokes import BEGINNING, Stay
from upkeep.keeping.rows.asked import Rows
from upkeep.keeping.rows.counted import mark_from, stay_from_row, still_from
from upkeep.store.rows.counts import (
    QuantityRow,
)
from upkeep.store.rows.places import StayRow
from upkeep.store.rows.signatures import HappeningRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.units.shifts import ShiftCalendar

_START = attrgetter("start")

LIFE_UNKNOWN = "life unknown"
"""The happening that nobody knows any more what an item has done; its inspection is open from then on."""


class LookedUp:
    """The counts behind rows of marks and stays (fulfils :class:`upkeep.counting.strokes.Counts`)."""

    def __init__(self, rows: Rows, calendar: ShiftCalendar) -> None:
        self._rows, self._calendar = rows, calendar

    def total_at(self, press: str, instant: datetime) -> Total:
        """The running total of a press at an instant, with its band where it lies between readings."""
        if instant == NEVER:  # all that is counted: asked without a bound, since a past has one of its own
            last = self._rows.last_mark(press)
            return mark_from(last).exact if last else AT_FIRST
        at = utc_text(instant)
        row = self._rows.mark_at(press, at)
        mark = mark_from(row) if row else None
        if mark is not None and mark.at == instant:
            return mark.exact
        after = self._following(press, at)
        return interpolated(mark or self._begun(press, after), after, instant, partial(self._share, press))

    def _following(self, press: str, at: str) -> Mark | None:
        """The last mark of the next moment after one at which a press was read: what was done up to its first count of
        that moment and between its counts cannot be told apart, so it is one step."""
        first = self._rows.mark_after(press, at)
        row = self._rows.mark_at(press, first.at) if first else None
        return mark_from(row) if row else None

    def _begun(self, press: str, first: Mark | None) -> Mark | None:
        """The beginning of the first quantities made on a press without a counter; other presses are read first."""
        if first is None or first.reading.pieces is None:
            return None
        begun = min(row.since for row in self._rows.quantities_over(press, "", utc_text(first.at)))
        return Mark(Reading(from_utc_text(begun), 0, first.reading.entry), 0)

    def _share(self, press: str, start: datetime, instant: datetime, end: datetime) -> Fraction:
        share, _ = self.shared(press, start, instant, end)
        return share

    def shared(self, press: str, start: datetime, instant: datetime, end: datetime) -> tuple[Fraction, str]:
        """The part of the strokes between two readings done by an instant, and what it was shared by."""
        rows = self._quantities(press, utc_text(start), utc_text(end))
        made = [Quantity(from_utc_text(row.since), from_utc_text(row.until), row.pieces) for row in rows]
        return share_of(start, instant, end, made, self._calendar)

    def _quantities(self, press: str, start: str, end: str) -> Sequence[QuantityRow]:
        return self._rows.quantities_over(press, start, end)

    def made_while_still(self, item: str, start: datetime) -> Iterator[tuple[datetime, datetime]]:
        """Spans from an instant on in which pieces were made where an item hung though its counter stood still."""
        made = self._still(start)
        hung = _Hanging(self._stays_since(item, min(one.start for one in made))) if made else None
        for one in made:
            if hung is not None and hung.over(one):
                yield one.start, one.end

    def strokes_of_pieces(self, item: str, start: datetime, end: datetime) -> list[tuple[datetime, Done]]:
        """The strokes of an item over [start, end) by pieces made while a counter stood still, each with the moment by
        which they were done."""
        made = [one for one in self._still(start) if one.start < end]
        if not made:
            return []
        earlier = self._told_of_before(item, made, start)
        first = min(one.start for one in (*earlier, *made))
        told = [
            (from_utc_text(row.at), Fraction(row.strokes))
            for row in (self._rows.uncounted_from(item, utc_text(first)) if self._has_uncounted(item) else ())
            if row.still
        ]
        hung = _Hanging(self._stays_since(item, first))
        return list(strokes_of_pieces([*earlier, *made], hung.over, told, self._still_at, (start, end)))

    def _told_of_before(self, item: str, made: Iterable[Uncounted], start: datetime) -> list[Uncounted]:
        """The pieces finished by an instant while the same counters stood as for some later ones: what people told of
        an item is used up by these first.  None where nobody told anything of it."""
        if not self._has_uncounted(item):
            return []
        same = {(one.press, one.total) for one in made}
        return [one for one in self._still(BEGINNING) if (one.press, one.total) in same and one.end <= start]

    def _has_uncounted(self, item: str) -> bool:
        """Whether people told any strokes of an item that no counter shows."""
        return self._rows.has_uncounted(item)

    def _still(self, after: datetime) -> Sequence[Uncounted]:
        """The pieces made while counters stood still and finished after an instant."""
        return [still_from(row) for row in self._rows.made_while_still(utc_text(after))]

    def _still_at(self, made: Uncounted, instant: datetime) -> bool:
        """Whether the counter by which pieces were not counted stood as it did then at an instant."""
        at = utc_text(instant)
        before, after = self._rows.mark_at(made.press, at), self._rows.mark_after(made.press, at)
        if before is None or before.total != made.total:
            return False
        return before.at == at or after is None or stood_still(mark_from(before), mark_from(after))

    def doubts(self, item: str, start: datetime, end: datetime = NEVER) -> tuple[StrokeDoubt, ...]:
        """Why strokes of an item over [start, end) had to be guessed; empty where only counts were not taken."""
        found: set[str] = set()
        rows = self._rows.marks_in_doubt(utc_text(start))
        hung = _Hanging(self._stays_since(item, start) if rows else ())
        for row in rows:
            if row.doubt is None or row.doubt in found or row.press not in hung.presses:
                continue
            before = self.read_before(row.press, from_utc_text(row.at)) or BEGINNING
            step = Uncounted(row.press, max(before, start), min(from_utc_text(row.at), end), 0, 0)
            if hung.over(step):
                found.add(row.doubt)
        if self.strokes_of_pieces(item, start, end):
            found.add(StrokeDoubt.STOOD_STILL)
        if found and any(self._edges_guessed(item, start, end)):
            found.add(StrokeDoubt.NOT_TAKEN)
        return tuple(doubt for doubt in StrokeDoubt if doubt in found)

    def _edges_guessed(self, item: str, start: datetime, end: datetime) -> Iterator[bool]:
        """Whether each end of the stays of an item, cut to [start, end), lies between two readings."""
        for stay in self._stays_since(item, start):
            if stay.start < end:
                first, last = max(stay.start, start), min(stay.end or NEVER, end)
                yield self.total_at(stay.press, first).estimated or self.total_at(stay.press, last).estimated

    def _stays_since(self, item: str, start: datetime) -> Iterable[Stay]:
        """The stays of an item that have not ended before an instant, in order."""
        return map(stay_from_row, self._rows.stays_of(item, utc_text(start)))

    def uncounted(self, item: str, start: datetime, end: datetime) -> int:
        """Strokes to add for [start, end) that the counter did not count as they wore."""
        return self._rows.uncounted_between(item, utc_text(start), utc_text(end))

    def uncounted_from(self, item: str, start: datetime) -> list[tuple[datetime, int]]:
        """Such strokes written from an instant on, each with its moment, in order."""
        return [(from_utc_text(row.at), row.strokes) for row in self._rows.uncounted_from(item, utc_text(start))]

    def reached_at(self, press: str, total: int) -> datetime | None:
        """The moment of the first reading of a press at or over a total."""
        row = self._rows.mark_reaching(press, total)
        return from_utc_text(row.at) if row else None

    def read_from(self, press: str, instant: datetime) -> datetime | None:
        """The moment of the first reading of a press at an instant or after it; None if there is none yet."""
        at = utc_text(instant)
        row = self._rows.mark_at(press, at)
        row = row if row is not None and row.at == at else self._rows.mark_after(press, at)
        return from_utc_text(row.at) if row else None

    def read_before(self, press: str, instant: datetime) -> datetime | None:
        """The moment of the last reading of a press before an instant; None where it was not read before."""
        row = self._rows.mark_before(press, utc_text(instant))
        return from_utc_text(row.at) if row else None

    def rises(self, press: str, since: datetime) -> Iterator[tuple[datetime, datetime]]:
        """The readings of a press after one at which its total had risen: (reading before, reading)."""
        begun = self._rows.mark_at(press, utc_text(since))
        while begun and (risen := self._rows.mark_reaching(press, begun.total + 1)):
            before = self._rows.mark_before(press, risen.at) or begun
            yield from_utc_text(before.at), from_utc_text(risen.at)
            begun = self._rows.mark_at(press, risen.at)

    def last_read(self, press: str) -> datetime | None:
        """The moment of the latest reading of a press; None where it was never read."""
        row = self._rows.last_mark(press)
        return from_utc_text(row.at) if row else None

    def stay_from(self, item: str, instant: datetime) -> Stay | None:
        """The last stay of an item that starts at or before an instant."""
        if instant == NEVER:  # as above
            return _stay(self._rows.last_stay(item))
        return _stay(self._rows.stay_from(item, utc_text(instant)))

    def stay_after(self, item: str, instant: datetime) -> Stay | None:
        """The first stay of an item on a press that starts after an instant; None where it went on none since."""
        return _stay(self._rows.stay_after(item, utc_text(instant)))

    def first_change_on(self, press: str, since: datetime, until: datetime) -> datetime | None:
        """The first moment over [since, until] at which something came onto a press or left it; None: nothing did."""
        changed = self._rows.first_change_on(press, utc_text(since), utc_text(until))
        return from_utc_text(changed) if changed else None

    def stay_with(self, item: str, parts: int) -> Stay | None:
        """The last stay of an item that began with fewer parts of strokes than a number."""
        return _stay(self._rows.stay_with(item, *divmod(parts, PARTS)))

    def shared_across(self, item: str, start: datetime, end: datetime) -> int:
        """The strokes that stays of an item which start over (start, end] share with stays from before ``start``."""
        return self._rows.shared_across(item, utc_text(start), utc_text(end))


class _Hanging:
    """Where one item hung, from its stays in order: looked up for many spans, and read once."""

    def __init__(self, stays: Iterable[Stay]) -> None:
        self._on: dict[str, list[Stay]] = {}
        for stay in stays:
            self._on.setdefault(stay.press, []).append(stay)

    @property
    def presses(self) -> Collection[str]:
        """The presses it hung on."""
        return self._on.keys()

    def over(self, made: Uncounted) -> list[Hung]:
        """Where it hung on a press while pieces were made on that."""
        stays = self._on.get(made.press, [])
        first = max(0, bisect_right(stays, made.start, key=_START) - 1)
        last = bisect_left(stays, made.end, lo=first, key=_START)
        return [
            Hung(stay.press, stay.start, stay.end)
            for stay in stays[first:last]
            if stay.end is None or stay.end > made.start
        ]


def _stay(row: StayRow | None) -> Stay | None:
    return None if row is None else stay_from_row(row)


def unknown_since(rows: Rows, item: str) -> HappeningRow | None:
    """When and by which entry the life of an item became unknown: none is left until a graded inspection or a rework.

    None: its life is known, or it was inspected or reworked since.
    """
    unknown = rows.last_happening(item, LIFE_UNKNOWN, utc_text(NEVER))
    if unknown is None:
        return None
    graded, rework = rows.last_graded(item), rows.last_rework(item)
    since = max((row.at, row.entry) for row in (unknown, graded, rework) if row is not None)
    return unknown if since == (unknown.at, unknown.entry) else None

"""Counts looked up in projections: the rules' question answered by the file's indexes, or by a replay in memory."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from functools import partial
from operator import attrgetter
from typing import Protocol

from upkeep.counting.marks import (
    NONE,
    Band,
    ConfigurationAt,
    CounterConfiguration,
    Mark,
    Reading,
    exactly,
    interpolated,
)
from upkeep.counting.sharing import Quantity, share_of
from upkeep.counting.strokes import Stay
from upkeep.plant.model import Item
from upkeep.store.rows.counts import CounterConfigurationRow, LastRework, MarkRow, QuantityRow, UncountedRow
from upkeep.store.rows.definitions import Moment
from upkeep.store.rows.findings import MeasuredRow, OutOfToleranceRow
from upkeep.store.rows.places import Content, FittingRow, StayRow
from upkeep.store.rows.signatures import DeferralRow, HappeningRow, SignOffRow, StandingRow, StatedRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.units.shifts import ShiftCalendar

_AT, _TOTAL = attrgetter("at"), attrgetter("total")

LIFE_UNKNOWN = "life unknown"
"""The happening that nobody knows any more what an item has done; its inspection is open from then on."""


class Rows(Protocol):
    """What a line is judged from: rows of the projections, in the file or in memory."""

    def mark_at(self, press: str, at: str) -> MarkRow | None:
        """The last mark of a press at or before a moment; None where it was not counted by then."""
        ...

    def mark_before(self, press: str, at: str) -> MarkRow | None:
        """The last mark of a press before a moment; None where it was not counted before."""
        ...

    def mark_after(self, press: str, at: str) -> MarkRow | None:
        """The first mark of a press after a moment; None where it was not counted since."""
        ...

    def last_mark(self, press: str) -> MarkRow | None:
        """The latest mark of a press; None where it was never counted."""
        ...

    def mark_reaching(self, press: str, total: int) -> MarkRow | None:
        """The first mark of a press at or over a running total of strokes; None where it has not come so far."""
        ...

    def stay_from(self, item: str, at: str) -> StayRow | None:
        """The last stay of an item that starts at or before a moment."""
        ...

    def last_stay(self, item: str) -> StayRow | None:
        """The latest stay of an item on a press, ended or not; None where it never was on one."""
        ...

    def stay_after(self, item: str, at: str) -> StayRow | None:
        """The first stay of an item on a press that starts after a moment; None where it went on none since."""
        ...

    def first_change_on(self, press: str, since: str, until: str) -> str | None:
        """The first moment over [since, until] at which something came onto a press or left it; None: nothing did."""
        ...

    def stay_with(self, item: str, strokes: int) -> StayRow | None:
        """The last stay of an item that began with fewer strokes than a number."""
        ...

    def shared_across(self, item: str, start: str, end: str) -> int:
        """The strokes that stays of an item which start over (start, end] share with stays from before ``start``."""
        ...

    def last_sign_offs(self, item: str, task: str, how: str, limit: int) -> list[SignOffRow]:
        """The latest sign-offs ("done") or cancellations ("cancelled") that answer an occurrence, newest first."""
        ...

    def last_graded(self, item: str, least: int = 0) -> SignOffRow | None:
        """The latest sign-off of an item with at least a grade (0 as new to 4 out); None where none was as bad."""
        ...

    def deferrals_of(self, item: str, task: str) -> list[DeferralRow]:
        """The deferrals of a line in effect, by when they were decided; those of past occurrences among them."""
        ...

    def last_happening(self, item: str, what: str, before: str) -> HappeningRow | None:
        """The latest event of a kind on an item before a moment; None where there was none."""
        ...

    def last_change_in(self, inside: str) -> Moment | None:
        """The latest moment at which something went into or out of an item, with the entry."""
        ...

    def inside_now(self, inside: str) -> list[Content]:
        """What sits in an item now, and since when."""
        ...

    def stays_of(self, item: str, from_end: str = "") -> list[StayRow]:
        """The stays of an item that have not ended before a moment, in order."""
        ...

    def quantities_over(self, press: str, start: str, end: str) -> list[QuantityRow]:
        """The quantities made on a press over a span that they share time with."""
        ...

    def uncounted_between(self, item: str, start: str, end: str) -> int:
        """Strokes of an item that no press counter shows, from ``start`` to before ``end`` (UTC texts), weighted."""
        ...

    def has_uncounted(self, item: str) -> bool:
        """Whether an item has any uncounted strokes."""
        ...

    def uncounted_from(self, item: str, start: str) -> list[UncountedRow]:
        """Uncounted strokes from a moment on, in order."""
        ...

    def last_rework(self, item: str) -> LastRework | None:
        """The latest rework of a part, with how many it has had; None where it was never reworked."""
        ...

    def last_stated(self, item: str, task: str) -> StatedRow | None:
        """What was last stated about a line; None where nobody stated anything."""
        ...

    def standings_of(self, item: str) -> list[StandingRow]:
        """The hold and pause in force on an item."""
        ...

    def last_fitting(self, item: str) -> FittingRow | None:
        """The latest fitting of an item, ended or not; None where it never sat in anything."""
        ...

    def fittings_of(self, item: str, ending_after: str = "") -> list[FittingRow]:
        """The fittings of an item that have not ended by a moment, in order."""
        ...

    def came_after_rest(self, item: str, since: str, days: int) -> str | None:
        """When an item last came onto a press after so many days or more on none since a moment; None: never."""
        ...

    def done_before(self, item: str, task: str, at: str, entry: int) -> Iterator[SignOffRow]:
        """The sign-offs of a line before one moment and entry, newest first, extras among them."""
        ...

    def all_out_of_tolerance(self) -> list[OutOfToleranceRow]:
        """When any gauge was found to read wrong, in order."""
        ...

    def points_measured(self, item: str, gauge: str, start: str, end: str) -> list[str]:
        """The characteristics of an item measured with a gauge over [start, end], by id."""
        ...

    def last_checked(self, item: str, point: str) -> MeasuredRow | None:
        """The latest readings of a characteristic in checks of an item; None where there are none."""
        ...

    def gauge_of(self, entry: int) -> str | None:
        """The gauge that an entry was measured with; None: with none, or it measured nothing."""
        ...

    def out_of_tolerance(self, gauge: str) -> list[OutOfToleranceRow]:
        """When a gauge was found to read wrong, in order."""
        ...

    def last_measured(self, item: str, point: str) -> MeasuredRow | None:
        """The latest readings of a characteristic on an item, asked for or not; None where there are none."""
        ...


class LookedUp:
    """The counts behind rows of marks and stays (fulfils :class:`upkeep.counting.strokes.Counts`)."""

    def __init__(self, rows: Rows, calendar: ShiftCalendar) -> None:
        self._rows, self._calendar = rows, calendar

    def total_at(self, press: str, instant: datetime) -> Band:
        """The running total of a press at an instant, with its band where it lies between readings."""
        if instant == NEVER:  # all that is counted: asked without a bound, since a past has one of its own
            return exactly(last.total if (last := self._rows.last_mark(press)) else 0)
        at = utc_text(instant)
        row = self._rows.mark_at(press, at)
        mark = mark_from(row) if row else None
        if mark is not None and mark.at == instant:
            return exactly(mark.total)
        after = self._following(press, at)
        return interpolated(mark or self._begun(press, after), after, instant, partial(self._share, press))

    def _following(self, press: str, at: str) -> Mark | None:
        """The next mark after a moment; where several quantities end together, all of them."""
        row = self._rows.mark_after(press, at)
        if row is not None and row.pieces is not None:
            row = self._rows.mark_at(press, row.at)
        return mark_from(row) if row else None

    def _begun(self, press: str, first: Mark | None) -> Mark | None:
        """The beginning of the first quantities made on a press without a counter; other presses are read first."""
        if first is None or first.reading.pieces is None:
            return None
        begun = min(row.since for row in self._rows.quantities_over(press, "", utc_text(first.at)))
        return Mark(Reading(from_utc_text(begun), 0, first.reading.entry), 0)

    def _share(self, press: str, start: datetime, instant: datetime, end: datetime) -> float:
        share, _ = self.shared(press, start, instant, end)
        return share

    def shared(self, press: str, start: datetime, instant: datetime, end: datetime) -> tuple[float, str]:
        """The part of the strokes between two readings done by an instant, and what it was shared by."""
        rows = self._quantities(press, utc_text(start), utc_text(end))
        made = [Quantity(from_utc_text(row.since), from_utc_text(row.until), row.pieces) for row in rows]
        return share_of(start, instant, end, made, self._calendar)

    def _quantities(self, press: str, start: str, end: str) -> Sequence[QuantityRow]:
        return self._rows.quantities_over(press, start, end)

    def made_while_still(self, item: str, start: datetime) -> Iterator[tuple[datetime, datetime]]:
        """Spans from an instant on in which pieces were made where an item hung though the counter there stood still.

        It must have been read again since: until then nobody knows whether it counted them.
        """
        for stay in self._stays_since(item, start):
            made = self._quantities(stay.press, utc_text(max(stay.start, start)), utc_text(stay.end or NEVER))
            for quantity in made:
                since, until = from_utc_text(quantity.since), from_utc_text(quantity.until)
                read = self.last_read(stay.press)
                if not quantity.pieces or read is None or read < until:
                    continue
                if self.total_at(stay.press, since) == self.total_at(stay.press, until):
                    yield since, until

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

    def stay_with(self, item: str, strokes: int) -> Stay | None:
        """The last stay of an item that began with fewer strokes than a number."""
        return _stay(self._rows.stay_with(item, strokes))

    def shared_across(self, item: str, start: datetime, end: datetime) -> int:
        """The strokes that stays of an item which start over (start, end] share with stays from before ``start``."""
        return self._rows.shared_across(item, utc_text(start), utc_text(end))


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
    return Mark(
        Reading(at, row.value, row.entry, rolled_over, after_reset, row.restart, row.pieces), row.total, row.rest
    )


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
    )


def _stay(row: StayRow | None) -> Stay | None:
    return None if row is None else stay_from_row(row)


def stay_from_row(row: StayRow) -> Stay:
    """A stay on a press from its row: strokes low, best and high at its start and end; no end while it lasts."""
    return Stay(
        item=row.item,
        press=row.press,
        start=from_utc_text(row.start),
        end=None if row.until is None else from_utc_text(row.until),
        start_total=Band(row.start_low, row.start_best, row.start_high),
        end_total=_band(row.end_low, row.end_best, row.end_high),
        before=Band(row.before_low, row.before_best, row.before_high),
        shared=row.shared,
        shared_with=None if row.shared_with is None else from_utc_text(row.shared_with),
    )


def _band(low: int | None, best: int | None, high: int | None) -> Band | None:
    return None if low is None or best is None or high is None else Band(low, best, high)


def stay_row(stay: Stay) -> StayRow:
    """A stay on a press as it stands in its table; the end is None, in moment and strokes, while it lasts."""
    start, end, before = stay.start_total, stay.end_total, stay.before
    return StayRow(
        item=stay.item,
        start=utc_text(stay.start),
        press=stay.press,
        until=None if stay.end is None else utc_text(stay.end),
        start_low=start.low,
        start_best=start.best,
        start_high=start.high,
        end_low=end.low if end else None,
        end_best=end.best if end else None,
        end_high=end.high if end else None,
        before_low=before.low,
        before_best=before.best,
        before_high=before.high,
        shared=stay.shared,
        shared_with=None if stay.shared_with is None else utc_text(stay.shared_with),
    )


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

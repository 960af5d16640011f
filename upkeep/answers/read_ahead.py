"""Counts read ahead, for a view that asks a great deal about few items or one thing about each of many."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from functools import partial
from operator import attrgetter, itemgetter
from typing import NamedTuple, Protocol

from upkeep.counting.marks import Total, exactly, interpolated, risen
from upkeep.counting.standing_still import Uncounted
from upkeep.counting.strokes import BEGINNING, Stay
from upkeep.keeping.lookups import LookedUp
from upkeep.keeping.rows.asked import Rows
from upkeep.keeping.rows.counted import stay_from_row
from upkeep.store.rows.counts import MarkRow, QuantityRow, TotalRow, UncountedRow
from upkeep.store.rows.places import StayRow
from upkeep.store.rows.table import R
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.units.shifts import ShiftCalendar

_AT, _TOTAL = attrgetter("at"), attrgetter("total")
_Totals = Sequence[MarkRow | TotalRow]


class ManyRows(Rows, Protocol):
    """Rows that also answer with all marks of a press, and with what belongs to many presses or items."""

    def marks_since(self, press: str, at: str) -> list[MarkRow]:
        """The marks of a press from a moment on, in order."""
        ...

    def marks_of(self, since: Mapping[str, str]) -> dict[str, list[TotalRow]]:
        """The totals of presses at their marks, each press from the last before a moment of its own on, in order."""
        ...

    def quantities_of(self, since: Mapping[str, str]) -> list[QuantityRow]:
        """The quantities made on presses, each after a moment of its own, in order of their beginning."""
        ...

    def stays_of_all(self, items: Collection[str]) -> list[StayRow]:
        """The stays of items, in order of item and beginning."""
        ...

    def uncounted_of(self, since: Mapping[str, str]) -> list[UncountedRow]:
        """Uncounted strokes of items, each from a moment of its own on, in order of item and moment."""
        ...


class ReadAhead(LookedUp):
    """The same counts for many questions about few items, one shift after another: marks and stays are read once.

    Made for one view, since what others write meanwhile is not seen.
    """

    def __init__(self, rows: ManyRows, calendar: ShiftCalendar) -> None:
        super().__init__(rows, calendar)
        self._many = rows
        self._marks: dict[str, tuple[datetime, _Totals]] = {}
        self._risen: dict[str, tuple[_Totals, list[tuple[datetime, datetime]]]] = {}
        self._stays: dict[str, list[Stay]] = {}
        self._totals: dict[tuple[str, datetime], Total] = {}
        self._made: dict[str, tuple[str, list[QuantityRow]]] = {}
        self._all_still: list[Uncounted] | None = None
        self._uncounted: dict[str, tuple[datetime, list[tuple[datetime, int]]]] = {}

    def read(self, since: Mapping[str, datetime]) -> None:
        """Reads at once what will be asked about items, about each from a moment on; what is asked of others, or of
        before, is looked up when it is asked."""
        begun = {item: utc_text(moment) for item, moment in since.items()}
        stays = _by_first(self._many.stays_of_all(since), since)
        uncounted = _by_first(self._many.uncounted_of(begun), since)
        presses: dict[str, datetime] = {}
        for item, moment in since.items():
            self._stays[item] = [stay_from_row(row) for row in stays[item]]
            self._uncounted[item] = moment, [(from_utc_text(row.at), row.strokes) for row in uncounted[item]]
            for stay in self._stays[item]:
                if stay.end is None or stay.end > moment:
                    presses[stay.press] = min(presses.get(stay.press, NEVER), max(moment, stay.start))
        self._read_presses(presses)

    def _read_presses(self, since: Mapping[str, datetime]) -> None:
        begun = {press: utc_text(moment) for press, moment in since.items()}
        marks = self._many.marks_of(begun)
        counted = {press: rows[0].at if rows else begun[press] for press, rows in marks.items()}
        made = _by_first(self._many.quantities_of(counted), since)
        for press, moment in since.items():
            self._marks[press] = moment, marks[press]
            self._made[press] = counted[press], made[press]

    def total_at(self, press: str, instant: datetime) -> Total:
        """The running total of a press at an instant, with its band where it lies between readings."""
        if (press, instant) not in self._totals:
            self._totals[press, instant] = self._total(press, instant)
        return self._totals[press, instant]

    def _total(self, press: str, instant: datetime) -> Total:
        marks = self._marks_from(press, instant)
        at = utc_text(instant)
        after = bisect_right(marks, at, key=_AT)
        guessed = after < len(marks) and not (after and marks[after - 1].at == at)
        if guessed and not after:
            return super().total_at(press, instant)
        before = _total_of(marks[after - 1]) if after else None
        following = _total_of(marks[bisect_right(marks, marks[after].at, key=_AT) - 1]) if guessed else None
        return interpolated(before, following, instant, partial(self._share, press))

    def _marks_from(self, press: str, instant: datetime) -> _Totals:
        """The marks of a press from the last one before an instant on, or from earlier."""
        begun, marks = self._marks.get(press, (NEVER, []))
        if instant < begun:
            before = self._many.mark_before(press, utc_text(instant))
            marks = [*([before] if before else []), *self._many.marks_since(press, utc_text(instant))]
            self._marks[press] = instant, marks
        return marks

    def stay_from(self, item: str, instant: datetime) -> Stay | None:
        """The last stay of an item that starts at or before an instant."""
        stays = self._stays_of(item)
        after = bisect_right(stays, instant, key=_start_of_stay)
        return stays[after - 1] if after else None

    def stay_after(self, item: str, instant: datetime) -> Stay | None:
        """The first stay of an item on a press that starts after an instant; None where it went on none since."""
        stays = self._stays_of(item)
        after = bisect_right(stays, instant, key=_start_of_stay)
        return stays[after] if after < len(stays) else None

    def stay_with(self, item: str, parts: int) -> Stay | None:
        """The last stay of an item that began with fewer parts of strokes than a number."""
        stays = self._stays_of(item)
        after = bisect_left(stays, parts, key=_parts_before)
        return stays[after - 1] if after else None

    def shared_across(self, item: str, start: datetime, end: datetime) -> int:
        """The strokes that stays of an item which start over (start, end] share with stays from before ``start``."""
        return sum(
            stay.shared
            for stay in self._stays_of(item)
            if start < stay.start <= end and stay.shared_with and stay.shared_with < start
        )

    def read_before(self, press: str, instant: datetime) -> datetime | None:
        """The moment of the last reading of a press before an instant; None where it was not read before."""
        marks = self._marks_from(press, instant)
        after = bisect_left(marks, utc_text(instant), key=_AT)
        return from_utc_text(marks[after - 1].at) if after else None

    def rises(self, press: str, since: datetime) -> Iterator[tuple[datetime, datetime]]:
        """The readings of a press after one at which its total had risen: (reading before, reading)."""
        marks = self._marks_from(press, since)
        if marks is not self._risen.get(press, (None,))[0]:
            self._risen[press] = marks, risen([(from_utc_text(row.at), row.total) for row in marks])
        _, rises = self._risen[press]
        return iter(rises[bisect_right(rises, since, key=itemgetter(1)) :])

    def reached_at(self, press: str, total: int) -> datetime | None:
        """The moment of the first reading of a press at or over a total."""
        _, marks = self._marks.get(press, (NEVER, []))
        if not marks or marks[0].total >= total:
            return super().reached_at(press, total)
        place = bisect_left(marks, total, key=_TOTAL)
        return from_utc_text(marks[place].at) if place < len(marks) else None

    def _stays_since(self, item: str, start: datetime) -> Iterable[Stay]:
        """The stays of an item that have not ended before an instant, in order."""
        return [stay for stay in self._stays_of(item) if stay.end is None or stay.end >= start]

    def _quantities(self, press: str, start: str, end: str) -> Sequence[QuantityRow]:
        begun, made = self._made.get(press, ("~", []))
        if start < begun:
            return super()._quantities(press, start, end)
        return [row for row in made if row.until > start and row.since < end]

    def _still(self, after: datetime) -> Sequence[Uncounted]:
        """The pieces made while counters stood still and finished after an instant."""
        if self._all_still is None:
            self._all_still = list(super()._still(BEGINNING))
        return [one for one in self._all_still if one.end > after] if self._all_still else ()

    def uncounted_from(self, item: str, start: datetime) -> list[tuple[datetime, int]]:
        """Such strokes written from an instant on, each with its moment, in order."""
        begun, strokes = self._uncounted.get(item, (NEVER, []))
        if start < begun:
            return super().uncounted_from(item, start)
        return strokes[bisect_left(strokes, start, key=itemgetter(0)) :]

    def _stays_of(self, item: str) -> list[Stay]:
        if item not in self._stays:
            self._stays[item] = [stay_from_row(row) for row in self._many.stays_of(item)]
        return self._stays[item]


class _Total(NamedTuple):
    at: datetime
    total: int
    exact: Total


def _total_of(row: MarkRow | TotalRow) -> _Total:
    return _Total(from_utc_text(row.at), row.total, exactly(row.total, row.less, row.more))


def _start_of_stay(stay: Stay) -> datetime:
    return stay.start


def _parts_before(stay: Stay) -> int:
    return stay.before.parts


def _by_first(rows: Iterable[R], wanted: Iterable[str]) -> dict[str, list[R]]:
    """Rows by their first column, for each that is wanted."""
    rows_by_name: dict[str, list[R]] = {name: [] for name in wanted}
    for row in rows:
        rows_by_name[row[0]].append(row)
    return rows_by_name

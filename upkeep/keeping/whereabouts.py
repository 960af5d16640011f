"""Where items sit and stand, and the counts of the presses they hung on: what is asked of an item beside its lines."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from upkeep.counting.marks import Total
from upkeep.counting.standing_still import Uncounted
from upkeep.counting.strokes import BEGINNING, Stay
from upkeep.keeping.definitions import Known
from upkeep.keeping.lookups import LookedUp
from upkeep.keeping.rows.asked import Rows
from upkeep.plant.model import Item, Kind
from upkeep.store.rows.places import FittingRow
from upkeep.units.instants import NEVER
from upkeep.units.shifts import ShiftCalendar


class Whereabouts:
    """Looks them up in one book at its present state, in the file or in a replay.

    Made for one question or one write: what it has looked up of fittings and counts it keeps, since many lines ask the
    same.
    """

    def __init__(self, rows: Rows, known: Known) -> None:
        self.rows, self.known = rows, known
        self.counts = KeptCounts(rows, known.calendar)
        self._last_fittings: dict[str, FittingRow | None] = {}

    def sits_in(self, item: str) -> str | None:
        """What an item sits in now; None: in nothing."""
        row = self._last_fitting(item)
        return row.inside if row and row.until is None else None

    def _last_fitting(self, item: str) -> FittingRow | None:
        if item not in self._last_fittings:
            self._last_fittings[item] = self.rows.last_fitting(item)
        return self._last_fittings[item]

    def press_of(self, item: str) -> str | None:
        """The press an item hangs on now, through whatever it sits in; a press hangs on itself."""
        key: str | None = item
        while key is not None:
            holder = self.known.items.get(key)
            if holder is not None and holder.kind is Kind.PRESS:
                return key
            key = self.sits_in(key)
        return None

    def place_of(self, item: Item) -> str:
        """Where an item is now: its press, or the place it was put, or its home; "-" if nobody said."""
        root = item.id
        inside = self.sits_in(root)
        while inside is not None:
            root, inside = inside, self.sits_in(inside)
        top = self.known.items.get(root, item)
        if top.kind is Kind.PRESS:
            return top.id
        last, put = self._last_fitting(root), self.rows.last_put(root)
        if put is not None and (last is None or (last.until or "") <= put.at):
            return put.place
        return (last.left_to if last else None) or top.place or "-"

    def area_and_route(self, place: str) -> tuple[str, int]:
        """The area and walking order of a place; a press stands where its definition says."""
        press = self.known.items.get(place)
        place_named = self.known.places.get(press.place or "" if press else place)
        return (place_named.area, place_named.route) if place_named else ("-", 0)


class KeptCounts(LookedUp):
    """Counts of one question, during which nothing is written: the lines of an item ask for the same totals again."""

    def __init__(self, rows: Rows, calendar: ShiftCalendar) -> None:
        super().__init__(rows, calendar)
        self._totals: dict[tuple[str, datetime], Total] = {}
        self._stays: dict[tuple[str, datetime], Stay | None] = {}
        self._uncounted: dict[tuple[str, datetime], list[tuple[datetime, int]]] = {}
        self._with_uncounted: dict[str, bool] = {}
        self._all_still: list[Uncounted] | None = None

    def total_at(self, press: str, instant: datetime) -> Total:
        """The running total of a press at an instant."""
        asked = press, instant
        if asked not in self._totals:
            self._totals[asked] = super().total_at(press, instant)
        return self._totals[asked]

    def stay_from(self, item: str, instant: datetime) -> Stay | None:
        """The last stay of an item that starts at or before an instant: mostly its last of all."""
        asked = item, instant
        if asked not in self._stays:
            last = super().stay_from(item, NEVER) if instant == NEVER else self.stay_from(item, NEVER)
            before = last is not None and last.start > instant
            self._stays[asked] = super().stay_from(item, instant) if before else last
        return self._stays[asked]

    def stay_after(self, item: str, instant: datetime) -> Stay | None:
        """The first stay of an item that starts after an instant: mostly there is none."""
        last = self.stay_from(item, NEVER)
        return super().stay_after(item, instant) if last is not None and last.start > instant else None

    def stay_with(self, item: str, parts: int) -> Stay | None:
        """The last stay of an item that began with fewer parts of strokes than a number: mostly its last."""
        last = self.stay_from(item, NEVER)
        if last is None or last.before.parts < parts:
            return last
        return super().stay_with(item, parts)

    def _still(self, after: datetime) -> Sequence[Uncounted]:
        """The pieces made while counters stood still and finished after an instant: few presses have any."""
        if self._all_still is None:
            self._all_still = list(super()._still(BEGINNING))
        return [one for one in self._all_still if one.end > after] if self._all_still else ()

    def reached_at(self, press: str, total: int) -> datetime | None:
        """The moment of the first reading of a press at or over a total."""
        return None if self.total_at(press, NEVER).best < total else super().reached_at(press, total)

    def uncounted(self, item: str, start: datetime, end: datetime) -> int:
        """Strokes to add for [start, end) that the counter did not count as they wore."""
        return super().uncounted(item, start, end) if self._has_uncounted(item) else 0

    def _has_uncounted(self, item: str) -> bool:
        if item not in self._with_uncounted:
            self._with_uncounted[item] = self._rows.has_uncounted(item)
        return self._with_uncounted[item]

    def uncounted_from(self, item: str, start: datetime) -> list[tuple[datetime, int]]:
        """Uncounted strokes written from an instant on, each with its moment, in order."""
        asked = item, start
        if asked not in self._uncounted:
            self._uncounted[asked] = super().uncounted_from(item, start) if self._has_uncounted(item) else []
        return self._uncounted[asked]

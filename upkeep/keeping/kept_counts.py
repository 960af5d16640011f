"""Counts of one question, during which nothing is written: what it has looked up of an item it keeps."""

from __future__ import annotations

from datetime import datetime

from upkeep.counting.marks import Band
from upkeep.counting.strokes import Stay
from upkeep.keeping.lookups import LookedUp, Rows
from upkeep.units.instants import NEVER
from upkeep.units.shifts import ShiftCalendar


class KeptCounts(LookedUp):
    """The same counts: the edges of a line, and the lines of an item, ask for the same stays and totals."""

    def __init__(self, rows: Rows, calendar: ShiftCalendar) -> None:
        super().__init__(rows, calendar)
        self._totals: dict[tuple[str, datetime], Band] = {}
        self._stays: dict[tuple[str, datetime], Stay | None] = {}
        self._uncounted: dict[tuple[str, datetime], list[tuple[datetime, int]]] = {}

    def total_at(self, press: str, instant: datetime) -> Band:
        """The running total of a press at an instant."""
        asked = press, instant
        if asked not in self._totals:
            self._totals[asked] = super().total_at(press, instant)
        return self._totals[asked]

    def stay_from(self, item: str, instant: datetime) -> Stay | None:
        """The last stay of an item that starts at or before an instant."""
        asked = item, instant
        if asked not in self._stays:
            self._stays[asked] = super().stay_from(item, instant)
        return self._stays[asked]

    def stay_with(self, item: str, strokes: int) -> Stay | None:
        """The last stay of an item that began with fewer strokes than a number: mostly its last."""
        last = self.stay_from(item, NEVER)
        if last is None or last.before.best < strokes:
            return last
        return super().stay_with(item, strokes)

    def uncounted_from(self, item: str, start: datetime) -> list[tuple[datetime, int]]:
        """Uncounted strokes written from an instant on, each with its moment, in order."""
        asked = item, start
        if asked not in self._uncounted:
            self._uncounted[asked] = super().uncounted_from(item, start)
        return self._uncounted[asked]

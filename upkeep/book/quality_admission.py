"""Admission of checks, and of gauges found to read wrong."""

from __future__ import annotations

from dataclasses import replace

from upkeep.book.known import Known
from upkeep.book.recounting import Recounter
from upkeep.entries.found import OCCASIONS, Check, Limits, Misread
from upkeep.entries.kinds import Entry
from upkeep.errors import Refused
from upkeep.plant.model import Kind
from upkeep.store.entries import EntryStore
from upkeep.store.projections import Projections


class QualityAdmission:
    """Judges such entries against the book; ``notes`` are told to the writer."""

    def __init__(self, entries: EntryStore, rows: Projections, known: Known, counter: Recounter) -> None:
        self._entries, self._rows, self._known, self._counter = entries, rows, known, counter
        self.notes: list[str] = []

    def admitted(self, entry: Entry) -> Entry:
        """The entry as it goes into the book; raises :class:`Refused` with the reason."""
        match entry:
            case Check():
                return self._checked(entry)
            case Misread():
                self._check_misread(entry)
            case _:
                raise TypeError(type(entry).__name__)
        return entry

    def _checked(self, check: Check) -> Check:
        item = self._known.item(check.item)
        if check.occasion not in OCCASIONS:
            raise Refused(f"{check.occasion!r} is no occasion of a check; {', '.join(OCCASIONS)} are.")
        press = check.press or self._counter.press_at(item.id, check.at)
        return replace(check, press=press, limits=check.limits or self._limits(check))

    def _limits(self, check: Check) -> tuple[Limits, ...]:
        """The limits that hold now for what was measured."""
        if check.crimp is None:
            return ()
        points = {point.id: point for point in self._known.crimp(check.crimp).points}
        measured = [points[key] for key, _ in check.points if key in points]
        return tuple((point.id, point.lower, point.upper) for point in measured)

    def _check_misread(self, entry: Misread) -> None:
        gauge = self._known.item(entry.item)
        if gauge.kind is not Kind.GAUGE:
            raise Refused(f"{gauge.id} is a {gauge.kind}, not a gauge.")

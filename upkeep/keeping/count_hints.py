"""What helps whoever wrote a count that cannot be: whose word stands against it, and which press it would fit."""

from __future__ import annotations

from datetime import datetime

from upkeep.counting.judgement import Hints
from upkeep.counting.marks import Reading
from upkeep.keeping.definitions import Known
from upkeep.keeping.rows.counted import mark_from
from upkeep.said import Moment, Said, said
from upkeep.store.entries import EntryStore
from upkeep.store.projections import Projections


class CountHints:
    """Looks up the hints for a refusal; ``now`` is when the write is made (None: nobody writes)."""

    def __init__(self, rows: Projections, entries: EntryStore, known: Known, now: datetime | None) -> None:
        self._rows, self._entries, self._known, self._now = rows, entries, known, now

    def of(self, press: str, before: Reading | None, reading: Reading) -> Hints:
        """The hints for a reading that cannot follow another."""
        shown = Moment(before.at, self._known.zone) if before else ""
        earlier = min(before.entry, reading.entry) if before else reading.entry
        return Hints(shown, self._fitting_presses(press, reading), earlier, self._written_by(earlier))

    def _written_by(self, number: int) -> Said:
        """Who wrote an entry and when, and whether it tells of a moment still to come."""
        recorded = self._entries.by_number(number)
        if recorded is None:
            return said("of this same write")
        entry = recorded.entry
        written = said(
            "written by {name}, {moment}",
            name=self._known.names.get(entry.by, entry.by),
            moment=Moment(entry.recorded_at or entry.at, self._known.zone),
        )
        if self._now is None or entry.at <= self._now:
            return written
        at = Moment(entry.at, self._known.zone)
        return said("{written}, for {moment}, which is in the future", written=written, moment=at)

    def _fitting_presses(self, press: str, reading: Reading) -> list[Said]:
        """The presses whose counter a figure would fit better, going by the hours in which shifts ran."""
        presses = []
        for row in self._rows.last_marks():
            other, last = self._known.items.get(row.press), mark_from(row)
            if other is None or other.id == press or last.at >= reading.at:
                continue
            if other.max_rate is None or other.digits == 0:
                continue
            hours = self._known.running_hours(last.at, reading.at)
            if 0 <= reading.value - last.reading.base <= other.max_rate * hours:
                presses.append(said("{press} (last {count})", press=other.id, count=last.reading.base))
        return presses[:3]

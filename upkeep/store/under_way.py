"""What is under way, read and kept: jobs on lines, locks on presses, shifts handed over."""

from __future__ import annotations

from upkeep.store.rows.definitions import Moment
from upkeep.store.rows.under_way import UNDER_WAY, HandoverRow, UnderWayRow
from upkeep.store.stays import StaysOfItems


class WhatIsUnderWay(StaysOfItems):
    """Reads and replaces the rows of jobs and locks, each named by the number of the entry that began it."""

    def begin(self, row: UnderWayRow) -> None:
        """Adds a job or a lock."""
        self._one(UNDER_WAY.insert, row)

    def drop_begun(self, number: int) -> None:
        """Removes a job or a lock, if it is there."""
        self._one("DELETE FROM under_way WHERE entry = ?", (number,))

    def begun(self, number: int) -> UnderWayRow | None:
        """A job or a lock; None where that entry began none, or is no longer in effect."""
        return self._file.first(UnderWayRow, "SELECT * FROM under_way WHERE entry = ?", (number,))

    def under_way(self) -> list[UnderWayRow]:
        """All jobs and locks that have not ended, the oldest first."""
        return self._file.all(UnderWayRow, "SELECT * FROM under_way WHERE until IS NULL ORDER BY at, entry")

    def locks_hung_since(self, at: str) -> list[UnderWayRow]:
        """All locks that hang, or came off at a moment or after it, the oldest first."""
        return self._file.all(
            UnderWayRow,
            "SELECT * FROM under_way WHERE task IS NULL AND (until IS NULL OR until >= ?) ORDER BY at, entry",
            (at,),
        )

    def jobs_not_ended_by(self, item: str, task: str, at: str) -> list[UnderWayRow]:
        """The jobs on a line that began by a moment and had not ended before it, or have not ended at all."""
        return self._file.all(
            UnderWayRow,
            "SELECT * FROM under_way WHERE item = :item AND task = :task AND until >= :at AND at <= :at UNION ALL "
            "SELECT * FROM under_way WHERE item = :item AND task = :task AND until IS NULL AND at <= :at",
            {"item": item, "task": task, "at": at},
        )

    def sign_off_after(self, item: str, task: str, at: str, entry: int) -> Moment | None:
        """The first sign-off or cancellation of a line after an entry of a moment; None: there is none."""
        return self._file.first(
            Moment,
            "SELECT at, entry FROM sign_offs WHERE item = ? AND task = ? AND (at, entry) > (?, ?) "
            "ORDER BY at, entry LIMIT 1",
            (item, task, at, entry),
        )

    def handovers_of(self, shift: str) -> list[HandoverRow]:
        """Who gave and who accepted a shift, in order."""
        return self._file.all(HandoverRow, "SELECT * FROM handovers WHERE shift = ? ORDER BY at, entry", (shift,))

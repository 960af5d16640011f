"""Who is absent, and the steps of planned weeks, read."""

from __future__ import annotations

from upkeep.store.file import BookFile
from upkeep.store.rows.plans import AbsenceRow, WeekStepRow


class PlanStore:
    """Reads the rows of plans; they come and go with their entries."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def absences(self, first: str, last: str) -> list[AbsenceRow]:
        """The absences that touch some days (ISO, both included), in the order they were told."""
        return self._file.all(
            AbsenceRow, "SELECT * FROM absences WHERE last >= ? AND first <= ? ORDER BY entry", (first, last)
        )

    def steps_of(self, week: str) -> list[WeekStepRow]:
        """The steps of a week, in the order they were written."""
        return self._file.all(WeekStepRow, "SELECT * FROM week_steps WHERE week = ? ORDER BY entry", (week,))

    def frozen_before(self, week: str, limit: int) -> list[WeekStepRow]:
        """The last freezing of each week before one, the latest week first; at most so many weeks."""
        return self._file.all(
            WeekStepRow,
            "SELECT week, step, line, at, max(entry) AS entry FROM week_steps WHERE step = 'frozen' AND week < ? "
            "GROUP BY week ORDER BY week DESC LIMIT ?",
            (week, limit),
        )

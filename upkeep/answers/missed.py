"""The planned shifts and days that have gone by on lines nobody has signed for long."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from upkeep.answers.read_ahead import ReadAhead
from upkeep.due.facts import Setting
from upkeep.due.in_shift import end_of
from upkeep.due.missed import LateLine, missed
from upkeep.keeping.context import Context
from upkeep.store.rows.lines import LineRow


class Missed:
    """Counts them for the lines of one view, at the moment of its context."""

    def __init__(self, context: Context) -> None:
        known = context.known
        self._known, self._at = known, context.moment
        self._counts = ReadAhead(context.rows, known.calendar)
        # Of its own, since a judge would bring all rules, and the board of a command waits for their import.
        self._setting = Setting(self._counts, known.zone, known.calendar, known.workdays, known.names)

    def read(self, late: Iterable[LineRow]) -> None:
        """Reads at once what the lines of a window will be counted by."""
        since: dict[str, datetime] = {}
        for row in late:
            start = end_of(row.occurrence, self._known.calendar) if row.each_shift else None
            if start is not None:
                since[row.item] = min(start, since.get(row.item, start))
        if since:
            self._counts.read(since)

    def after(self, row: LineRow, due_day: date | None) -> int:
        """How many came due after the one that is open, by now; ``due_day`` is the day that was due, if it has one."""
        known, item = self._known, row.item
        line = LateLine(known.tasks[row.task], item, known.since[item], row.occurrence, due_day)
        return missed(line, self._setting, self._at)

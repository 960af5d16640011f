"""Rows of who is absent, and of the steps by which a week was planned."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.store.rows.table import Table


class AbsenceRow(NamedTuple):
    """Somebody does not work from a day to a day.

    Attributes:
        person: Who.
        first: The first day (ISO).
        last: The last day, included.
        at: When it was told.
        entry: The entry that says so.
    """

    person: str
    first: str
    last: str
    at: str
    entry: int


class WeekStepRow(NamedTuple):
    """A step of the plan of a week.

    Attributes:
        week: The ISO week.
        step: "proposed", "changed", "agreed", "frozen" or "decided".
        line: The line that was changed or decided about; None: the whole week.
        at: When.
        entry: The entry that holds it.
    """

    week: str
    step: str
    line: str | None
    at: str
    entry: int


ABSENCES = Table("absences", AbsenceRow, ("entry",), indexes={"absences_ending": "(last)"})
WEEK_STEPS = Table("week_steps", WeekStepRow, ("entry",), indexes={"week_steps_of_week": "(week, entry)"})

"""Frozen views of a week."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from upkeep.due.states import State


@dataclass(frozen=True, slots=True)
class WeekRow:
    """One row of the weekly due list; ``due`` is why in a few words ("192,400 of 200,000 strokes" or a date).

    ``last_done`` is a day, "stated" and a day, or "never"; ``occurrence`` is what a sign-off of the row answers.
    """

    row: int
    line: str
    place: str
    item: str
    task: str
    title: str
    state: State
    due: str
    window: str
    minutes: float
    kit: bool
    energy: str
    statutory: bool
    estimated: bool
    last_done: str
    occurrence: str = ""


@dataclass(frozen=True, slots=True)
class WeekList:
    """The weekly due list of one ISO 8601 week.  ``revision`` is the last entry the list knows, so a sheet can be
    told from its successor; ``stale`` names presses with an older count than the shift before."""

    plant: str
    area: str | None
    week: str
    first_day: date
    last_day: date
    printed_at: str
    printed_by: str
    counts_as_of: str
    revision: int
    rows: tuple[WeekRow, ...]
    not_listed: str

"""The weekly due list as words, before any paper: what stands in the header, in each row and in the legend.

Text and PDF are both made from here, so they always say the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from upkeep.due.states import State
from upkeep.plant.energy import CONTROL, LOCAL_LAW
from upkeep.units.quantities import grouped
from upkeep.views.week import WeekList, WeekRow
from upkeep.wording.text import visible

HEADINGS = (("no.",), ("place item, minutes, kit", "task"), ("why due", "window"), ("hands", "last done"))
"""What the printed part of a row holds, line by line."""

BOXES = ("count", "time", "initials", "result", "remark")
"""What is left to be written in by hand."""

NOTHING_DUE = "Nothing is due this week."

CLOSING = "Write down the time you did the work, not the time you write."

_HANDS = {"unplug": "UNPLUG", "lock": "LOCK", "look": "LOOK"}
_LEGEND = (
    "; ".join(f"{_HANDS[energy]} = {said[:1].lower()}{said[1:].rstrip('.')}" for energy, said in CONTROL.items())
    + f". {LOCAL_LAW} "
    "kit = bring the parts kit; LAW = required by law; est. = strokes partly estimated; OVERDUE = past its time; "
    "HELD = must not run until released; STOP = must not run until done."
)
_URGENT = (State.STOP, State.HELD, State.OVERDUE)


@dataclass(frozen=True, slots=True)
class RowCells:
    """One row.  Each of the three cells is a tuple of texts that begin on a line of their own, as in HEADINGS.

    In an ``urgent`` row the first text of ``due`` is the state, in capitals.
    """

    number: str
    task: tuple[str, ...]
    due: tuple[str, ...]
    hands: tuple[str, ...]
    urgent: bool

    @property
    def cells(self) -> tuple[tuple[str, ...], ...]:
        """The three cells, in order."""
        return self.task, self.due, self.hands


@dataclass(frozen=True, slots=True)
class WeekCells:
    """The whole list.  ``heading`` stands on every page above ``rows``, ``legend`` and CLOSING below them."""

    title: str
    days: str
    heading: tuple[str, ...]
    rows: tuple[RowCells, ...]
    legend: str


def week_cells(week: WeekList) -> WeekCells:
    """What the weekly due list says, in words ready for any paper."""
    area = f"Area: {week.area}" if week.area else "Whole plant"
    return WeekCells(
        title=visible(f"Weekly due list {week.week}"),
        days=f"{_day(week.first_day)} to {_day(week.last_day)}",
        heading=tuple(
            visible(text)
            for text in (
                f"Plant: {week.plant}. {area}. {_work(week)}.",
                f"Printed {week.printed_at} by {week.printed_by or '-'}, revision {grouped(week.revision)}. "
                f"Counts as of (oldest): {week.counts_as_of}.",
            )
        ),
        rows=tuple(_row(row) for row in week.rows),
        legend=visible(f"{_LEGEND} {week.not_listed}"),
    )


def _day(day: date) -> str:
    return f"{day:%a} {day.isoformat()}"


def _work(week: WeekList) -> str:
    """How much work the list is, in working hours; jobs without minutes are counted apart."""
    count, minutes = len(week.rows), round(sum(row.minutes for row in week.rows))
    untimed = sum(1 for row in week.rows if not row.minutes)
    parts = [f"{grouped(count)} job{'' if count == 1 else 's'}"]
    if minutes:
        parts.append(f"{grouped(minutes // 60)} h {minutes % 60} min of work")
    if untimed:
        parts.append(f"{grouped(untimed)} without minutes")
    return ", ".join(parts)


def _row(row: WeekRow) -> RowCells:
    where = row.item if row.place == row.item else f"{row.place} {row.item}"
    return RowCells(
        number=str(row.row),
        task=_visible(", ".join((where, *_marks(row))), row.title or row.task),
        due=_visible(*_due(row), row.window),
        hands=_visible(_HANDS.get(row.energy, row.energy), row.last_done),
        urgent=row.state in _URGENT,
    )


def _visible(*texts: str) -> tuple[str, ...]:
    return tuple(visible(text) for text in texts if text.strip())


def _marks(row: WeekRow) -> Iterator[str]:
    if row.minutes:
        yield f"{row.minutes:g} min"
    if row.kit:
        yield "kit"
    if row.statutory:
        yield "LAW"


def _due(row: WeekRow) -> Iterator[str]:
    """Why the row is due; a state that cannot wait comes first, in capitals."""
    if row.state in _URGENT:
        yield row.state.upper()
    yield f"est. {row.due}" if row.estimated and "est. " not in row.due else row.due

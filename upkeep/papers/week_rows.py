"""The weekly due list as words, before any paper: what stands in the header, in each row and in the legend.

Text and PDF are both made from here, so they always say the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from upkeep.due.states import State
from upkeep.entries.occurrences import event_of
from upkeep.frozen import frozen
from upkeep.papers.board_text import stop_text
from upkeep.plant.energy import CONTROL, LOCAL_LAW
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped
from upkeep.views.week import WeekList, WeekRow
from upkeep.wording.sentences import ENGLISH, text
from upkeep.wording.text import visible
from upkeep.wording.training import training_said

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


@frozen
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


@frozen
class WeekCells:
    """The whole list.  ``heading`` stands on every page above ``rows``, ``legend`` and CLOSING below them."""

    title: str
    days: str
    heading: tuple[str, ...]
    rows: tuple[RowCells, ...]
    legend: str


def week_cells(week: WeekList) -> WeekCells:
    """What the weekly due list says, in words ready for any paper."""
    area, zone = f"Area: {week.area}" if week.area else "Whole plant", Zone(week.zone)
    return WeekCells(
        title=visible(f"Weekly due list {week.week}"),
        days=f"{_day(week.first_day)} to {_day(week.last_day)}",
        heading=tuple(
            visible(heading)
            for heading in (
                f"Plant: {week.plant}. {area}. {_work(week)}.",
                f"{_made(week, zone)} by {week.printed_by or '-'}, "
                f"revision {grouped(week.revision)}. Counts as of (oldest): {_counts(week, zone)}.",
                *_waiting(week),
                *(text(training_said(end), ENGLISH) for end in week.training),
            )
        ),
        rows=tuple(_row(row, zone) for row in week.rows),
        legend=visible(f"{_LEGEND} {not_listed(week)}"),
    )


def _waiting(week: WeekList) -> Iterator[str]:
    """That alarms and questions wait to be seen, and about which items."""
    if week.waiting:
        items = ", ".join(dict.fromkeys(question.about for question in week.waiting))
        yield f"Waiting to be seen by the lead: {len(week.waiting)} ({items}); 'strokebook questions' says what."


def _made(week: WeekList, zone: Zone) -> str:
    """When it was printed, or of which moment it tells; no entry written after that is in it then."""
    if week.known_at is None:
        return f"Printed {zone.minute(week.printed_at)}"
    known = "then" if week.known_at == week.printed_at else f"by {zone.minute(week.known_at)}"
    return f"As it stood {zone.minute(week.printed_at)}, with what was known {known}; printed"


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


def _row(row: WeekRow, zone: Zone) -> RowCells:
    where = row.item if row.place == row.item else f"{row.place} {row.item}"
    return RowCells(
        number=str(row.row),
        task=_visible(", ".join((where, *_marks(row))), row.title or row.task),
        due=_visible(*_due(row, zone), window_text(row, zone)),
        hands=_visible(_HANDS.get(row.energy, row.energy), last_done_text(row, zone)),
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


def _due(row: WeekRow, zone: Zone) -> Iterator[str]:
    """Why the row is due; a state that cannot wait comes first, in capitals."""
    if row.state in _URGENT:
        yield row.state.upper()
    yield due_text(row, zone)


def due_text(row: WeekRow, zone: Zone) -> str:
    """When a row is due, in a few words: a day, a moment, "est. 192,400 of 200,000 strokes", the event that asks for it
    and its moment, or "now"."""
    parts = []
    event = event_of(row.occurrence)
    if event is not None and row.due_at is not None:
        parts.append(f"since the {event} of {zone.minute(row.due_at)}")
    elif row.due_day is not None:
        parts.append(_day(row.due_day))
    elif row.due_at is not None and row.due_strokes is None:
        parts.append(zone.show(row.due_at))
    if row.due_strokes is not None and row.strokes is not None:
        mark = "est. " if row.estimated else ""
        parts.append(f"{mark}{grouped(row.strokes)} of {grouped(row.due_strokes)} strokes")
    waits = stop_text(row, zone)
    return f"{waits}; {'; '.join(parts)} at the latest" if waits else "; ".join(parts) or "now"


def window_text(row: WeekRow, zone: Zone) -> str:
    """Until when a row may wait: the day its item has to stop, or from which it is late, or "by count"."""
    if row.stop_at is not None:
        return f"stop {zone.day(row.stop_at)}"
    if row.overdue_at is not None:
        return f"overdue from {zone.day(row.overdue_at)}"
    return "before it runs" if event_of(row.occurrence) else "by count"


def last_done_text(row: WeekRow, zone: Zone) -> str:
    """The day of the last sign-off; "stated" and a day from before the book; or "never"."""
    if row.last_done_at is not None:
        return f"{zone.day(row.last_done_at)}"
    return f"stated {row.last_stated}" if row.last_stated else "never"


def not_listed(week: WeekList) -> str:
    """What a list leaves out."""
    return f"Work of every shift ({week.left_to_rounds} lines now open) is signed at the presses and not listed."


def _counts(week: WeekList, zone: Zone) -> str:
    if week.counts_as_of is None:
        return "no press has been read"
    return f"{week.oldest_count_press}, {zone.minute(week.counts_as_of)}"

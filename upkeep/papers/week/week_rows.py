"""The weekly due list as words, before any paper: what stands in the header, in each row and in the legend.

Text and PDF are both made from here, so they always say the same.
"""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.due.states import State
from upkeep.entries.occurrences import event_of
from upkeep.frozen import frozen
from upkeep.papers.board_text import stop_said
from upkeep.papers.frame.frame_rows import frame_cells
from upkeep.plant.energy import CONTROL, LOCAL_LAW
from upkeep.progress import Watch, nobody, watched
from upkeep.said import (
    Capitals,
    DayOf,
    Figure,
    Join,
    Moment,
    Said,
    Value,
    Weekday,
    in_turn,
    listed,
    minute,
    said,
    said_as,
    said_many,
    term,
)
from upkeep.units.instants import Zone
from upkeep.views.week import WeekList, WeekRow
from upkeep.wording.naming import names_said
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import visible
from upkeep.wording.training import training_said

_HEADINGS = (
    (said("no."),),
    (said("place item, minutes, kit"), said("task")),
    (said("why due"), said("window")),
    (said_as("column", "hands"), said("last done")),
)
_BOXES = (
    said_as("box", "count"),
    said_as("box", "time"),
    said_as("box", "initials"),
    said_as("box", "result"),
    said_as("box", "remark"),
)
_NOTHING_DUE = said("Nothing is due this week.")
_CLOSING = said("Write down the time you did the work, not the time you write.")
_LEGEND = said(
    "kit = bring the parts kit; LAW = required by law; est. = strokes partly estimated; OVERDUE = past its time; "
    "HELD = must not run until released; STOP = must not run until done."
)
_URGENT = (State.STOP, State.HELD, State.OVERDUE)


@frozen
class RowCells:
    """One row.  Each of the three cells is a tuple of texts that begin on a line of their own, as in the headings.

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
    """The whole list in the words of a reader.

    ``heading`` stands on every page above ``rows``, beside the code of the ``seal``; ``legend`` and ``closing`` below
    them, ``nothing_due`` in place of them where there are none.  ``headings`` is what the printed part of a row holds,
    line by line, ``boxes`` what is left to be written in by hand.
    """

    title: str
    days: str
    heading: tuple[str, ...]
    seal: str
    headings: tuple[tuple[str, ...], ...]
    boxes: tuple[str, ...]
    rows: tuple[RowCells, ...]
    nothing_due: str
    legend: str
    closing: str


def week_cells(week: WeekList, reader: Reader, watch: Watch = nobody) -> WeekCells:
    """What the weekly due list says, in words ready for any paper; ``watch`` is told how many rows are worded."""
    zone, frame = Zone(week.zone), frame_cells(week.printed, reader, _about(week))
    return WeekCells(
        title=visible(text(said("Weekly due list {week}", week=week.week), reader)),
        days=text(said("{first} to {last}", first=Weekday(week.first_day), last=Weekday(week.last_day)), reader),
        heading=(*frame.lines, *(visible(text(sentence, reader)) for sentence in _heading(week))),
        seal=frame.seal,
        headings=tuple(tuple(text(line, reader) for line in cell) for cell in _HEADINGS),
        boxes=tuple(text(box, reader) for box in _BOXES),
        rows=tuple(_row(row, zone, reader) for row in watched(week.rows, "worded", len(week.rows), watch)),
        nothing_due=text(_NOTHING_DUE, reader),
        legend=visible(
            text(
                in_turn(_hands_legend(reader), LOCAL_LAW, _LEGEND, not_listed(week), names_said(week.signed_with)),
                reader,
            )
        ),
        closing=text(_CLOSING, reader),
    )


def _about(week: WeekList) -> Said:
    area = said("Area: {area}", area=week.area) if week.area else said("Whole plant")
    return said("{area}. {work}.", area=area, work=_work(week))


def _heading(week: WeekList) -> Iterator[Said]:
    if week.waiting:
        yield said(
            "Waiting to be seen by the lead: {n} ({items}); 'strokebook questions' says what.",
            n=len(week.waiting),
            items=listed(dict.fromkeys(question.about for question in week.waiting)),
        )
    yield from map(training_said, week.training)


def _hands_legend(reader: Reader) -> Said:
    meanings = (
        said("{word} = {meaning}", word=_hands(energy), meaning=_inside(text(control, reader)))
        for energy, control in CONTROL.items()
    )
    return said("{meanings}.", meanings=listed(meanings, Join.SEMICOLON))


def _inside(sentence: str) -> str:
    return f"{sentence[:1].lower()}{sentence[1:].rstrip('.')}"


def _hands(energy: str) -> Value:
    return Capitals(term(energy, "energy")) if energy in CONTROL else energy


def _work(week: WeekList) -> Said:
    """How much work the list is, in working hours; jobs without minutes are counted apart."""
    minutes = round(sum(row.minutes for row in week.rows))
    untimed = sum(1 for row in week.rows if not row.minutes)
    parts = [said_many("{n} job", "{n} jobs", n=len(week.rows))]
    if minutes:
        parts.append(said("{hours} h {minutes} min of work", hours=minutes // 60, minutes=minutes % 60))
    if untimed:
        parts.append(said("{n} without minutes", n=untimed))
    return said("{parts}", parts=listed(parts))


def _row(row: WeekRow, zone: Zone, reader: Reader) -> RowCells:
    where = row.item if row.place == row.item else f"{row.place} {row.item}"
    due: list[Value] = [Capitals(term(row.state, "state"))] if row.state in _URGENT else []
    return RowCells(
        number=str(row.row),
        task=_shown(reader, listed((where, *_marks(row))), row.title or row.task),
        due=_shown(reader, *due, due_said(row, zone), window_said(row, zone)),
        hands=_shown(reader, _hands(row.energy), last_done_said(row, zone)),
        urgent=row.state in _URGENT,
    )


def _shown(reader: Reader, *values: Value) -> tuple[str, ...]:
    texts = (text(said("{value}", value=value), reader) for value in values)
    return tuple(visible(shown) for shown in texts if shown.strip())


def _marks(row: WeekRow) -> Iterator[Said]:
    if row.minutes:
        yield said("{minutes} min", minutes=Figure(row.minutes, "g"))
    if row.kit:
        yield said("kit")
    if row.statutory:
        yield said("LAW")
    if row.owner is not None:
        yield said("of {owner}", owner=row.owner)


def due_said(row: WeekRow, zone: Zone) -> Said:
    """When a row is due, in a few words: a day, a moment, "est. 192,400 of 200,000 strokes", the event that asks for it
    and its moment, or "now"."""
    parts = []
    event = event_of(row.occurrence)
    if event is not None and row.due_at is not None:
        parts.append(said("since the {event} of {at}", event=term(event, "event"), at=minute(row.due_at, zone)))
    elif row.due_day is not None:
        parts.append(said("{day}", day=Weekday(row.due_day)))
    elif row.due_at is not None and row.due_strokes is None:
        parts.append(said("{at}", at=Moment(row.due_at, zone)))
    if row.due_strokes is not None and row.strokes is not None:
        done = said("{strokes} of {due} strokes", strokes=row.strokes, due=row.due_strokes)
        parts.append(said("est. {strokes}", strokes=done) if row.estimated else done)
    waits, when = stop_said(row, zone), listed(parts, Join.SEMICOLON)
    if waits:
        return said("{waits}; {when} at the latest", waits=waits, when=when)
    return said("{when}", when=when) if parts else said("now")


def window_said(row: WeekRow, zone: Zone) -> Said:
    """Until when a row may wait: the day its item has to stop, or from which it is late, or "by count"."""
    if row.stop_at is not None:
        return said("stop {day}", day=DayOf(row.stop_at, zone))
    if row.overdue_at is not None:
        return said("overdue from {day}", day=DayOf(row.overdue_at, zone))
    return said("before it runs") if event_of(row.occurrence) else said("by count")


def last_done_said(row: WeekRow, zone: Zone) -> Said:
    """The day of the last sign-off; "stated" and a day from before the book; or "never"."""
    if row.last_done_at is not None:
        return said("{day}", day=DayOf(row.last_done_at, zone))
    return said("stated {day}", day=row.last_stated) if row.last_stated else said("never")


def not_listed(week: WeekList) -> Said:
    """What a list leaves out."""
    return said(
        "Work of every shift ({n} lines now open) is signed at the presses and not listed.", n=week.left_to_rounds
    )

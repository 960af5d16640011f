"""What a row of the weekly due list says in a few words: when it is due, until when it may wait, what is special."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from upkeep.entries.occurrences import event_of
from upkeep.frozen import frozen
from upkeep.papers.board_text import stop_said
from upkeep.plant.energy import CONTROL
from upkeep.said import (
    Capitals,
    DayName,
    DayOf,
    Figure,
    Join,
    Moment,
    Numeral,
    Said,
    Value,
    Weekday,
    listed,
    minute,
    said,
    said_many,
    term,
)
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes
from upkeep.views.week import Stands, WeekRow
from upkeep.wording.occurrences import occurrence_said
from upkeep.wording.planned.weeks import mark_said, shift_heading, why_said
from upkeep.wording.shelf import missing_said


@frozen
class Near:
    """The days that a paper writes as ``Mon 2``: its head says of which week it is."""

    first: date
    last: date

    @classmethod
    def around(cls, first: date, last: date) -> Near:
        """Those of a week, of the one before and the one after."""
        return cls(first - timedelta(days=7), last + timedelta(days=7))

    def day(self, day: date) -> Said:
        """A day, short where it is near."""
        if self.first <= day <= self.last:
            return said("{weekday} {day}", weekday=DayName(day), day=Numeral(day.day))
        return said("{day}", day=day)


def due_said(row: WeekRow, zone: Zone, near: Near | None = None) -> Said:
    """When a row is due, in a few words: a day, a moment, "est. 192,400 of 200,000 strokes", the event that asks for it
    and its moment, or "now"."""
    parts = []
    event = event_of(row.occurrence)
    if event is not None and row.due_at is not None:
        parts.append(said("since the {event} of {at}", event=term(event, "event"), at=minute(row.due_at, zone)))
    elif row.due_day is not None:
        parts.append(near.day(row.due_day) if near else said("{day}", day=Weekday(row.due_day)))
    elif row.due_at is not None and row.due_strokes is None:
        parts.append(said("{at}", at=Moment(row.due_at, zone)))
    if row.due_strokes is not None and row.strokes is not None:
        done = said("{strokes} of {due} strokes", strokes=row.strokes, due=row.due_strokes)
        parts.append(said("est. {strokes}", strokes=done) if row.estimated else done)
    waits, when = stop_said(row, zone), listed(parts, Join.SEMICOLON)
    if waits:
        return said("{waits}; {when} at the latest", waits=waits, when=when)
    return said("{when}", when=when) if parts else said("now")


def window_said(row: WeekRow, zone: Zone, near: Near | None = None) -> Said:
    """Until when a row may wait: the day its item has to stop, or from which it is late, or "by count"."""
    if row.stop_at is not None:
        return said("stop {day}", day=near.day(zone.day(row.stop_at)) if near else DayOf(row.stop_at, zone))
    if row.overdue_at is not None:
        late = near.day(zone.day(row.overdue_at)) if near else DayOf(row.overdue_at, zone)
        return said("late from {day}", day=late) if near else said("overdue from {day}", day=late)
    return said("before it runs") if event_of(row.occurrence) else said("by count")


def last_done_said(row: WeekRow, zone: Zone, near: Near | None = None) -> Said:
    """The day of the last sign-off; "stated" and a day from before the book; or "never"."""
    if row.last_done_at is not None:
        return near.day(zone.day(row.last_done_at)) if near else said("{day}", day=DayOf(row.last_done_at, zone))
    return said("stated {day}", day=row.last_stated) if row.last_stated else said("never")


def facts_said(row: WeekRow, zone: Zone, near: Near) -> Iterator[Said]:
    """What a row says behind its task, in order."""
    yield from _planned(row)
    yield due_said(row, zone, near)
    yield window_said(row, zone, near)
    yield said("{hands}", hands=hands_said(row.energy))
    if row.minutes:
        yield said("{minutes} min", minutes=Figure(row.minutes, "g"))
    if row.kit:
        yield said("kit")
    if row.statutory:
        yield said("LAW")
    if row.owner is not None:
        yield said("of {owner}", owner=row.owner)
    yield said("last {day}", day=last_done_said(row, zone, near))
    yield from _special(row)


def _planned(row: WeekRow) -> Iterator[Said]:
    """What the plan of the week says of a row: by whom and when, how often it was carried over, what was changed since
    the list was frozen."""
    if row.mark:
        yield mark_said(row.mark)
    if row.carried:
        yield said_many("carried over {n} time", "carried over {n} times", n=row.carried)
    if row.shift is not None and row.person is not None:
        yield said("{shift} {name}", shift=shift_heading(row.shift), name=row.person)
    elif row.not_placed is not None:
        yield why_said(row.not_placed)


def hands_said(energy: str) -> Value:
    """Where the hands are in the work, in capitals, as the legend explains it."""
    return Capitals(term(energy, "energy")) if energy in CONTROL else energy


def _special(row: WeekRow) -> Iterator[Said]:
    if row.stands is Stands.WAITS:
        yield said("begun and left: {why}", why=row.waits_for)
    if row.short:
        yield missing_said(row.short)
    if row.deferred is not None:
        yield said_many(
            "deferred to {to} by {by}, {n} time",
            "deferred to {to} by {by}, {n} times",
            n=row.deferred.times, to=occurrence_said(row.deferred.to), by=row.deferred.by,
        )  # fmt: skip
    if row.permit is not None:
        yield said("permit #{entry}: {strokes} left", entry=Numeral(row.permit.entry),
                   strokes=in_strokes(row.permit.left))  # fmt: skip

"""What counts tell of some days: strokes, and how far they can be relied on."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from itertools import pairwise

from upkeep.answers.read_ahead import ReadAhead
from upkeep.counting.strokes import counted_between, strokes_between
from upkeep.due.compliance import Share
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import Known
from upkeep.plant.model import Kind
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.units.shifts import ShiftCalendar
from upkeep.views.overview.indicators import DataQuality

AN_HOUR = timedelta(hours=1)
"""By how much longer than a shift a count may come after the one before.  Plant default, no source."""

_ALL_DAY = timedelta(days=1)


def presses_of(known: Known, area: str | None) -> list[str]:
    """The presses of the plant or of an area, by where they stand."""
    return [
        item.id
        for item in known.items.values()
        if item.kind is Kind.PRESS and (area is None or area_of(known, item.id) == area)
    ]


def area_of(known: Known, press: str) -> str:
    """The area in which a press stands, as its definition says; "-": nobody said."""
    place = known.places.get(known.items[press].place or "")
    return place.area if place else "-"


def strokes_of(
    known: Known, counts: ReadAhead, item: str | None, area: str | None, start: datetime, end: datetime
) -> int:
    """The strokes over [start, end): of an item, or of all presses (of an area)."""
    counted = [item] if item is not None else presses_of(known, area)
    return sum(strokes_between(counts, one, start, end).best for one in counted)


def data_quality(context: Context, counts: ReadAhead, area: str | None, start: datetime, end: datetime) -> DataQuality:
    """How far the counts of [start, end) can be relied on; modules count where the whole plant is looked at."""
    presses = presses_of(context.known, area)
    pressed = sum(counted_between(counts, press, start, end).best for press in presses)
    modules = [item.id for item in context.known.items.values() if item.kind is Kind.MODULE and area is None]
    bands = [counted_between(counts, module, start, end) for module in modules]
    done = sum(band.best for band in bands)
    return DataQuality(
        in_time=_in_time(context, presses, start, end),
        in_doubt=sum(band.high - band.low for band in bands),
        module_strokes=done,
        unattributed=max(0, pressed - done) if bands else 0,
        press_strokes=pressed,
    )


def _in_time(context: Context, presses: Iterable[str], start: datetime, end: datetime) -> Share:
    """The counts that came no later than a shift of working time after the count before, of all that told strokes."""
    calendar = context.known.calendar
    most, of_all, in_time = _longest(context) + AN_HOUR, 0, 0
    for press in presses:
        rows = context.rows.marks_since(press, utc_text(start))
        for before, row in pairwise(rows):
            at = from_utc_text(row.at)
            if start <= at < end and row.total > before.total:
                of_all += 1
                in_time += _worked(calendar, from_utc_text(before.at), at, most) <= most
    return Share(in_time, of_all)


def _worked(calendar: ShiftCalendar, since: datetime, until: datetime, most: timedelta) -> timedelta:
    """How long the plant worked between two counts; by the clock where that is short enough already."""
    passed = until - since
    return passed if passed <= most else calendar.worked_between(since, until)


def _longest(context: Context) -> timedelta:
    """The longest shift of the plant; a day where it has none."""
    known = context.known
    day = known.zone.start_of(known.zone.day(context.moment))
    spans = known.calendar.between(day - timedelta(days=14), day)
    return max((span.end - span.start for span in spans), default=_ALL_DAY)

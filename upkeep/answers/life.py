"""The strokes of an item, and where it hung."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.answers.attribution import unattributed
from upkeep.counting.marks import Band
from upkeep.counting.strokes import BEGINNING, strokes_between, strokes_since_new
from upkeep.keeping.context import Context
from upkeep.keeping.lookups import unknown_since
from upkeep.plant.model import Kind
from upkeep.units.instants import from_utc_text
from upkeep.views.items import LastRework, LifeNumbers

if TYPE_CHECKING:
    from upkeep.entries.shelf.outside import Measured
    from upkeep.views.board import LineDetail

_SHOWN = 60
"""Entries that are shown beside a line."""


def detail(context: Context, line: str) -> LineDetail:
    """One line with the life of its item and its history; raises :class:`NotFound` with near misses."""
    from upkeep.answers.board import Boards
    from upkeep.answers.history import history
    from upkeep.views.board import LineDetail

    shown = Boards(context).line(line)
    return LineDetail(shown, life(context, shown.item), history(context, shown.item, shown.task, _SHOWN))


def life(context: Context, item: str) -> LifeNumbers:
    """The strokes of an item up to the moment; raises :class:`NotFound`."""
    known, rows, at, counts = context.known.item(item), context.rows, context.moment, context.whereabouts.counts
    new = strokes_since_new(counts, item, at)
    graded, rework = rows.last_graded(item), rows.last_rework(item)
    inspected = from_utc_text(graded.at) if graded else None
    reworked = from_utc_text(rework.at) if rework else None
    since_rework = strokes_between(counts, item, reworked, at) if reworked else None
    allowed = rework.granted if rework else known.life
    used = since_rework or new
    left = None if allowed is None else allowed - used.high
    unknown = unknown_since(rows, item) is not None
    press = context.whereabouts.press_of(item)
    return LifeNumbers(
        item=item,
        since_new=_three(new),
        since_rework=_three(since_rework) if since_rework else None,
        since_inspection=_three(strokes_between(counts, item, inspected, at)) if inspected else None,
        reworks=rework.times if rework else 0,
        life_left=0 if unknown else left,
        life_unknown=unknown,
        estimated=new.estimated,
        inspected_at=inspected,
        counted_until=counts.last_read(press) if press else None,
        unattributed=unattributed(context, item, at) if known.kind is Kind.PRESS else None,
        doubts=counts.doubts(item, BEGINNING, at) if new.estimated else (),
        before_book=before_the_book(context, item),
        last_rework=_last_rework(context, rework.entry) if rework else None,
    )


def _last_rework(context: Context, number: int) -> LastRework | None:
    from upkeep.entries.lives import Rework  # few items were reworked
    from upkeep.quality.settings import unit_of_point

    recorded = context.entries.by_number(number)
    if recorded is None or not isinstance(recorded.entry, Rework):
        return None
    told, crimps = recorded.entry, tuple(context.known.crimps.values())

    def with_units(points: Measured) -> tuple[tuple[str, tuple[float, ...], str], ...]:
        return tuple((point, values, unit_of_point(point, crimps)) for point, values in points)

    return LastRework(
        at=told.at,
        entry=number,
        granted=told.granted,
        granted_by=context.names.of(told.granted_by or told.by, number),
        before=with_units(told.before),
        after=with_units(told.after),
    )


def before_the_book(context: Context, item: str) -> int:
    """The strokes an item is told to have done before it came into this book."""
    numbers = {row.entry for row in context.rows.uncounted_from(item, "")}
    if not numbers:
        return 0
    from upkeep.entries.counting import BEFORE_THE_BOOK, UncountedStrokes  # few items have any

    entries = (recorded.entry for number in sorted(numbers) if (recorded := context.entries.by_number(number)))
    return sum(e.strokes for e in entries if isinstance(e, UncountedStrokes) and e.way in BEFORE_THE_BOOK)


def press_at(context: Context, item: str, at: datetime) -> str | None:
    """The press on which an item hung at a moment; a press hangs on itself; None: it hung on none."""
    if context.known.item(item).kind is Kind.PRESS:
        return item
    stay = context.whereabouts.counts.stay_from(item, at)
    return stay.press if stay is not None and (stay.end is None or at < stay.end) else None


def _three(band: Band) -> tuple[int, int, int]:
    return band.low, band.best, band.high

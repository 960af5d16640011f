"""What a plant is led by beside what was on time: what is late, what breaks and how long, how good counts are."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from functools import cached_property

from upkeep.answers.figures.areas import Areas
from upkeep.answers.figures.counts_told import data_quality, strokes_of
from upkeep.answers.figures.faults_between import FaultsBetween
from upkeep.answers.figures.overdue import overdue
from upkeep.answers.figures.signed import as_scheduled, minutes
from upkeep.answers.read_ahead import ReadAhead
from upkeep.due.compliance import Share
from upkeep.frozen import frozen
from upkeep.keeping.context import Context
from upkeep.keeping.in_force import DefinedThen
from upkeep.units.instants import utc_text
from upkeep.views.overview.indicators import Between, Indicators, Minutes


@frozen
class Span:
    """Some days as [``start``, ``end``); the end is no later than the moment from which they are looked at."""

    first: date
    last: date
    start: datetime
    end: datetime


class Figured:
    """The figures of a plant, of one of its areas or of one item; what many spans ask for is looked up once."""

    def __init__(self, context: Context, area: str | None = None, item: str | None = None) -> None:
        """Raises :class:`NotFound` for an area or item the plant does not have."""
        self.context, self.area, self.item = context, area, item
        if area is not None:
            context.known.area(area)
        if item is not None:
            context.known.item(item)
        self.definitions = DefinedThen(context.entries.definitions())
        self._areas = Areas(context, self.definitions)
        self.faults = FaultsBetween(context, item, self.is_within)

    @cached_property
    def counts(self) -> ReadAhead:
        """What presses counted, read once for all spans."""
        return ReadAhead(self.context.rows, self.context.known.calendar)

    def span(self, first: date, last: date) -> Span:
        """Some days, both included, as moments."""
        zone = self.context.known.zone
        end = min(zone.start_of(last + timedelta(days=1)), self.context.moment)
        return Span(first, last, zone.start_of(first), end)

    def is_within(self, item: str, moment: datetime) -> bool:
        """Whether an item belongs to what is looked at: by where it hung at a moment."""
        return self.area is None or self._areas.of(item, moment) == self.area

    def strokes(self, span: Span) -> int:
        """The strokes done in a span: by the item, or by the presses."""
        return strokes_of(self.context.known, self.counts, self.item, self.area, span.start, span.end)

    def between(self, span: Span, *, stops: bool = False) -> Between:
        """The mean strokes between two faults of a span, or between two that stopped something."""
        return self.faults.between(self.strokes(span), span.start, span.end, stops=stops)

    def all(self, span: Span) -> Indicators:
        """All figures of a span."""
        context = self.context
        return Indicators(
            at=context.moment,
            area=self.area,
            item=self.item,
            first_day=span.first,
            last_day=span.last,
            overdue=overdue(context, self.area, self.item),
            as_scheduled=as_scheduled(context, span.first, span.last, self.item, self.area),
            minutes=self.minutes(span),
            between=self.between(span),
            between_stops=self.between(span, stops=True),
            restored=self.faults.restored(span.start, span.end),
            findings=self._findings(span),
            quality=None if self.item else data_quality(context, self.counts, self.area, span.start, span.end),
        )  # fmt: skip

    def minutes(self, span: Span) -> Minutes:
        """The minutes of work signed and of repairs in a span."""
        repairs = self.faults.repair_minutes(span.start, span.end)
        return minutes(self.context, self.definitions, span.start, span.end, self.item, self.area, repairs)

    def _findings(self, span: Span) -> Share:
        rows = [
            row
            for row in self.context.tallied.inspected(utc_text(span.start), utc_text(span.end))
            if self.item in (None, row.item) and self.is_within(row.item, span.end)
        ]
        return Share(sum(row.found for row in rows), sum(row.inspected for row in rows))

"""Deviation permits and concessions: who allowed what, how much of it was used, how it ended."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from itertools import pairwise

from upkeep.counting.strokes import reached, strokes_between
from upkeep.entries.suspect import Disposition, Permit
from upkeep.keeping.context import Context
from upkeep.store.evidence.asked import Asked
from upkeep.store.rows.findings import PermitRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.views.evidence.permits import Concession, PermitEnd, PermitLine, Permits

_LEFT_AS_THEY_ARE = ("released",)
"""What becomes of suspect product that is let through: with leave, and not because it was found good piece by piece."""


class PermitViews:
    """The permits of one book as it stands (or stood) at a moment."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._asked, self._counts = Asked(context.file), context.whereabouts.counts

    def of(self, item: str) -> tuple[PermitLine, ...]:
        """The deviation permits of an item, oldest first; raises :class:`NotFound`."""
        self._known.item(item)
        rows = [*self._asked.permits(item)]
        return tuple(self._line(row, later) for row, later in pairwise([*rows, None]) if row is not None)

    def all(self, first: datetime | None = None, *, item: str | None = None, area: str | None = None) -> Permits:
        """Every permit and concession from a moment on (None: ever), of an item or an area; raises :class:`NotFound`
        for one that is none."""
        if area is not None:
            self._known.area(area)
        items = [item] if item is not None else sorted({row.item for row in self._asked.permits()})
        permits = [line for key in items for line in self.of(key)]
        permits = [line for line in permits if (first is None or line.at >= first) and area in (None, line.area)]
        given = [one for one in self._concessions(first, item) if area in (None, one.area)]
        return Permits(first, self._at, tuple(sorted(permits, key=lambda line: (line.at, line.entry))), tuple(given))

    def _line(self, row: PermitRow, later: PermitRow | None) -> PermitLine:
        recorded = self._context.entries.by_number(row.entry)
        assert recorded is not None
        assert isinstance(recorded.entry, Permit)
        since = from_utc_text(row.at)
        ends, ended_at = self._end(row, since, later)
        done = strokes_between(self._counts, row.item, since, ended_at or self._at).high
        if done >= row.strokes and ends is not PermitEnd.USED_UP:  # at most, for that is what stops it
            ends, ended_at = PermitEnd.USED_UP, None
        return PermitLine(
            entry=row.entry,
            item=row.item,
            area=self._area(row.item),
            at=since,
            by=self._context.names.of(recorded.entry.by, row.entry),
            proof=recorded.entry.origin.proof,
            strokes=row.strokes,
            used=done,
            because=recorded.entry.because,
            ends=ends,
            ended_at=ended_at,
        )

    def _end(self, row: PermitRow, since: datetime, later: PermitRow | None) -> tuple[PermitEnd, datetime | None]:
        """How a permit ended, by what came first: released, replaced by another permit, or all of it used."""
        release = self._context.measurements.released_after(row.item, row.at, row.entry)
        ends = [(release.at, PermitEnd.RELEASED)] if release and release.at <= utc_text(self._at) else []
        ends += [(later.at, PermitEnd.REPLACED)] if later is not None else []
        used = reached(self._counts, row.item, since, row.strokes)
        ends += [(utc_text(used), PermitEnd.USED_UP)] if used is not None and used <= self._at else []
        at, how = min(ends, default=(None, PermitEnd.RUNNING))
        return how, from_utc_text(at) if at is not None else None

    def _concessions(self, first: datetime | None, item: str | None) -> Iterator[Concession]:
        start = utc_text(first) if first is not None else ""
        for recorded in self._context.entries.of_kind(Disposition, start, utc_text(NEVER)):
            told = recorded.entry
            assert isinstance(told, Disposition)
            filed = self._context.entries.filing(recorded.id)
            key = filed.item if filed is not None and filed.item is not None else "-"
            let = told.how in _LEFT_AS_THEY_ARE or any(how in _LEFT_AS_THEY_ARE for how, _ in told.pieces)
            if let and item in (None, key):
                yield Concession(
                    entry=recorded.id,
                    list=told.list,
                    item=key,
                    area=self._area(key),
                    press=told.press,
                    at=told.at,
                    by=self._context.names.of(told.by, recorded.id),
                    proof=told.origin.proof,
                    how=told.how,
                    strokes=told.strokes,
                    pieces=told.pieces,
                    because=told.because,
                )

    def _area(self, item: str) -> str:
        known = self._known.items.get(item)
        return self._context.whereabouts.area_and_route(self._context.whereabouts.place_of(known))[0] if known else "-"

"""Which shift is handed over, and whether it was accepted."""

from __future__ import annotations

from datetime import datetime, timedelta

from upkeep.keeping.context import Context
from upkeep.units.shifts import ShiftCalendar, ShiftSpan

LAST_HOUR = timedelta(hours=1)
"""How long before its end a running shift is the one that is handed over.  Plant default, no source."""


def last_shift(calendar: ShiftCalendar, at: datetime) -> ShiftSpan | None:
    """The shift that is handed over at a moment: the running one in its last hour, else the one that ended last."""
    running = calendar.at(at)
    if running is not None and at >= running.end - LAST_HOUR:
        return running
    return calendar.before(at)


def not_accepted(context: Context) -> str | None:
    """The shift that ended last, where the plant hands over and nobody has accepted it; None: somebody has."""
    ended = context.known.calendar.before(context.moment) if context.known.facts.hands_over else None
    begun = context.entries.by_number(0)
    if ended is None or begun is None or ended.start < begun.entry.at:
        return None
    rows = context.rows.handovers_of(ended.key)
    return None if any(row.side == "accepted" for row in rows) else ended.key

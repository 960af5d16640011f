"""Rest: how an item that was put away, or only lay off every press, stands to the work that storage asks for."""

from __future__ import annotations

from datetime import datetime

from upkeep.counting.strokes import Counts, reached, strokes_between


def ran_since(counts: Counts, item: str, put_away: datetime, until: datetime) -> datetime | None:
    """When an item ran although it was put away, by a reading up to ``until``; None: it need not have.

    Strokes between two readings may all lie before it was put away: only what it did at the least counts.
    """
    if strokes_between(counts, item, put_away, until).low <= 0:
        return None
    return reached(counts, item, put_away, 1)

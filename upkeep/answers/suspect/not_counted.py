"""What of a suspect window nobody has counted yet: its strokes are not nothing, they are not known."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime

from upkeep.counting.strokes import Counts, Stay
from upkeep.views.suspect import NotCounted


def not_counted(counts: Counts, stays: Iterable[Stay], begin: datetime, end: datetime) -> Iterator[NotCounted]:
    """The presses of a window over [begin, end) that were not read since the item ran on them in it."""
    for stay in stays:
        since, until = max(stay.start, begin), min(stay.end or end, end)
        read = counts.last_read(stay.press)
        if since < until and (read is None or read < until):
            yield NotCounted(stay.press, read, since)

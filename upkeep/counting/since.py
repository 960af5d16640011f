"""The strokes of an item since one moment, worked out once for all that a line asks of them."""

from __future__ import annotations

from datetime import datetime

from upkeep.counting.marks import Band, StrokeDoubt
from upkeep.counting.strokes import Counts, possibly_reached, reached, strokes_between, strokes_since_new
from upkeep.units.instants import NEVER


class StrokesSince:
    """What an item has done from ``start`` on, to this day, and when it reached a number of strokes from there.

    ``done`` are all of them.  A number that is not done yet is answered by these, without a search for its moment.
    """

    def __init__(self, counts: Counts, item: str, start: datetime) -> None:
        self._counts, self._item, self._start = counts, item, start
        self.done: Band = strokes_between(counts, item, start, NEVER)

    @property
    def new_at_start(self) -> int:
        """The strokes since new at the start (best)."""
        return strokes_since_new(self._counts, self._item, self._start).best

    @property
    def doubts(self) -> tuple[StrokeDoubt, ...] | None:
        """Why strokes from the start on had to be guessed; None where they had not, or only counts were not taken."""
        return (self._counts.doubts(self._item, self._start) or None) if self.done.estimated else None

    def reached(self, strokes: int) -> datetime | None:
        """The moment from which so many were done (best); None: they are not."""
        return reached(self._counts, self._item, self._start, strokes) if self.done.best >= strokes else None

    def possibly_reached(self, strokes: int) -> datetime | None:
        """The moment from which so many may have been done (high); None: they cannot have been."""
        if not self.done.estimated:
            return self.reached(strokes)
        if self.done.high < strokes:
            return None
        return possibly_reached(self._counts, self._item, self._start, strokes)

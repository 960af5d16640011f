"""What a line was judged by at a moment, with all counts there are: the rows behind figures, gauges and holds that
ended."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from upkeep.keeping.definitions import Known
from upkeep.keeping.standings import standings_anew
from upkeep.store.entries import EntryStore
from upkeep.store.file import BookFile
from upkeep.store.projections import Projections
from upkeep.store.rows.signatures import StandingRow
from upkeep.store.then import LAST, FileThen
from upkeep.units.instants import utc_text


class RowsThen(Projections):
    """The rows of a file, present or past, before an entry of a moment (:class:`upkeep.store.then.FileThen`)."""

    def __init__(
        self,
        file: BookFile,
        moment: datetime,
        entry: int = LAST,
        unknown: Collection[str] = frozenset(),
        known: Known | None = None,
    ) -> None:
        self._known = known
        super().__init__(FileThen(file, utc_text(moment), entry, unknown))

    def standings_of(self, item: str) -> list[StandingRow]:
        """The hold and the pause on an item then, worked out from what had been told of it."""
        return standings_anew(self, EntryStore(self.file), [item], self._known)

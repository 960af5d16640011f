"""Where an order, a lot, a batch, a gauge or a person occurs: items with moments or spans, as a trace begins."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.store.file import BookFile
from upkeep.store.rows.counts import QuantityRow
from upkeep.store.rows.definitions import IN_EFFECT


class Seen(NamedTuple):
    """An item over [since, until]: both alike for a moment.  ``item`` None: what hung on ``press`` then."""

    item: str | None
    press: str | None
    since: str
    until: str


class TracedRows:
    """Reads them from one file."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def lot(self, what: str, name: str) -> list[Seen]:
        """The items whose checks name an order, a reel or a wire lot (``what``)."""
        return self._file.all(
            Seen, "SELECT item, NULL, at, at FROM lots WHERE what = ? AND lot = ? ORDER BY at", (what, name)
        )

    def booked(self, order: str) -> list[Seen]:
        """Where pieces were booked for an order."""
        return self._file.all(
            Seen, "SELECT item, press, since, until FROM quantities WHERE ordered = ? ORDER BY since", (order,)
        )

    def planned(self, order: str) -> bool:
        """Whether an order was ever planned."""
        return self._file.row("SELECT 1 FROM orders WHERE ordered = ? LIMIT 1", (order,)) is not None

    def batch(self, batch: str) -> list[str]:
        """The pieces of a batch that have ids, by id."""
        return self._file.values(
            "SELECT DISTINCT item FROM shelf_moves WHERE batch = ? AND item IS NOT NULL ORDER BY 1", (batch,)
        )

    def has_batch(self, batch: str) -> bool:
        """Whether spares of a batch ever came in."""
        return self._file.row("SELECT 1 FROM shelf_moves WHERE batch = ? LIMIT 1", (batch,)) is not None

    def gauge(self, gauge: str) -> list[Seen]:
        """What was measured with a gauge."""
        return self._file.all(
            Seen,
            "SELECT DISTINCT item, NULL, at, at FROM measured INDEXED BY measured_by_gauge WHERE gauge = ? ORDER BY at",
            (gauge,),
        )

    def person(self, by: str) -> list[Seen]:
        """What somebody checked, fitted, or booked pieces for."""
        return self._file.all(
            Seen,
            f"SELECT item, NULL, at, at FROM entries WHERE by = :by AND kind IN ('check', 'fit') AND {IN_EFFECT} "
            "UNION ALL SELECT q.item, q.press, q.since, q.until FROM quantities q JOIN entries e ON e.id = q.entry "
            "WHERE e.by = :by ORDER BY 3",
            {"by": by},
        )

    def fitted(self, item: str) -> list[Seen]:
        """What an item sat in, and when."""
        return self._file.all(
            Seen,
            "SELECT inside, NULL, start, ifnull(until, '~') FROM fittings WHERE item = ? ORDER BY start",
            (item,),
        )

    def on_press(self, press: str, since: str = "", until: str = "~") -> list[Seen]:
        """What hung on a press over [since, until], each with its stay."""
        return self._file.all(
            Seen,
            "SELECT item, press, start, ifnull(until, '~') FROM stays WHERE press = ? AND item <> press "
            "AND start <= ? AND ifnull(until, '~') >= ? ORDER BY start",
            (press, until, since),
        )

    def pieces(self, press: str, since: str, until: str) -> list[QuantityRow]:
        """The pieces booked on a press in runs that share time with [since, until)."""
        return self._file.all(
            QuantityRow,
            "SELECT * FROM quantities WHERE press = ? AND until > ? AND since < ? ORDER BY since, entry",
            (press, since, until),
        )

    def sat_in(self, inside: str, since: str, until: str) -> list[str]:
        """The items that sat in one at some time over [since, until), by id."""
        return self._file.values(
            "SELECT DISTINCT item FROM fittings WHERE inside = ? AND start < ? AND ifnull(until, '~') > ? ORDER BY 1",
            (inside, until, since),
        )

    def batch_of(self, item: str) -> str | None:
        """The batch a piece came in; None: nobody said."""
        found: str | None = self._file.value(
            "SELECT batch FROM shelf_moves WHERE item = ? AND way = 'receive' AND batch IS NOT NULL "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item,),
        )
        return found

"""Projections with one row for each entry in effect: counter terms, quantities, strokes besides the counter, reworks,
orders, stated history, measured points, gauges found out, suspect product, faults and repairs.  A row comes with its
entry and goes when the entry loses its effect; nothing else moves it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from upkeep.store.file import BookFile

Row = tuple[Any, ...]

TOLD = {
    "terms": 6, "made": 7, "besides": 4, "reworks": 4, "orders": 7, "stated": 6, "measured": 7, "misreads": 4,
    "disposals": 7, "narrowings": 4, "overrides": 4, "faults": 4, "repairs": 5, "retired": 4, "pictures": 6,
}  # fmt: skip
"""These tables and how many columns each has."""


class Told:
    """Reads and writes such rows."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    @property
    def file(self) -> BookFile:
        """The file they stand in."""
        return self._file

    def tell(self, rows: Iterable[tuple[str, Row]]) -> None:
        """Adds rows, each with the table it belongs to."""
        for table, row in rows:
            marks = ", ".join("?" * TOLD[table])
            self._file.connection.execute(f"INSERT INTO {table} VALUES ({marks})", row)

    def untell(self, entry: int) -> None:
        """Removes the rows of an entry."""
        for table in TOLD:
            self._file.connection.execute(f"DELETE FROM {table} WHERE entry = ?", (entry,))

    def terms_of(self, press: str) -> list[Row]:
        """The terms of a counter in order: (press, since, way, digits, times, entry)."""
        return self._file.rows("SELECT * FROM terms WHERE press = ? ORDER BY since, entry", (press,))

    def made_over(self, press: str, start: str, end: str) -> list[Row]:
        """The quantities made on a press over a span that they share time with."""
        return self._file.rows(
            "SELECT * FROM made WHERE press = ? AND until > ? AND since < ? ORDER BY since, entry", (press, start, end)
        )

    def besides_between(self, item: str, start: str, end: str) -> int:
        """Strokes besides the counter over [start, end)."""
        row = self._file.row(
            "SELECT coalesce(sum(strokes), 0) FROM besides WHERE item = ? AND at >= ? AND at < ?", (item, start, end)
        )
        return int(row[0]) if row else 0

    def besides_from(self, item: str, start: str) -> list[Row]:
        """Strokes besides the counter from a moment on: (item, at, strokes, entry), in order."""
        return self._file.rows("SELECT * FROM besides WHERE item = ? AND at >= ? ORDER BY at, entry", (item, start))

    def last_rework(self, item: str) -> Row | None:
        """The latest rework of a part with its number: (item, at, granted, entry, times)."""
        row = self._file.row(
            "SELECT *, (SELECT count(*) FROM reworks r WHERE r.item = reworks.item) FROM reworks WHERE item = ? "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item,),
        )
        return row

    def orders(self) -> list[Row]:
        """The planned orders: (ordered, at, pieces, item, press, day, entry)."""
        return self._file.rows("SELECT * FROM orders ORDER BY day, ordered, entry")

    def pieces_of(self, ordered: str) -> int:
        """The pieces made for an order so far."""
        row = self._file.row("SELECT coalesce(sum(pieces), 0) FROM made WHERE ordered = ?", (ordered,))
        return int(row[0]) if row else 0

    def all_stated(self) -> list[Row]:
        """All that was stated, in order; of several about one line the last one holds."""
        return self._file.rows("SELECT * FROM stated ORDER BY at, entry")

    def last_stated(self, item: str, task: str) -> Row | None:
        """What was last stated about a line: (item, task, at, done, by, entry)."""
        return self._file.row(
            "SELECT * FROM stated WHERE item = ? AND task = ? ORDER BY at DESC, entry DESC LIMIT 1", (item, task)
        )

    def failed(self, item: str) -> list[Row]:
        """The values of an item found bad, in order: (item, point, at, entry, gauge, good, occasion)."""
        return self._file.rows("SELECT * FROM measured WHERE item = ? AND good = 0 ORDER BY at, entry", (item,))

    def found_before(self, item: str, point: str, at: str, entry: int) -> Row | None:
        """The last value of a characteristic found before adjusting, before a moment and entry."""
        return self._file.row(
            "SELECT * FROM measured WHERE item = ? AND point = ? AND (at, entry) < (?, ?) AND occasion = 'as-found' "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item, point, at, entry),
        )

    def good_after(self, item: str, point: str, at: str) -> Row | None:
        """The last good value of a characteristic at or after a moment."""
        return self._file.row(
            "SELECT * FROM measured WHERE item = ? AND point = ? AND at >= ? AND good = 1 "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item, point, at),
        )

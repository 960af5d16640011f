"""What was measured on parts while they sat somewhere, how they ended, and how often they were to be looked at."""

from __future__ import annotations

from collections.abc import Collection

from upkeep.store.file import BookFile
from upkeep.store.rows.counts import ReworkRow
from upkeep.store.rows.definitions import DefinedRow
from upkeep.store.rows.findings import MeasuredRow, MeasuringEntry, PictureRow, RetiredRow
from upkeep.store.rows.signatures import Graded


class WearHistory:
    """Reads measured values, reworks, ends of parts and pictures by item."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def measured(self, item: str, start: str, end: str, points: Collection[str] | None = None) -> list[MeasuringEntry]:
        """The entries that measured something on an item over [start, end), in order.

        ``points`` are those to look for (None: any).
        """
        if points is None:
            return self._file.all(
                MeasuringEntry,
                "SELECT DISTINCT entry, at, occasion FROM measured WHERE item = ? AND at >= ? AND at < ? "
                "ORDER BY at, entry",
                (item, start, end),
            )
        marks = ", ".join("?" * len(points))
        return self._file.all(
            MeasuringEntry,
            f"SELECT DISTINCT entry, at, occasion FROM measured WHERE item = ? AND point IN ({marks}) AND at >= ? "
            "AND at < ? ORDER BY at, entry",
            (item, *sorted(points), start, end),
        )

    def values(self, item: str, start: str, end: str, points: Collection[str] | None = None) -> list[MeasuredRow]:
        """What was read on an item over [start, end), in order; only some ``points``, or all (None)."""
        wanted = () if points is None else sorted(points)
        among = "" if points is None else f"AND point IN ({', '.join('?' * len(wanted))}) "
        return self._file.all(
            MeasuredRow,
            f"SELECT * FROM measured WHERE item = ? {among}AND at >= ? AND at < ? AND readings IS NOT NULL "
            "ORDER BY at, entry",
            (item, *wanted, start, end),
        )

    def reworks_of(self, item: str) -> list[ReworkRow]:
        """The reworks of a part in effect, oldest first; empty where it never was."""
        return self._file.all(ReworkRow, "SELECT * FROM reworks WHERE item = ? ORDER BY at, entry", (item,))

    def retired(self, item: str) -> RetiredRow | None:
        """When and how an item left for ever; None: it has not."""
        return self._file.first(RetiredRow, "SELECT * FROM retired WHERE item = ? ORDER BY at, entry LIMIT 1", (item,))

    def last_graded(self, items: tuple[str, ...], after: str, until: str) -> Graded | None:
        """The last graded inspection of some items over (after, until]; None where none was graded then."""
        marks = ", ".join("?" * len(items))
        return self._file.first(
            Graded,
            f"SELECT at, grade, entry FROM sign_offs WHERE item IN ({marks}) AND grade IS NOT NULL AND at > ? "
            "AND at <= ? ORDER BY at DESC, entry DESC LIMIT 1",
            (*items, after, until),
        )

    def grades(self, item: str, task: str, since: str) -> list[int]:
        """What the inspections of a line found from a moment on, in order."""
        return self._file.values(
            "SELECT grade FROM sign_offs WHERE item = ? AND task = ? AND at >= ? AND grade IS NOT NULL "
            "ORDER BY at, entry",
            (item, task, since),
        )

    def definitions_of(self, what: str, key: str) -> list[DefinedRow]:
        """Every definition a thing ever had, the first one first."""
        return self._file.all(
            DefinedRow, "SELECT * FROM defined WHERE what = ? AND key = ? ORDER BY at, entry", (what, key)
        )

    def ever_inside(self, inside: tuple[str, ...]) -> list[str]:
        """Whatever has ever sat in some items, by id."""
        marks = ", ".join("?" * len(inside))
        return self._file.values(f"SELECT DISTINCT item FROM fittings WHERE inside IN ({marks}) ORDER BY 1", inside)

    def pictures_of(self, item: str | None) -> list[PictureRow]:
        """The pictures of an item, or of all, in order."""
        where, values = ("", ()) if item is None else ("WHERE item = ?", (item,))
        return self._file.all(PictureRow, f"SELECT * FROM pictures {where} ORDER BY item, at, entry", values)

    def last_set_up(self, item: str, points: Collection[str], occasions: Collection[str], until: str) -> int | None:
        """The entry that measured one of the points of an item last by a moment, on one of the occasions; None: none
        did."""
        among = ", ".join("?" * len(occasions))
        each = (  # one search a point, from its newest
            f"SELECT * FROM (SELECT at, entry FROM measured WHERE item = ? AND point = ? AND at <= ? "
            f"AND occasion IN ({among}) ORDER BY at DESC, entry DESC LIMIT 1)"
            for _ in points
        )
        values = [value for point in points for value in (item, point, until, *occasions)]
        rows = self._file.rows(" UNION ALL ".join(each), tuple(values))
        return max(((row[0], row[1]) for row in rows), default=("", None))[1]

    def newest_of(self, item: str, point: str, start: str, end: str, limit: int) -> list[MeasuredRow]:
        """What was read of a point of an item last over [start, end], in order."""
        newest = self._file.all(
            MeasuredRow,
            "SELECT * FROM measured WHERE item = ? AND point = ? AND at >= ? AND at <= ? "
            "ORDER BY at DESC, entry DESC LIMIT ?",
            (item, point, start, end, limit),
        )
        return newest[::-1]

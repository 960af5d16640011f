"""What was measured, judged and found, read by what it belongs to."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.store.file import BookFile
from upkeep.store.rows.definitions import IN_EFFECT
from upkeep.store.rows.findings import DispositionRow, MeasuredRow, PermitRow, RestrictionRow
from upkeep.store.rows.places import StayRow


class Findings:
    """Reads the tables of checks, gauges found out and suspect product."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def back_from(self, item: str, point: str, at: str, entry: int) -> Iterator[MeasuredRow]:
        """The values of a characteristic before one of its own, newest first; read only as far as they are taken."""
        return self._file.each(
            MeasuredRow,
            "SELECT * FROM measured WHERE item = ? AND point = ? AND (at, entry) < (?, ?) ORDER BY at DESC, entry DESC",
            (item, point, at, entry),
        )

    def on_from(self, item: str, point: str, at: str, entry: int) -> Iterator[MeasuredRow]:
        """The values of a characteristic after one of its own, in order."""
        return self._file.each(
            MeasuredRow,
            "SELECT * FROM measured WHERE item = ? AND point = ? AND (at, entry) > (?, ?) ORDER BY at, entry",
            (item, point, at, entry),
        )

    def graded_back_from(self, item: str, point: str, at: str, entry: int) -> Iterator[MeasuredRow]:
        """The graded sign-offs of an item before one, newest first, as values of ``point``; grade 4 is bad."""
        return self._file.each(
            MeasuredRow,
            "SELECT item, ?, at, entry, NULL, grade < 4, NULL, NULL, task, NULL FROM sign_offs "
            "WHERE item = ? AND grade IS NOT NULL AND (at, entry) < (?, ?) ORDER BY at DESC, entry DESC",
            (point, item, at, entry),
        )

    def graded_on_from(self, item: str, point: str, at: str, entry: int) -> Iterator[MeasuredRow]:
        """The grades found on an item after an entry, oldest first; good below grade 4."""
        return self._file.each(
            MeasuredRow,
            "SELECT item, ?, at, entry, NULL, grade < 4, NULL, NULL, task, NULL FROM sign_offs "
            "WHERE item = ? AND grade IS NOT NULL AND (at, entry) > (?, ?) ORDER BY at, entry",
            (point, item, at, entry),
        )

    def judged_sign_offs(self, item: str, task: str, until: str) -> list[int]:
        """The numbers of the sign-offs of a line that carry points or a grade, by a moment, in order."""
        return self._file.values(
            "SELECT entry FROM sign_offs WHERE item = ? AND task = ? AND at <= ? AND how = 'done' "
            "AND (points <> '{}' OR grade IS NOT NULL) ORDER BY at, entry",
            (item, task, until),
        )

    def last_release(self, item: str, at: str) -> str | None:
        """The moment of the last release of an item by a moment."""
        released: str | None = self._file.value(
            f"SELECT at FROM entries WHERE item = ? AND at <= ? AND kind = 'release' AND {IN_EFFECT} "
            "ORDER BY at DESC LIMIT 1",
            (item, at),
        )
        return released

    def items_once_held(self) -> list[str]:
        """The items that were ever released, of unknown life until an inspection, or held on one press, by id."""
        return self._file.values(
            "SELECT item FROM entries WHERE kind IN ('release', 'unknown-life') AND item IS NOT NULL "
            "UNION SELECT item FROM doubted_presses ORDER BY 1"
        )

    def presses_doubted(self, item: str) -> list[str]:
        """The presses that points measured on an item ever said to be at fault, by id."""
        return self._file.values("SELECT DISTINCT press FROM doubted_presses WHERE item = ? ORDER BY 1", (item,))

    def stays_between(self, item: str, start: str, end: str) -> list[StayRow]:
        """The stays of an item that share time with [start, end], in order."""
        return self._file.all(
            StayRow,
            "SELECT * FROM stays WHERE item = ? AND start <= ? AND ifnull(until, '~') >= ? ORDER BY start",
            (item, end, start),
        )

    def bad(self, item: str | None = None) -> list[MeasuredRow]:
        """The values found bad in checks, of one item or of all, oldest first."""
        where, values = ("", ()) if item is None else ("AND item = ?", (item,))
        return self._file.all(MeasuredRow, f"SELECT * FROM measured WHERE good = 0 {where} ORDER BY at, entry", values)

    def bad_at(self, point: str) -> list[MeasuredRow]:
        """The values of one characteristic found bad in checks of any item, oldest first."""
        return self._file.all(
            MeasuredRow, "SELECT * FROM measured WHERE good = 0 AND point = ? ORDER BY at, entry", (point,)
        )

    def judged(self, item: str) -> list[DispositionRow]:
        """What became of lines of hold lists about an item, in order."""
        return self._file.all(
            DispositionRow,
            "SELECT d.* FROM dispositions d JOIN entries e ON e.id = d.list WHERE e.item = ? ORDER BY d.at, d.entry",
            (item,),
        )

    def dispositions(self, number: int) -> list[DispositionRow]:
        """What became of the lines of a hold list, in order."""
        return self._file.all(DispositionRow, "SELECT * FROM dispositions WHERE list = ? ORDER BY at, entry", (number,))

    def last_restriction(self, number: int) -> RestrictionRow | None:
        """The last restriction of the window of a hold list, by the list's number; None where nobody restricted it."""
        return self._file.first(
            RestrictionRow, "SELECT * FROM restrictions WHERE list = ? ORDER BY at DESC, entry DESC LIMIT 1", (number,)
        )

    def last_permit(self, item: str, at: str) -> PermitRow | None:
        """The last deviation permit of an item by a moment, used up or not; None where it had none."""
        return self._file.first(
            PermitRow,
            "SELECT * FROM permits WHERE item = ? AND at <= ? ORDER BY at DESC, entry DESC LIMIT 1",
            (item, at),
        )

    def entries_between(self, item: str, kinds: tuple[str, ...], start: str, end: str) -> list[int]:
        """The numbers of the entries of some kinds in effect about an item over [start, end], in order."""
        marks = ", ".join("?" * len(kinds))
        return self._file.values(
            f"SELECT id FROM entries WHERE item = ? AND at >= ? AND at <= ? AND kind IN ({marks}) AND {IN_EFFECT} "
            "ORDER BY at, id",
            (item, start, end, *kinds),
        )

    def writers_between(self, items: tuple[str, ...], start: str, end: str) -> list[tuple[str, int]]:
        """Who wrote about some items over [start, end], by id, with the numbers of their entries."""
        writers: set[tuple[str, int]] = set()
        for item in items:
            writers.update(
                self._file.rows("SELECT by, id FROM entries WHERE item = ? AND at >= ? AND at <= ?", (item, start, end))
            )
        return sorted(writers)

    def measured_with(self, gauge: str, start: str, end: str) -> list[MeasuredRow]:
        """The values measured with a gauge over [start, end], in order."""
        return self._file.all(
            MeasuredRow,
            "SELECT * FROM measured INDEXED BY measured_by_gauge WHERE gauge = ? AND at >= ? AND at <= ? "
            "ORDER BY at, entry",
            (gauge, start, end),
        )

    def items_checked(self, what: str, name: str, start: str, end: str) -> list[str]:
        """The items whose checks over [start, end] name a reel or a wire lot (``what``), by id."""
        return self._file.values(
            "SELECT DISTINCT item FROM lots WHERE what = ? AND lot = ? AND at >= ? AND at <= ? ORDER BY 1",
            (what, name, start, end),
        )

    def items_checked_by(self, by: str, start: str, end: str) -> list[str]:
        """The items somebody checked or inspected over [start, end], by id."""
        return self._file.values(
            "SELECT item FROM entries WHERE at >= :start AND at <= :end AND by = :by AND kind = 'check' "
            f"AND {IN_EFFECT} UNION SELECT item FROM sign_offs "
            "WHERE at >= :start AND at <= :end AND by = :by AND grade IS NOT NULL ORDER BY 1",
            {"start": start, "end": end, "by": by},
        )

    def definition_before(self, what: str, key: str, entry: int) -> str | None:
        """The last definition of something before an entry, as JSON; None: there was none."""
        content: str | None = self._file.value(
            "SELECT content FROM defined WHERE what = ? AND key = ? AND entry < ? ORDER BY entry DESC LIMIT 1",
            (what, key, entry),
        )
        return content

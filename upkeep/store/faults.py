"""Faults and the steps on them, read by item and symptom."""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.store.file import BookFile
from upkeep.store.rows.definitions import IN_EFFECT
from upkeep.store.rows.findings import FaultRow


class FaultHistory:
    """Reads reports and steps that are in effect; struck ones have no rows."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def faults(self, item: str | None = None) -> list[FaultRow]:
        """The faults of an item or of all, in order."""
        where, values = ("", ()) if item is None else ("WHERE item = ?", (item,))
        return self._file.all(FaultRow, f"SELECT * FROM faults {where} ORDER BY at, entry", values)

    def on_press(self, press: str) -> list[FaultRow]:
        """The faults of a press and of all that hung on it when they were found, in order."""
        return self._file.all(
            FaultRow,
            "SELECT f.* FROM faults f WHERE f.item = ? OR EXISTS (SELECT 1 FROM stays s WHERE s.item = f.item "
            "AND s.press = ? AND s.start <= f.at AND ifnull(s.until, '~') > f.at) ORDER BY f.at, f.entry",
            (press, press),
        )

    def unclosed(self, item: str | None = None) -> list[FaultRow]:
        """The faults of an item or of all that nobody closed, in order."""
        where, values = ("", ()) if item is None else ("AND f.item = ?", (item,))
        return self._file.all(
            FaultRow,
            "SELECT f.* FROM faults f WHERE "
            "NOT EXISTS (SELECT 1 FROM repairs r WHERE r.fault = f.entry AND r.stage = 'closed') "
            f"{where} ORDER BY f.at, f.entry",
            values,
        )

    def fault(self, number: int) -> FaultRow | None:
        """The fault with the number of its report; None where that entry reported none, or was struck."""
        return self._file.first(FaultRow, "SELECT * FROM faults WHERE entry = ?", (number,))

    def alike(self, item: str, listed: str | None) -> list[FaultRow]:
        """The faults of an item with a symptom of the list (None: told in words), in order."""
        return self._file.all(
            FaultRow, "SELECT * FROM faults WHERE item = ? AND listed IS ? ORDER BY at, entry", (item, listed)
        )

    def by_symptom(self, listed: str | None) -> list[FaultRow]:
        """The faults of all items with a symptom of the list (None: told in words), in order."""
        return self._file.all(FaultRow, "SELECT * FROM faults WHERE listed IS ? ORDER BY at, entry", (listed,))

    def steps(self, faults: Sequence[int]) -> list[int]:
        """The numbers of the steps on a fault, under each of the numbers it ever had, in order."""
        marks = ", ".join("?" * len(faults))
        return self._file.values(
            f"SELECT entry FROM repairs WHERE fault IN ({marks}) ORDER BY at, entry", tuple(faults)
        )

    def inside_of(self, item: str, at: str) -> str | None:
        """The id of what an item sat in at a moment; None where it sat in nothing."""
        inside: str | None = self._file.value(
            "SELECT inside FROM fittings WHERE item = ? AND start <= ? AND ifnull(until, '~') > ? "
            "ORDER BY start DESC LIMIT 1",
            (item, at, at),
        )
        return inside

    def contents_of(self, inside: str, at: str) -> list[str]:
        """What sat in an item at a moment."""
        return self._file.values(
            "SELECT item FROM fittings INDEXED BY contents_ending WHERE inside = ? AND ifnull(until, '~') > ? "
            "AND start <= ? ORDER BY item",
            (inside, at, at),
        )

    def checks_between(self, items: Sequence[str], since: str, until: str) -> list[int]:
        """The numbers of the checks of some items over [since, until], newest first."""
        marks = ", ".join("?" * len(items))
        return self._file.values(
            f"SELECT id FROM entries WHERE item IN ({marks}) AND kind = 'check' AND at >= ? AND at <= ? "
            f"AND {IN_EFFECT} ORDER BY at DESC, id DESC",
            (*items, since, until),
        )

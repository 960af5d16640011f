"""Rows of many presses or items read at once, for a view that would ask for each of them."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from operator import attrgetter

from upkeep.store.file import BookFile
from upkeep.store.rows.counts import MarkRow, QuantityRow, UncountedRow
from upkeep.store.rows.places import StayRow

_press_and_moment = attrgetter("press", "at", "entry")


class RowsOfMany:
    """Reads such rows."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def marks_of(self, since: Mapping[str, str]) -> list[MarkRow]:
        """The marks of presses, each from the last before a moment of its own on, in order of press and moment."""
        marks = self._file.all(
            MarkRow,
            f"{_asked(since)} SELECT m.* FROM asked CROSS JOIN marks m WHERE m.press = asked.name AND m.at >= ifnull("
            "(SELECT max(x.at) FROM marks x WHERE x.press = asked.name AND x.at < asked.since), asked.since)",
            _flat(since),
        )
        return sorted(marks, key=_press_and_moment)

    def stays_of_all(self, items: Collection[str]) -> list[StayRow]:
        """The stays of items, in order of item and beginning."""
        marks = ", ".join("?" * len(items))
        return self._file.all(StayRow, f"SELECT * FROM stays WHERE item IN ({marks}) ORDER BY item, start", (*items,))

    def quantities_of(self, since: Mapping[str, str]) -> list[QuantityRow]:
        """The quantities made on presses, each after a moment of its own, in order of their beginning."""
        return self._file.all(
            QuantityRow,
            f"{_asked(since)} SELECT q.* FROM asked JOIN quantities q ON q.press = asked.name "
            "AND q.until > asked.since ORDER BY q.since, q.entry",
            _flat(since),
        )

    def uncounted_of(self, since: Mapping[str, str]) -> list[UncountedRow]:
        """Uncounted strokes of items, each from a moment of its own on, in order of item and moment."""
        return self._file.all(
            UncountedRow,
            f"{_asked(since)} SELECT u.* FROM asked JOIN uncounted_strokes u ON u.item = asked.name "
            "AND u.at >= asked.since ORDER BY u.item, u.at, u.entry",
            _flat(since),
        )

    def came_after_rest(self, item: str, since: str, days: int) -> str | None:
        """When an item last came onto a press after so many days or more on none since a moment; None: never."""
        moment: str | None = self._file.value(
            "SELECT start FROM (SELECT start, lag(until) OVER (ORDER BY start) AS left_at FROM stays "
            "WHERE item = :item AND ifnull(until, '~') > :since) "
            "WHERE julianday(start) - julianday(ifnull(left_at, :since)) >= :days ORDER BY start DESC LIMIT 1",
            {"item": item, "since": since, "days": days},
        )
        return moment


def _asked(since: Mapping[str, str]) -> str:
    """The names asked for as SQL joins them, each ``since`` a moment of its own."""
    return f"WITH asked (name, since) AS (VALUES {', '.join(['(?, ?)'] * len(since)) or '(NULL, NULL)'})"


def _flat(since: Mapping[str, str]) -> tuple[str, ...]:
    """The parameters of :func:`_asked`."""
    return tuple(part for pair in since.items() for part in pair)

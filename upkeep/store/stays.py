"""Which item was on which press, from when to when, and what it did there.

A stay that has not ended has no ``until``; it is looked up as ``ifnull(until, '~')``, later than every moment.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from upkeep.store.rows.places import STAYS, GuessedEdge, StayRow
from upkeep.store.rows_of_entries import RowsOfEntries

_GUESSED = "({0}_low <> {0}_low_next OR {0}_high_last <> {0}_high)"
"""Whether an edge lies between two readings, in a step that did strokes or may have done some."""


class StaysOfItems(RowsOfEntries):
    """Reads and replaces stays."""

    def replace_stays(self, item: str, from_end: str, rows: Sequence[StayRow]) -> None:
        """Replaces the stays of an item that have not ended before a moment."""
        self._one(
            "DELETE FROM stays WHERE item = ? AND ifnull(until, '~') >= ? AND start >= ifnull("
            "(SELECT s.start FROM stays s WHERE s.item = ? AND s.start < ? ORDER BY s.start DESC LIMIT 1), '')",
            (item, from_end, item, from_end),
        )
        self._many(STAYS.insert, rows)

    def stay_ended_before(self, item: str, at: str) -> StayRow | None:
        """The last stay of an item on a press that ended before a moment; None where none did."""
        return self._file.first(
            StayRow, "SELECT * FROM stays WHERE item = ? AND until < ? ORDER BY start DESC LIMIT 1", (item, at)
        )

    def stay_from(self, item: str, at: str) -> StayRow | None:
        """The last stay of an item that starts at or before a moment."""
        return self._file.first(
            StayRow, "SELECT * FROM stays WHERE item = ? AND start <= ? ORDER BY start DESC LIMIT 1", (item, at)
        )

    def last_stay(self, item: str) -> StayRow | None:
        """The latest stay of an item on a press, ended or not; None where it never was on one."""
        return self._file.first(StayRow, "SELECT * FROM stays WHERE item = ? ORDER BY start DESC LIMIT 1", (item,))

    def stay_after(self, item: str, at: str) -> StayRow | None:
        """The first stay of an item on a press that starts after a moment; None where it went on none since."""
        return self._file.first(
            StayRow, "SELECT * FROM stays WHERE item = ? AND start > ? ORDER BY start LIMIT 1", (item, at)
        )

    def first_change_on(self, press: str, since: str, until: str) -> str | None:
        """The first moment over [since, until] at which something came onto a press or left it; None: nothing did."""
        changed: str | None = self._file.value(
            "SELECT min(edge) FROM (SELECT min(until) AS edge FROM stays "
            "WHERE press = :press AND until >= :since AND until <= :until UNION ALL SELECT min(start) FROM stays "
            "WHERE press = :press AND item <> :press AND start >= :since AND start <= :until)",
            {"press": press, "since": since, "until": until},
        )
        return changed

    def stay_with(self, item: str, strokes: int, rest: int = 0) -> StayRow | None:
        """The last stay of an item that began with fewer strokes than a number and a rest in billionths."""
        return self._file.first(
            StayRow,
            "SELECT * FROM stays INDEXED BY stays_by_strokes WHERE item = ? "
            "AND (before_best, before_rest) < (?, ?) ORDER BY before_best DESC, before_rest DESC, start DESC LIMIT 1",
            (item, strokes, rest),
        )

    def stay_ended_over(self, item: str, press: str, after: str, before: str) -> StayRow | None:
        """The last stay of an item on a press that ended over (after, before); None where none did."""
        return self._file.first(
            StayRow,
            "SELECT * FROM stays WHERE item = :item AND +press = :press AND ifnull(until, '~') > :after "
            "AND until < :before AND start < :before AND start >= ifnull("
            "(SELECT start FROM stays WHERE item = :item AND start < :after ORDER BY start DESC LIMIT 1), '') "
            "ORDER BY start DESC LIMIT 1",
            {"item": item, "press": press, "after": after, "before": before},
        )

    def shared_across(self, item: str, start: str, end: str) -> int:
        """The strokes that stays of an item which start over (start, end] share with stays from before ``start``."""
        shared: int = self._file.value(
            "SELECT ifnull(sum(shared), 0) FROM stays WHERE item = :item AND start > :start AND start <= :end "
            "AND shared > 0 AND shared_with < :start",
            {"item": item, "start": start, "end": end},
        )
        return shared

    def stays_of(self, item: str, from_end: str = "") -> list[StayRow]:
        """The stays of an item that have not ended before a moment, in order."""
        return self._file.all(
            StayRow,
            "SELECT * FROM stays WHERE item = :item AND ifnull(until, '~') >= :moment AND start >= ifnull("
            "(SELECT start FROM stays WHERE item = :item AND start < :moment ORDER BY start DESC LIMIT 1), '') "
            "ORDER BY start",
            {"item": item, "moment": from_end},
        )

    def items_staying(self, press: str, from_at: str) -> list[str]:
        """The items with a stay on a press that has not ended before a moment."""
        return self._file.values(
            "SELECT DISTINCT item FROM stays WHERE press = ? AND ifnull(until, '~') >= ? ORDER BY item",
            (press, from_at),
        )

    def items_with_edge_from(self, press: str, moment: str) -> list[str]:
        """The items whose stay on a press begins or ends at a moment or later."""
        return self._file.values(
            "SELECT item FROM stays WHERE press = :press AND until >= :moment UNION "
            "SELECT item FROM stays WHERE press = :press AND start >= :moment ORDER BY 1",
            {"press": press, "moment": moment},
        )

    def items_with_edge_between(self, press: str, after: str, until: str) -> list[str]:
        """The items whose stay on a press begins or ends over (after, until]."""
        return self._file.values(
            "SELECT item FROM stays WHERE press = :press AND until > :after AND until <= :until UNION "
            "SELECT item FROM stays WHERE press = :press AND start > :after AND start <= :until ORDER BY 1",
            {"press": press, "after": after, "until": until},
        )

    def items_with_guesses(self) -> list[str]:
        """The items with a stay of which an edge had to be guessed."""
        return self._file.values(
            f"SELECT DISTINCT item FROM stays WHERE {_GUESSED.format('start')} OR {_GUESSED.format('end')} "
            "ORDER BY item"
        )

    def guessed_edges(self) -> list[GuessedEdge]:
        """The moments at which something moved on a press and its count was not read, in order."""
        return self._file.all(
            GuessedEdge,
            "SELECT press, moment, group_concat(item, ', ') FROM ("
            f"SELECT press, start AS moment, item FROM stays WHERE {_GUESSED.format('start')} UNION "
            f"SELECT press, until, item FROM stays WHERE {_GUESSED.format('end')} ORDER BY 3) "
            "GROUP BY press, moment ORDER BY moment",
        )

    def strokes_on(self, press: str, items: Sequence[str]) -> list[StayRow]:
        """The stays of some items on a press."""
        marks = ", ".join("?" * len(items))
        return self._file.all(StayRow, f"SELECT * FROM stays WHERE press = ? AND item IN ({marks})", (press, *items))

    def _one(self, sql: str, parameters: tuple[object, ...]) -> None:
        self._file.connection.execute(sql, parameters)

    def _many(self, sql: str, rows: Iterable[tuple[object, ...]]) -> None:
        self._file.connection.executemany(sql, rows)

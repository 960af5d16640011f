"""What an auditor asks of the entries: those that lost their effect, the definitions over time."""

from __future__ import annotations

from upkeep.entries.entry import Recorded
from upkeep.store.entry_rows import COLUMNS, recorded_from
from upkeep.store.file import BookFile
from upkeep.store.rows.definitions import IN_EFFECT, DefinedRow
from upkeep.store.rows.findings import PermitRow


class Asked:
    """Reads them from one file."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def lost_effect(self, item: str) -> list[tuple[Recorded, int]]:
        """The entries about an item that were corrected or struck, in order, each with the entry that did it."""
        rows = self._file.rows(
            f"SELECT {COLUMNS.replace('id,', 'entries.id AS id,', 1)}, w.through FROM entries "
            "JOIN without_effect w ON w.entry = entries.id WHERE item = ? ORDER BY at, entries.id",
            (item,),
        )
        return [(recorded_from(row[:-1]), row[-1]) for row in rows]

    def defined(self, what: str, key: str) -> list[DefinedRow]:
        """Every definition a thing ever had, in the order in which they were written."""
        return self._file.all(
            DefinedRow, "SELECT * FROM defined WHERE what = ? AND key = ? ORDER BY entry", (what, key)
        )

    def checks_on(self, press: str, since: str, until: str) -> list[Recorded]:
        """The checks over [since, until], in effect, of whatever hung on a press at that moment, in order."""
        rows = self._file.rows(
            f"SELECT {COLUMNS} FROM entries WHERE id IN (SELECT e.id FROM stays s CROSS JOIN entries e "
            "WHERE s.press = :press AND s.start <= :until AND ifnull(s.until, '~') >= :since AND e.item = s.item "
            "AND e.kind = 'check' AND e.at BETWEEN max(s.start, :since) AND min(ifnull(s.until, :until), :until)) "
            f"AND {IN_EFFECT} ORDER BY at, id",
            {"press": press, "since": since, "until": until},
        )
        return [recorded_from(row) for row in rows]

    def second_signatures(self, item: str) -> dict[int, int]:
        """The entries that gave the second signature on sign-offs of an item, by the number of the sign-off."""
        rows = self._file.rows(
            "SELECT entry, verified_through FROM sign_offs WHERE item = ? AND verified_through IS NOT NULL", (item,)
        )
        return {int(entry): int(through) for entry, through in rows}

    def all_defined(self, what: str | None, key: str | None) -> list[DefinedRow]:
        """Every definition of a kind of thing (None: of all) under an id (None: any), each thing's in order."""
        return self._file.all(
            DefinedRow,
            "SELECT * FROM defined WHERE (:what IS NULL OR what = :what) AND (:key IS NULL OR key = :key) "
            "ORDER BY what, key, entry",
            {"what": what, "key": key},
        )

    def permits(self, item: str | None = None) -> list[PermitRow]:
        """The deviation permits of an item, or all, oldest first."""
        where, values = ("", ()) if item is None else ("WHERE item = ?", (item,))
        return self._file.all(PermitRow, f"SELECT * FROM permits {where} ORDER BY at, entry", values)

    def readings_of(self, presses: tuple[str, ...], since: str, until: str) -> int:
        """How many readings of some presses lie in [since, until]."""
        marks = ", ".join("?" * len(presses))
        return int(
            self._file.value(
                f"SELECT count(*) FROM marks WHERE press IN ({marks}) AND at >= ? AND at <= ?", (*presses, since, until)
            )
            or 0
        )

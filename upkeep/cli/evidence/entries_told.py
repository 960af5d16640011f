"""What is told of the entries themselves: all of them as a table, the corrections, the restorations, how long kept."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from upkeep.book import Book, Watch
from upkeep.cli.evidence.questions import CORRECTIONS, KEPT, RESTORATIONS
from upkeep.cli.made_again import COLUMNS
from upkeep.cli.tabling import csv_lines
from upkeep.entries.text import words_of

if TYPE_CHECKING:
    from upkeep.answers.printed.withheld import Withheld

Row = Mapping[str, Any]


def shown_values(withheld: Withheld, values: Iterable[object]) -> list[object]:
    """The values of an entry as they are handed out."""
    return [withheld.text(value) if isinstance(value, str) else value for value in values]


class EntriesTold:
    """Goes through all entries once, writes them as a table, and keeps what the questions ask of them."""

    def __init__(self, book: Book) -> None:
        self._book, self._withheld = book, book.withheld
        self._rows: dict[str, list[Row]] = {CORRECTIONS: [], RESTORATIONS: []}

    def write(self, table: Path, watch: Watch) -> None:
        """Writes the table of all entries; raises :class:`BookDamaged` where one does not follow from those before."""
        with table.open("w", encoding="utf-8", newline="") as file:
            file.write(csv_lines([COLUMNS]))
            for values in self._book.rows_of_entries(watch):
                row = dict(zip(COLUMNS, shown_values(self._withheld, values), strict=True))
                self._keep(row)
                file.write(csv_lines([row.values()]))

    def rows(self, of: str) -> list[Row]:
        """What the entries tell to a question, as rows."""
        return list(self._kept()) if of == KEPT else self._rows[of]

    def _keep(self, row: Row) -> None:
        if row["corrects"] is not None:
            before = self._book.entry(int(row["corrects"]))
            told = {name: row[name] for name in ("entry", "recorded_at", "by", "corrects", "because")}
            self._rows[CORRECTIONS].append(told | {"old": self._withheld.text(words_of(before)), "new": row["words"]})
        elif row["kind"] == "strike":
            told = {name: row[name] for name in ("entry", "recorded_at", "by", "because")}
            self._rows[CORRECTIONS].append(told | {"old": row["words"], "new": ""})
        elif row["kind"] == "note" and str(row["words"]).endswith(" restored"):
            self._rows[RESTORATIONS].append({name: row[name] for name in ("entry", "recorded_at", "by", "words")})

    def _kept(self) -> Iterator[Row]:
        first, last = self._book.entry(0), self._book.newest_written(1)[0]
        after = self._book.facts.leavers_withheld_after
        yield {
            "first_entry": first.at, "last_entry": last.recorded_at, "entries": last.entry,
            "deleted": 0, "leavers_withheld_after_days": after,
        }  # fmt: skip

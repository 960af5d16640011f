"""The archive: the entries of a year as text, table and pages that are readable without this program for decades."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

import click

from upkeep.book import Book, Watch
from upkeep.cli.clock import now
from upkeep.cli.evidence.entries_told import shown_values
from upkeep.cli.evidence.proof_folder import new_folder, say_how_to_check, write_chain, write_seal
from upkeep.cli.made_again import COLUMNS
from upkeep.cli.options import book_option, language_option, opened
from upkeep.cli.progress import GATHERING_EVIDENCE, watch_of
from upkeep.cli.saying import reader_of, say
from upkeep.cli.tabling import csv_lines
from upkeep.entries.entry import Recorded
from upkeep.entries.text import line_of
from upkeep.errors import BookDamaged, NotFound
from upkeep.frozen import frozen
from upkeep.papers.frame.frame_rows import frame_cells
from upkeep.papers.frame.page_pdf import page_pdf
from upkeep.said import Numeral, said
from upkeep.store.entry_rows import plain_values
from upkeep.wording.sentences import Reader, text


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--year", required=True, type=click.IntRange(1990, 2200), help="The year in which entries were written.")
@language_option
@book_option
def archive(folder: Path, year: int, language: str | None, book_path: Path) -> None:
    """Write the entries of a year into a new FOLDER, to be read without this program.

    Each entry as a line of text, a row of a table (CSV) and on pages (PDF, one file a month), with the chain, its seal
    and the programs that check them. Nothing leaves the book: entries are never deleted. Names of people who left are
    kept or withheld as the plant says (leavers_withheld_after in plant.toml).

    Example: strokebook archive archive-2026 --year 2026
    """
    with opened(book_path) as book:
        if book.went_back is not None:
            raise BookDamaged(book.went_back)
        watch = watch_of(book_path, GATHERING_EVIDENCE)
        numbers = book.numbers_of_year(year)
        if not numbers:
            raise NotFound(said("entry of the year"), str(year))
        with new_folder(folder) as partial:
            _Archive(book, partial, year, reader_of(book, language), watch).write(numbers)
            checksum = write_seal(partial, book, now())
        say(said("Entries archived: {n}.", n=len(numbers)))
        say_how_to_check(folder, checksum)


@frozen
class _Archive:
    """What is written of one year."""

    book: Book
    folder: Path
    year: int
    reader: Reader
    watch: Watch

    def write(self, numbers: range) -> None:
        """Text and table in one go, a month's pages after the month, then the chain."""
        name = f"entries-{self.year}"
        with (
            (self.folder / f"{name}.txt").open("w", encoding="utf-8", newline="\n") as lines,
            (self.folder / f"{name}.csv").open("w", encoding="utf-8", newline="") as table,
        ):
            table.write(csv_lines([COLUMNS]))
            for month, entries in groupby(self._entries(numbers), lambda one: f"{self._written(one):%Y-%m}"):
                page = []
                for recorded in entries:
                    line = f"#{recorded.id} {self.book.withheld.text(line_of(recorded.entry, self.book.zone))}"
                    lines.write(f"{line}\n")
                    table.write(csv_lines([shown_values(self.book.withheld, plain_values(recorded))]))
                    page.append(line)
                self._pages(month, page)
        write_chain(self.folder, self.book.chain_lines(self.watch, numbers))

    def _entries(self, numbers: range) -> Iterator[Recorded]:
        return self.book.recorded(numbers, self.watch)

    def _written(self, recorded: Recorded) -> object:
        entry = recorded.entry
        return self.book.zone.local(entry.recorded_at or entry.at)

    def _pages(self, month: str, lines: list[str]) -> None:
        title = said("Entries written in {month}: {n}", month=month, n=Numeral(len(lines)))
        frame = frame_cells(self.book.printed(now()), self.reader)
        document = page_pdf("\n".join([text(title, self.reader), *lines]), frame, self.reader)
        (self.folder / f"entries-{month}.pdf").write_bytes(document)

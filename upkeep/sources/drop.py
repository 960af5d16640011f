"""Counts from a CSV file: the good lines go in, the bad ones come back with their numbers and reasons.

The columns are ``press``, ``at`` (local time of the plant) and ``count``; comma or semicolon between them.  A line that
the book already says - same press, moment and figure - is passed over, so the same file twice changes nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from upkeep.book import Book
from upkeep.entries.kinds import Count
from upkeep.errors import StrokebookError, Unreadable
from upkeep.sources.tables import rows_of

COLUMNS = ("press", "at", "count")


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of a file: lines written, lines the book said already, and problems with their line numbers."""

    written: int
    known: int
    problems: tuple[str, ...]

    def told(self, name: str) -> str:
        """The outcome in one sentence."""
        return f"{name}: {self.written:,} counts written, {self.known:,} known already, {len(self.problems):,} refused."


def take_counts(book: Book, file: Path, by: str, recorded_at: datetime) -> Taken:
    """Writes the counts of a file into the book.

    Raises :class:`Unreadable` where the file as a whole cannot be read; then nothing was written.
    """
    numbered: list[tuple[int, Count]] = []
    problems: list[tuple[int, str]] = []
    for number, row in rows_of(file, COLUMNS):
        try:
            numbered.append((number, _count(row, book, by)))
        except StrokebookError as error:
            problems.append((number, str(error)))
    known = book.known_counts({count.press for _, count in numbered})
    fresh = [(number, count) for number, count in numbered if (count.press, count.at, count.value) not in known]
    fresh = list({(count.press, count.at, count.value): (number, count) for number, count in fresh}.values())
    refused = list(_write(book, fresh, recorded_at))
    told = sorted([*problems, *refused])
    return Taken(
        len(fresh) - len(refused), len(numbered) - len(fresh), tuple(f"line {number}: {why}" for number, why in told)
    )


def _write(book: Book, counts: list[tuple[int, Count]], recorded_at: datetime) -> Iterator[tuple[int, str]]:
    """Writes counts in order of their moments; gives those the book refused, with the reason.

    All go in at once where all are good; else halves are tried, so that one bad line costs no other.
    """
    if not counts:
        return
    counts = sorted(counts, key=lambda numbered: numbered[1].at)
    try:
        book.write([count for _, count in counts], recorded_at)
    except StrokebookError as error:
        if len(counts) == 1:
            yield counts[0][0], str(error)
            return
        half = len(counts) // 2
        yield from _write(book, counts[:half], recorded_at)
        yield from _write(book, counts[half:], recorded_at)


def _count(row: dict[str, str], book: Book, by: str) -> Count:
    figure = row["count"]
    if not (figure.isascii() and figure.isdigit() and len(figure) <= 15):
        raise Unreadable(f"{figure!r} is no count; write figures only.")
    return Count(at=book.zone.read(row["at"]), by=by, press=book.known.counter(row["press"]).id, value=int(figure))

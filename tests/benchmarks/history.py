"""Re-playing a quarter of a year: the proof, and the board as it stood, against plain reading of the same entries."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

from tests.benchmarks.books import DEMO_ENDS, Books
from tests.benchmarks.measuring import Measured, best, timed
from tests.benchmarks.writing import connected
from upkeep.book import Book
from upkeep.units.instants import utc_text

PER = 10_000
"""Entries to which durations are scaled."""
_AS_OF = DEMO_ENDS - timedelta(days=1)


def measured(books: Books) -> Iterator[Measured]:
    """The demo plant's book, scaled to 10,000 entries."""
    path = books.demo
    yield _scaled("proof", path, "")
    yield _scaled("board as it stood a day ago", path, utc_text(_AS_OF))


def _scaled(what: str, path: Path, until: str) -> Measured:
    condition = f"WHERE at <= '{until}'" if until else ""
    with closing(connected(path)) as connection:
        (number,) = connection.execute(f"SELECT count(*) FROM entries {condition}").fetchone()

        def ours() -> None:
            with Book.open(path) as book:
                if until:
                    book.board(_AS_OF)
                else:
                    assert book.prove().clean

        select = f"SELECT * FROM entries {condition} ORDER BY id"
        mine, theirs = best(lambda: timed(ours), lambda: timed(lambda: connection.execute(select).fetchall()), 5)
    return Measured(f"{what}, for {PER:,} entries", mine * PER / number, theirs * PER / number, "plain reading")

"""Re-playing a quarter of a year: proof, refill, and the board as it stood."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

from tests.benchmarks.books import DEMO_ENDS, Books
from tests.benchmarks.measuring import Measured, best, timed
from tests.benchmarks.writing import connected, copied
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
    yield _refill(path)


def _refill(path: Path) -> Measured:
    """Aim 1: making all tables again costs no more than proving them."""
    copy = path.with_name("refilled.book")
    copied(path, copy)
    with Book.open(copy) as book:
        number = book.prove().entries
        mine, theirs = best(lambda: timed(book.refill), lambda: timed(book.prove), 5)
    return Measured(f"refill of {PER:,} entries", mine * PER / number, theirs * PER / number, "proof of the same", 1.0)


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

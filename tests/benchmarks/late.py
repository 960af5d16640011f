"""A late entry on one item in a large book against the same in a small one."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import count

from tests.benchmarks.big_book import NOW, big_book
from tests.benchmarks.books import Books
from tests.benchmarks.measuring import Measured, Timed, middle, timed
from upkeep.book import Book
from upkeep.entries.counting import Count

SMALL = 1_000
"""Lines of the small book."""
TURNS = 60
_PRESS, _SHOWN = "P-0000", 115_000
"""A press that is read every morning, and what its counter shows on Monday a week ago."""


def measured(books: Books) -> Iterator[Measured]:
    """Aim 1.5: a count found a week late moves the lines of one press and of what hung on it, in either book."""
    small = big_book(books.folder / "small.book", SMALL)
    with Book.open(books.big) as large, Book.open(small) as little:
        ours, theirs = middle(_late_counts(large), _late_counts(little), TURNS)
    yield Measured("a late count in a book of 100,000 lines", ours, theirs, "in one of 1,000", 1.5)


def _late_counts(book: Book) -> Timed:
    """Writes one count after another, each between two that are there, a week ago; so late only the lead may."""
    turns = count(1)
    monday = NOW - timedelta(days=7, hours=3)
    book.known.items[_PRESS]  # a program that writes has long read its plant

    def once() -> float:
        turn = next(turns)
        entry = Count(at=monday + timedelta(minutes=turn), by="lea", press=_PRESS, value=_SHOWN + turn)
        return timed(lambda: book.write([entry], NOW))

    return once

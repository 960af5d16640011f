"""A board of the past and the figures of a month: what they cost in a book of ten years and in one of a single year."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

from tests.benchmarks.long_book import ENDS, long_book
from tests.benchmarks.measuring import Measured, best, timed
from tests.plants import at
from upkeep.book import Book

NOW = at(f"{ENDS} 09:00")
_BACK = {"one day": 4, "a year": 364, "nine years": 3285}
"""Days back to a working day; all lines are judged."""

_COMPARED = 4
"""Days back in the book of one year, to a board with a year of work behind it like the others: on its first day nothing
is signed or held yet, and a line that has nothing to tell costs two thirds."""


def measured(folder: Path) -> Iterator[Measured]:
    """Aims: 1.3 times the book of one year, 10 times the present board; figures of a month and open questions 1.5
    times."""
    with Book.open(long_book(folder / "one.book", 1)) as one, Book.open(long_book(folder / "ten.book", 10)) as ten:
        for back, days in _BACK.items():
            ours, theirs = best(_board(ten, days), _board(one, _COMPARED), 7)
            yield Measured(f"board of {back} back, book of ten years", ours, theirs, "book of one year", 1.3)
        ours, theirs = best(_board(ten, 364), _present(ten), 7)
        yield Measured("board of a year back, all lines", ours, theirs, "board of now", 10.0)
        ours, theirs = best(_figures(ten), _figures(one), 3)
        yield Measured("figures of the last month, book of ten years", ours, theirs, "book of one year", 1.5)
        ours, theirs = best(_questions(ten), _questions(one), 2)
        yield Measured("an open question of the week list, book of ten years", ours, theirs, "book of one year", 1.5)


def _board(book: Book, days: int) -> Callable[[], float]:
    moments = _moments(NOW - timedelta(days=days))
    return lambda: timed(lambda: book.board(next(moments), limit=500))


def _present(book: Book) -> Callable[[], float]:
    return lambda: timed(lambda: book.board(NOW, limit=500))


def _figures(book: Book) -> Callable[[], float]:
    last = ENDS - timedelta(days=3)
    return lambda: timed(lambda: book.figures(NOW, first=last - timedelta(days=28), last=last))


def _questions(book: Book) -> Callable[[], float]:
    """What one of them takes: on each working day things are changed without a count, and nobody has seen any."""
    asked = len(book.questions(NOW))
    return lambda: timed(lambda: book.questions(NOW)) / asked


def _moments(first: datetime) -> Iterator[datetime]:
    """A moment after another, since a past that is asked for twice is kept."""
    while True:
        yield first
        first += timedelta(seconds=1)

"""The first 50 of 100,000 lines, against a plain SELECT of 50 rows along an index of the same table."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from tests.benchmarks.big_book import NOW
from tests.benchmarks.books import Books
from tests.benchmarks.measuring import Measured, best, timed
from tests.benchmarks.writing import connected
from upkeep.book import Board, BoardQuery, Book
from upkeep.due.states import CALLING, State

_FIFTY = "SELECT * FROM lines WHERE standing = 'active' ORDER BY due_at, line LIMIT 50"
_FOUND = (
    "SELECT lines.* FROM lines_fts JOIN lines ON lines.id = lines_fts.rowid WHERE lines_fts MATCH '\"guard\"' "
    "ORDER BY due_at, line LIMIT 50"
)
_AIM = 5.0
_WINDOWS = {
    "first 50 of 100,000 lines": (BoardQuery(), 0, _AIM),
    "first 50 that call for somebody": (BoardQuery(states=frozenset(CALLING)), 0, _AIM),
    "lines 1,000 to 1,050": (BoardQuery(), 1_000, _AIM),
    "first 50 overdue lines, half of them with 41 shifts missed": (
        BoardQuery(states=frozenset({State.OVERDUE})),
        0,
        8.0,
    ),
    "first 50 of 500 lines found by a word": (BoardQuery(search="guard"), 0, _AIM),
}


def measured(books: Books) -> Iterator[Measured]:
    """Windows of a board that is open, then the first one of a book that is opened for it."""
    path = books.big
    with Book.open(path) as book, closing(connected(path)) as connection:
        for what, (query, offset, aim) in _WINDOWS.items():
            yield _window(what, book, connection, query, offset, aim)
    yield _cold(path)


def _window(
    what: str, book: Book, connection: sqlite3.Connection, query: BoardQuery, offset: int, aim: float
) -> Measured:
    def board() -> Board:
        return book.board(NOW, query, offset=offset)

    assert len(board().rows) == 50
    raw, against = (_FOUND, "the same MATCH, joined") if query.search else (_FIFTY, "indexed SELECT")
    ours, baseline = best(lambda: timed(board), lambda: timed(lambda: connection.execute(raw).fetchall()), 60)
    return Measured(what, ours, baseline, against, aim)


def _cold(path: Path) -> Measured:
    """What somebody pays who opens the book for one look; the file itself is in the memory of the system by then."""

    def ours() -> None:
        with Book.open(path) as book:
            book.board(NOW)

    def baseline() -> None:
        with closing(connected(path)) as connection:
            connection.execute(_FIFTY).fetchall()

    mine, theirs = best(lambda: timed(ours), lambda: timed(baseline), 15)
    return Measured("first 50 of 100,000 lines, book opened for it", mine, theirs, "connect and SELECT")

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
from upkeep.progress import nobody
from upkeep.store.disk.heeding import Heeding
from upkeep.store.file import BookFile
from upkeep.store.schema import SEARCH_BY
from upkeep.store.soundness import not_to_find

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
    yield _proof_of_the_search(path)


def _proof_of_the_search(path: Path) -> Measured:
    """What the proof of a book takes to see that every line can be found by its words; beside making the search once
    more."""
    lines = "SELECT id, searched FROM lines"
    with closing(BookFile.open(path)) as file, closing(sqlite3.connect(":memory:")) as memory:
        memory.execute(f"CREATE VIRTUAL TABLE found USING fts5(searched, tokenize = '{SEARCH_BY}')")

        def again() -> None:
            memory.execute("DELETE FROM found")
            memory.executemany("INSERT INTO found (rowid, searched) VALUES (?, ?)", file.rows(lines))

        mine, theirs = best(lambda: timed(lambda: list(not_to_find(file, Heeding(nobody)))), lambda: timed(again), 3)
    return Measured("proof that 100,000 lines are found by their words", mine, theirs, "the search made again", 5.0)


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

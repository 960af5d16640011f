"""The numbers above the board are kept between two questions, and never longer than they are true."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.plants import CLEAN, at, book_of, task, write
from upkeep.book import BoardQuery, Book

TASKS = (
    CLEAN,
    task("oil", "press", every="7 days", early_days=2, late_days=1, stop_days=3),
    task("see", "press", every="5 days"),
)
QUERIES = (
    BoardQuery(),
    BoardQuery(place="P-07"),
    BoardQuery(area="press hall", search="oil"),
    BoardQuery(task="clean"),
)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A book with a module on a press."""
    text = "2026-03-02 06:00 count P-07 0 by ana\n2026-03-02 06:00 fit M-12 in P-07 by ana"
    with book_of(tmp_path, text, tasks=TASKS) as opened:
        yield opened


def _agree(book: Book, moment: datetime) -> None:
    with Book.open(book.path) as fresh:
        for query in QUERIES:
            assert book.board(moment, query) == fresh.board(moment, query)


def test_they_follow_the_edges_that_lines_pass(book: Book) -> None:
    """Hour after hour over two weeks, and back again."""
    hours = [at("2026-03-02 07:00") + timedelta(hours=hour) for hour in range(0, 15 * 24, 7)]
    for moment in [*hours, *reversed(hours)]:
        _agree(book, moment)
    assert len({tuple(book.board(hour).by_state.items()) for hour in hours}) > 4


def test_they_follow_what_anybody_writes(book: Book) -> None:
    """A hold by another terminal, a sign-off by this one, at the same moment on show."""
    moment = at("2026-03-09 07:00")
    before = book.board(moment).by_state
    with Book.open(book.path) as other:
        write(other, '2026-03-09 06:30 hold P-03 by ben because "a noise"')
    _agree(book, moment)
    held = book.board(moment).by_state
    assert held != before
    write(book, f"2026-03-09 06:40 sign P-07/oil for {book.line('P-07/oil', moment).occurrence} by ana")
    _agree(book, moment)
    assert book.board(moment).by_state != held
    with Book.open(book.path) as other:
        write(other, "2026-03-09 06:50 count P-07 20 by ben")
    _agree(book, moment)
    assert book.board(moment).counts_as_of == at("2026-03-09 06:50")

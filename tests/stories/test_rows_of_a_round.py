"""The rows of a round: each keeps its number for the whole shift, whatever is done, fitted or opens meanwhile."""

from __future__ import annotations

from pathlib import Path

from tests.plants import CLEAN, INSPECT, book_of, task, write_each
from upkeep.book import Book

OIL = task("oil", "module", by=["operator"], every="1 day")
WIPE = task("wipe", "press", by=["operator"], each_shift=True)
FITTED = """
    2026-03-02 05:00 count P-07 0 by ana
    2026-03-02 05:00 fit M-12 in P-07 at 0 by ana
    2026-03-02 05:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 count P-07 10 by ana
"""


def rows(book: Book, moment: str) -> list[str]:
    """The rows of P-07 at a moment: number, line, and a tick where it is done."""
    walk = book.round("P-07", book.zone.read(moment))
    return [f"{row.number} {row.line.line}{' done' * row.done}" for row in walk.rows]


def test_a_row_that_is_done_stays_and_no_other_moves_up(tmp_path: Path) -> None:
    with book_of(tmp_path, FITTED, tasks=[CLEAN, OIL, WIPE]) as book:
        assert rows(book, "2026-03-02 06:10") == ["1 P-07/wipe", "2 M-12/clean", "3 M-12/oil"]
        write_each(book, "2026-03-02 06:20 sign P-07/wipe for 2026-03-02/early by ben")
        assert rows(book, "2026-03-02 06:21") == ["1 P-07/wipe done", "2 M-12/clean", "3 M-12/oil"]
        done = book.round("P-07", book.zone.read("2026-03-02 06:21")).rows[0].line
        assert (done.last_done_by, done.last_done_at) == ("ben", book.zone.read("2026-03-02 06:20"))
        assert rows(book, "2026-03-02 14:01") == ["1 P-07/wipe", "2 M-12/clean", "3 M-12/oil"]


def test_what_is_fitted_in_the_shift_takes_numbers_after_all_others(tmp_path: Path) -> None:
    """The module that went out keeps the number of what was done on it; A-12 would come before M-12 by its name."""
    with book_of(tmp_path, FITTED, tasks=[CLEAN, WIPE]) as book:
        write_each(
            book,
            """
            2026-03-02 06:20 sign M-12/clean for 2026-03-02/early by ben
            2026-03-02 07:00 unfit M-12 at P-07 500 to rack by ana
            2026-03-02 07:10 fit M-44 in P-07 at P-07 500 by ana
            2026-03-02 07:20 count P-07 900 by ana
            """,
        )
        assert rows(book, "2026-03-02 07:30") == ["1 P-07/wipe", "2 M-12/clean done", "3 M-44/clean"]


def test_a_module_that_left_undone_leaves_its_number_unused(tmp_path: Path) -> None:
    with book_of(tmp_path, FITTED, tasks=[CLEAN, WIPE]) as book:
        write_each(
            book,
            """
            2026-03-02 07:00 unfit M-12 at P-07 500 to rack by ana
            2026-03-02 07:10 fit M-44 in P-07 at P-07 500 by ana
            2026-03-02 07:20 count P-07 900 by ana
            """,
        )
        assert rows(book, "2026-03-02 07:30") == ["1 P-07/wipe", "3 M-44/clean"]


def test_a_round_tells_what_is_over_and_not_the_operators(tmp_path: Path) -> None:
    """A die set over its limit: the toolroom's work, and the operator has to know."""
    inspect = task("inspect", "die set", by=["maintenance technician"], strokes=5000, stop_at=110)
    with book_of(tmp_path, FITTED, tasks=[CLEAN, inspect]) as book:
        assert book.round("P-07", book.zone.read("2026-03-02 06:10")).over == ()
        write_each(book, "2026-03-02 09:00 count P-07 5600 by ana")
        (over,) = book.round("P-07", book.zone.read("2026-03-02 09:01")).over
        assert (over.line, over.state.value, over.remaining) == ("DS-031/inspect", "stop", -600)


def test_what_the_operator_signs_is_not_told_twice(tmp_path: Path) -> None:
    with book_of(tmp_path, FITTED, tasks=[INSPECT]) as book:
        write_each(book, "2026-03-02 09:00 count P-07 5600 by ana")
        walk = book.round("P-07", book.zone.read("2026-03-02 09:01"))
        assert [row.line.line for row in walk.rows] == ["DS-031/inspect"]
        assert walk.over == ()

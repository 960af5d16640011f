"""Anything can be put to a place without coming out of something, and stands there until it is moved again."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import INSPECT, at, book_of, define, item, number_of, state, write
from upkeep.book import Book
from upkeep.errors import StrokebookError
from upkeep.views.overview.whereabouts import WhereQuery, WhereStanding

BENCH = define("place", "bench", title="Bench", area="toolroom", route=3)
OUTSIDE = define("place", "grinder", title="At the grinder", area="outside", route=9)
THEIRS = item("DS-102", owner="Harbour Looms (invented)")
HUNG = """
2026-03-01 22:00 fit M-12 in P-07 by ana
2026-03-01 22:00 fit DS-031 in M-12 by ana
2026-03-01 22:00 fit CP-a in DS-031 by ana
"""


def shop(tmp_path: Path) -> Book:
    """M-12 with DS-031 hangs on P-07; DS-102 of a customer never hung anywhere."""
    return book_of(tmp_path, HUNG, tasks=[INSPECT], more=[BENCH, OUTSIDE, THEIRS])


def place(book: Book, key: str, moment: str) -> str:
    """Where an item is."""
    return next(row.place for row in book.where(at(moment)).rows if row.item == key)


def test_what_never_hung_anywhere_is_put_to_a_place_and_its_line_goes_with_it(tmp_path: Path) -> None:
    """From its rack to the bench, in pieces; the board shows it there; the past shows it where it was."""
    with shop(tmp_path) as book:
        assert place(book, "DS-102", "2026-03-02 06:00") == "rack"
        write(book, "2026-03-02 07:00 put DS-102 to bench in-pieces by ben")
        (row,) = book.where(at("2026-03-02 07:00"), WhereQuery(place="bench")).rows
        assert (row.item, row.standing, row.owner) == ("DS-102", WhereStanding.IN_PIECES, "Harbour Looms (invented)")
        line = book.line("DS-102/inspect", at("2026-03-02 07:00"))
        assert (line.place, line.area, line.owner) == ("bench", "toolroom", "Harbour Looms (invented)")
        assert place(book, "DS-102", "2026-03-02 06:59") == "rack"
        assert book.prove().clean


def test_who_strikes_it_puts_it_back(tmp_path: Path) -> None:
    """And a later change of tools counts before it."""
    with shop(tmp_path) as book:
        number = number_of(write(book, "2026-03-02 07:00 put DS-102 to bench by ben"))
        write(book, f'2026-03-02 07:01 strike #{number} by ben because "another one"')
        assert book.line("DS-102/inspect", at("2026-03-02 07:02")).place == "rack"
        write(book, "2026-03-02 08:00 put DS-102 to bench by ben")
        write(book, "2026-03-02 09:00 fit DS-102 in M-44 by ana")
        write(book, "2026-03-02 10:00 unfit DS-102 to grinder by ana")
        assert place(book, "DS-102", "2026-03-02 10:00") == "grinder"
        assert book.prove().clean


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("put DS-031 to bench", "DS-031 sits in M-12 then; take it out first"),
        ("put P-07 to bench", "P-07 is a press"),
        ("put DS-102 to benhc", "There is no place 'benhc'"),
    ],
)
def test_what_sits_in_something_comes_out_first(tmp_path: Path, words: str, sentence: str) -> None:
    """Refused with what to do instead."""
    with shop(tmp_path) as book, pytest.raises(StrokebookError, match=sentence):
        write(book, f"2026-03-02 07:00 {words} by ben")


def test_everything_in_the_plant_stands_under_its_place_with_what_sits_in_it(tmp_path: Path) -> None:
    """Inside is deeper, beside is not; held before all else; by owner, by standing, by words."""
    with shop(tmp_path) as book:
        write(book, '2026-03-02 06:00 hold DS-031 by lea because "chip seen"')
        moment = at("2026-03-02 07:00")
        on_press = [row for row in book.where(moment).rows if row.place == "P-07"]
        assert [(row.item, row.depth, row.inside) for row in on_press] == [
            ("P-07", 0, None), ("M-12", 1, "P-07"), ("DS-031", 2, "M-12"), ("CP-a", 3, "DS-031"),
        ]  # fmt: skip
        held = book.where(moment, WhereQuery(standing=WhereStanding.HELD)).rows
        assert [row.item for row in held] == ["DS-031"]
        theirs = book.where(moment, WhereQuery(owner="harbour looms (INVENTED)")).rows
        assert [row.item for row in theirs] == ["DS-102"]
        assert [row.item for row in book.where(moment, WhereQuery(search="rack ds-1")).rows] == ["DS-102"]
        assert state(book, "DS-031/inspect", "2026-03-02 07:00") == "held"

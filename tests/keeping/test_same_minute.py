"""Counts and moves told for one minute, or late, in every order: the strokes are those of the whole story."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import pytest

from tests.by_hand import hand_of
from tests.plants import CLEAN, INSPECT, book_of, lines_of, strokes, write, write_each
from tests.shop_plant import opened_copy
from upkeep.book import Book
from upkeep.errors import Refused

END = "2026-03-03 08:00"
LATER = " recorded 2026-03-03 07:00"

STORIES = {
    "a module fitted in the minute of two counts": (
        "2026-03-02 06:00 count P-07 100 by ana",
        "2026-03-02 10:00 count P-07 200 by ana",
        "2026-03-02 10:00 count P-07 210 by ben",
        "2026-03-02 10:00 fit M-12 in P-07 by ana",
        "2026-03-02 14:00 count P-07 300 by ana",
    ),
    "a module taken out in the minute of two counts": (
        "2026-03-02 05:00 fit M-12 in P-07 by ana",
        "2026-03-02 06:00 count P-07 100 by ana",
        "2026-03-02 10:00 count P-07 200 by ana",
        "2026-03-02 10:00 count P-07 210 by ben",
        "2026-03-02 10:00 unfit M-12 by ana",
    ),
    "a change without a count, read before and after": (
        "2026-03-02 05:00 fit M-12 in P-07 by ana",
        "2026-03-02 06:00 count P-07 100 by ana",
        "2026-03-02 09:00 count P-07 180 by ana",
        "2026-03-02 10:00 unfit M-12 by ana",
        "2026-03-02 14:00 count P-07 300 by ana",
    ),
    "a module fitted after the last count but one": (
        "2026-03-02 06:00 count P-07 100 by ana",
        "2026-03-02 09:00 count P-07 180 by ana",
        "2026-03-02 10:00 fit M-12 in P-07 by ana",
        "2026-03-02 10:00 fit DS-031 in M-12 by ana",
        "2026-03-02 14:00 count P-07 300 by ana",
    ),
    "a set taken out and put back in one minute, uncounted": (
        "2026-03-02 05:00 fit M-12 in P-07 by ana",
        "2026-03-02 05:00 fit DS-031 in M-12 by ana",
        "2026-03-02 06:00 count P-07 100 by ana",
        "2026-03-02 10:00 unfit DS-031 by ana",
        "2026-03-02 10:00 fit DS-031 in M-12 by ana",
        "2026-03-02 14:00 count P-07 300 by ana",
    ),
    "a set that goes from module to module in one minute": (
        "2026-03-02 05:00 fit M-12 in P-07 by ana",
        "2026-03-02 05:00 fit M-44 in P-03 by ana",
        "2026-03-02 05:00 fit DS-031 in M-12 at 50 by ana",
        "2026-03-02 10:00 unfit DS-031 at 90 by ana",
        "2026-03-02 10:00 fit DS-031 in M-44 at 500 by ana",
    ),
}


@pytest.fixture(scope="module")
def untold(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book in which nothing has happened yet, copied for every telling."""
    folder = tmp_path_factory.mktemp("untold")
    with book_of(folder, tasks=[CLEAN, INSPECT]) as book:
        book.backup(folder / "shop.book")
    return folder / "shop.book"


def tell(book: Book, lines: tuple[str, ...]) -> bool:
    """Whether a story can be told in an order, all of it on Tuesday."""
    try:
        write_each(book, "\n".join(line + LATER for line in lines))
    except Refused:
        return False
    return True


@pytest.mark.parametrize("story", STORIES)
def test_the_order_in_which_a_story_is_told_changes_no_stroke(untold: Path, story: str) -> None:
    """Every order the book takes ends in the same strokes, those worked out by hand, and in a clean proof.

    About forty orders are tried; which they are does not matter, but that they differ.
    """
    seen = []
    orders = list(permutations(STORIES[story]))
    for lines in orders[:: 1 + len(orders) // 40]:
        with opened_copy(untold) as book:
            if tell(book, lines):
                assert book.prove().differences == (), lines
                hand = hand_of(book)
                done = {item: strokes(book, item, END) for item in ("M-12", "M-44", "DS-031", "P-07")}
                assert done == {item: hand.strokes(item, book.zone.read(END)) for item in done}, lines
                seen.append(done)
    assert len(seen) >= 2
    assert all(done == seen[0] for done in seen)


def test_out_and_in_again_within_a_minute_leaves_nothing_to_guess(untold: Path) -> None:
    """The set hung on P-07 all the time, so what P-07 did it did, though nobody read the counter at 10:00."""
    with opened_copy(untold) as book:
        assert tell(book, STORIES["a set taken out and put back in one minute, uncounted"])
        assert strokes(book, "DS-031", END) == (200, 200, 200)


def test_a_story_is_told_with_lines_the_grammar_reads() -> None:
    """None of them is lost to a slip of the pen."""
    assert all(lines_of("\n".join(lines)) == list(lines) for lines in STORIES.values())


def told(untold: Path, lines: tuple[str, ...]) -> dict[str, tuple[int, int, int]] | None:
    """The strokes of a story; None where the book does not take it."""
    with opened_copy(untold) as book:
        return done_in(book) if tell(book, lines) else None


def done_in(book: Book) -> dict[str, tuple[int, int, int]]:
    """The strokes of what moves in the stories."""
    return {item: strokes(book, item, END) for item in ("M-12", "M-44", "DS-031")}


@pytest.mark.parametrize("story", STORIES)
def test_a_move_struck_in_its_own_minute_is_as_if_nobody_had_told_it(untold: Path, story: str) -> None:
    """Whichever move of 10:00 is struck: the strokes are those of the story without it, and the proof is clean."""
    moves = [line for line in STORIES[story] if "10:00" in line and "fit" in line]
    without = {move: told(untold, tuple(line for line in STORIES[story] if line != move)) for move in moves}
    assert any(without.values())
    for move in [move for move in moves if without[move]]:
        with opened_copy(untold) as book:
            assert tell(book, STORIES[story])
            number = next(line.entry for line in book.history() if line.text.split()[:4] == move.split()[:4])
            write(book, f'2026-03-03 07:30 strike #{number} by lea because "never was"')
            assert book.prove().differences == (), move
            assert done_in(book) == without[move], move

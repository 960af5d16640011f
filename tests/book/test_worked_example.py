"""Strokes follow the punch from press to press: a worked example, invented figures, with every sum shown.

P-07 is read Monday 06:00, 10:40, 14:00 and Tuesday 06:00; P-03 Monday 10:55, 13:30 and 14:00.  At 10:40 module M-12
with die set DS-031 leaves P-07 for M-44 with DS-102; at 10:55 it goes onto P-03; at 13:30 its conductor punch CP-a
makes way for CP-b.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import INSPECT, book_of, line_at, strokes, why_of, write, write_each
from upkeep.book import Book

MORNING = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
    2026-03-02 06:00 fit IP-1 in DS-031 by ana
    2026-03-02 06:00 fit DS-102 in M-44 by ana
"""
CHANGE_WITH_COUNT = """
    2026-03-02 10:40 unfit M-12 at 1206950 by ana
    2026-03-02 10:40 fit M-44 in P-07 at 1206950 by ana
"""
CHANGE_WITHOUT_COUNT = """
    2026-03-02 10:40 unfit M-12 by ana
    2026-03-02 10:40 fit M-44 in P-07 by ana
"""
REST = """
    2026-03-02 10:55 fit M-12 in P-03 at 388120 by ana
    2026-03-02 13:30 unfit CP-a at 389900 by ana
    2026-03-02 13:30 fit CP-b in DS-031 at 389900 by ana
    2026-03-02 14:00 count P-07 1209410 by ana
    2026-03-02 14:00 count P-03 390240 by ana
    2026-03-03 06:00 count P-07 1209438 by ana
"""
AFTER = "2026-03-03 07:00"


def exactly(number: int) -> tuple[int, int, int]:
    """Low, best and high where nothing was guessed."""
    return number, number, number


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """The example with all its readings."""
    return book_of(tmp_path, MORNING + CHANGE_WITH_COUNT + REST, tasks=[INSPECT])


@pytest.fixture
def guessed(tmp_path: Path) -> Book:
    """The example with the 10:40 reading missing."""
    return book_of(tmp_path, MORNING + CHANGE_WITHOUT_COUNT + REST, tasks=[INSPECT])


def test_a_die_set_carries_its_strokes_from_one_press_to_the_next(book: Book) -> None:
    """(1,206,950 - 1,204,300) + (390,240 - 388,120) = 2,650 + 2,120 = 4,770."""
    assert strokes(book, "DS-031", AFTER) == exactly(4_770)
    assert strokes(book, "M-12", AFTER) == exactly(4_770)


def test_each_punch_has_the_strokes_it_really_did(book: Book) -> None:
    """CP-a 2,650 + 1,780 = 4,430; CP-b 340; together the 4,770 of the set and of every part that stayed in it."""
    assert strokes(book, "CP-a", AFTER) == exactly(4_430)
    assert strokes(book, "CP-b", AFTER) == exactly(340)
    assert strokes(book, "IP-1", AFTER) == exactly(4_430 + 340)


def test_strokes_overnight_count_for_the_set_that_hung_there(book: Book) -> None:
    """DS-102: 1,209,438 - 1,206,950 = 2,488, of which 28 came overnight."""
    assert strokes(book, "DS-102", AFTER) == exactly(2_488)
    assert strokes(book, "DS-102", "2026-03-02 14:00") == exactly(2_460)


def test_what_hung_there_and_what_nobody_did_add_up_to_the_counter(book: Book) -> None:
    """P-07 did 5,138: 2,650 under M-12, 2,488 under M-44, none under nothing."""
    assert strokes(book, "P-07", AFTER) == exactly(5_138)
    assert book.life("P-07", book.zone.read(AFTER)).unattributed == 0


def test_without_the_reading_at_the_change_the_split_is_a_guess_that_says_so(guessed: Book) -> None:
    """5,110 are known from 06:00 to 14:00; 4 h 40 of 8 h gives 2,981 as best, anything from 0 to 5,110 can be true."""
    assert strokes(guessed, "DS-031", "2026-03-02 10:40") == (0, 0, 0)
    low, best, high = strokes(guessed, "DS-031", AFTER)
    assert (low - 2_120, best - 2_120, high - 2_120) == (0, 2_981, 5_110)
    low, best, high = strokes(guessed, "DS-102", AFTER)
    assert (low - 28, best - 28, high - 28) == (0, 5_110 - 2_981, 5_110)
    assert strokes(guessed, "P-07", AFTER) == exactly(5_138)
    assert guessed.life("P-07", guessed.zone.read(AFTER)).unattributed == 0


def test_the_mark_stays_on_the_line_and_names_the_band(guessed: Book) -> None:
    """Readings after the change do not make the split any better known."""
    write_each(guessed, "2026-03-04 06:00 count P-03 391240 by ana\n2026-03-04 06:00 count P-07 1209500 by ana")
    line = line_at(guessed, "DS-031/inspect", "2026-03-04 07:00")
    assert (line.strokes, line.strokes_high, line.estimated) == (6_101, 8_230, True)
    assert "(estimated: between 3,120 and 8,230, because a count was not taken)" in why_of(guessed, line)


def test_the_missing_reading_told_later_settles_the_split(guessed: Book) -> None:
    """Somebody finds the note with 1,206,950 on it: the mark goes, since nothing is guessed any more."""
    told = write(guessed, "2026-03-02 10:40 count P-07 1206950 by ana recorded 2026-03-04 09:00")
    assert strokes(guessed, "DS-031", AFTER) == exactly(4_770)
    assert strokes(guessed, "DS-102", AFTER) == exactly(2_488)
    assert not line_at(guessed, "DS-031/inspect", "2026-03-04 09:00").estimated
    assert guessed.prove().differences == ()
    assert [change.line for change in told.changes] == ["DS-031/inspect"]

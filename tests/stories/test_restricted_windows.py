"""A suspect window that quality lets begin later, and when a hold list is there at all.  All figures are invented."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import at, book_of, number_of, write
from tests.stories.test_suspect_product import FAILED, LATER, MORE, MORNING, MOVED, only, per_press
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.papers.suspect_text import hold_list_text
from upkeep.wording.sentences import ENGLISH


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """DS-031 was good at 06:15 on P-07, moved to P-03 and failed there at 14:05."""
    with book_of(tmp_path, MORNING + MOVED + FAILED, more=MORE) as opened:
        yield opened


def test_a_window_is_restricted_by_quality_with_the_calculation_and_keeps_it(book: Book) -> None:
    """It begins at the reading before the named stroke, so nothing that may be bad is left out."""
    number = only(book).number
    with pytest.raises(Refused, match="may not let a suspect window begin later"):
        write(book, f'2026-03-02 15:00 restrict #{number} from 3000 by ben because "trend"')
    with pytest.raises(Refused, match="is outside it"):
        write(book, f'2026-03-02 15:00 restrict #{number} from 9000 by lea because "trend"')
    write(book, f'2026-03-02 15:00 restrict #{number} from 3000 by lea because "trend crosses at 3,100"')
    found = only(book)
    assert per_press(found) == [("P-03", 2120)]
    assert "trend crosses at 3,100 (Lea)" in str(found.restricted)
    page = hold_list_text(found, book.zone, ENGLISH)
    assert "From   2026-03-02 10:55: restricted to begin at 3,000 strokes of DS-031" in page
    assert "Without the restriction from: its last good check (#" in page


def test_a_restricted_window_loses_no_line_that_was_judged(book: Book) -> None:
    """Neither a line before its new beginning nor one that the beginning lies within."""
    number = only(book).number
    write(
        book, f'2026-03-02 15:00 disposition #{number} P-07 since 2026-03-02T06:15:00Z sorted by lea because "12 out"'
    )
    restricted = write(book, f'2026-03-02 15:10 restrict #{number} from 3000 by lea because "trend"')
    assert [(line.press, line.strokes, line.open) for line in only(book).lines] == [
        ("P-07", 2650, False), ("P-03", 2120, True),
    ]  # fmt: skip
    write(book, f'2026-03-02 15:20 disposition #{number} P-03 since 2026-03-02T10:55:00Z scrapped by lea because "all"')
    write(book, f'2026-03-02 15:30 strike #{number_of(restricted)} by lea because "trend was wrong"')
    (found,) = book.suspects(LATER).lists(closed=True)
    assert [line.judged.how for line in found.lines if line.judged] == ["sorted", "scrapped"]


def test_a_window_restricted_by_strokes_counts_those_done_before_it_opened(tmp_path: Path) -> None:
    """1,000 strokes at the good check, 5,000 at the failed one: from 2,500 on is after the reading of 2,000."""
    text = """
        2026-03-02 06:00 count P-07 0 by ana
        2026-03-02 06:00 fit M-12 in P-07 at 0 by ana
        2026-03-02 06:00 fit DS-031 in M-12 by ana
        2026-03-02 07:00 count P-07 1000 by ana
        2026-03-02 07:00 check DS-031 first-off of CR-1 with G-1 crimp-height=1.2,1.2 by ana
        2026-03-02 08:00 count P-07 2000 by ana
        2026-03-02 09:00 count P-07 3000 by ana
        2026-03-02 10:00 count P-07 4000 by ana
        2026-03-02 11:00 count P-07 5000 by ana
        2026-03-02 11:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.27,1.27 by lea
    """
    with book_of(tmp_path, text, more=MORE) as book:
        number = only(book).number
        assert per_press(only(book)) == [("P-07", 4000)]
        write(book, f'2026-03-02 12:00 restrict #{number} from 2500 by lea because "trend crosses at 2,600"')
        found = only(book)
        assert (found.start, per_press(found)) == (at("2026-03-02 08:00"), [("P-07", 3000)])
        assert "to begin at 2,500 strokes of DS-031 instead of 1,000 strokes" in str(found.restricted)


@pytest.mark.parametrize(("moment", "lists"), [("2026-03-02 14:04:59", 0), ("2026-03-02 14:05", 1)])
def test_a_hold_list_is_there_from_the_very_minute_of_its_failed_check(book: Book, moment: str, lists: int) -> None:
    """Asked as of that minute, and as of the second before."""
    suspects = book.suspects(at(moment))
    assert len(suspects.lists()) == lists
    if lists:
        assert suspects.window("DS-031", "crimp-height").number == suspects.lists()[0].number

"""A module changes presses and nobody reads the counter: an estimate that says so.  All figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of, line_at, state, strokes, task, why_of, write, write_each
from upkeep.book import Book
from upkeep.errors import Refused

SOON = task("inspect", "die set", strokes=4_500, stop_at=110, graded=True)
LINE, AFTERNOON = "DS-031/inspect", "2026-03-02 14:00"
MOVED = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 10:40 unfit M-12 by ana
    2026-03-02 10:40 fit M-44 in P-07 by ana
    2026-03-02 14:00 count P-07 1209410 by ana
"""
READ_AFTER_ALL = "2026-03-02 10:40 count P-07 1206950 by ana recorded 2026-03-03 06:10"


def asked(book: Book, moment: str) -> list[str]:
    """What the book asks."""
    return [str(one.asks) for one in book.questions(at(moment))]


def test_what_was_not_read_is_shared_by_the_best_evidence_and_shown_as_a_band(tmp_path: Path) -> None:
    """5,110 in 8 hours, of which 4 h 40 with DS-031: 2,981, and anything from 0 to 5,110 can be true."""
    book = book_of(tmp_path, MOVED, tasks=[SOON])
    assert strokes(book, "DS-031", AFTERNOON) == (0, 2_981, 5_110)
    assert strokes(book, "M-44", AFTERNOON) == (0, 5_110 - 2_981, 5_110)
    assert "estimated: between 0 and 5,110, because a count was not taken" in why_of(
        book, line_at(book, LINE, AFTERNOON)
    )


def test_quantities_made_are_better_evidence_than_time(tmp_path: Path) -> None:
    """500 pieces before the change and 4,500 after it: a tenth of 5,110."""
    made = """
        2026-03-02 10:40 quantity P-07 500 over 280 min by ana
        2026-03-02 14:00 quantity P-07 4500 over 200 min by ana
    """
    book = book_of(tmp_path, MOVED + made, tasks=[SOON])
    assert strokes(book, "DS-031", AFTERNOON) == (0, 511, 5_110)
    assert "shared by quantities made" in asked(book, AFTERNOON)[0]


def test_it_is_due_by_the_best_guess_and_stopped_by_the_most_it_can_be(tmp_path: Path) -> None:
    """2,981 of 4,500 is not due for long; 5,110 would be beyond the stop at 4,950."""
    book = book_of(tmp_path, MOVED, tasks=[SOON])
    line = line_at(book, LINE, AFTERNOON)
    assert (line.strokes, line.strokes_high, line.remaining, line.state) == (2_981, 5_110, 1_519, "stop")
    without_stop = task("inspect", "die set", strokes=4_500, graded=True)
    (tmp_path / "other").mkdir()
    assert state(book_of(tmp_path / "other", MOVED, tasks=[without_stop]), LINE, AFTERNOON) == "later"


def test_the_missing_count_is_asked_for_once(tmp_path: Path) -> None:
    """One question for both modules, and the same one a week later."""
    book = book_of(tmp_path, MOVED, tasks=[SOON])
    (question,) = asked(book, AFTERNOON)
    assert "The counter of P-07 was not read at 2026-03-02 10:40 (DS-031, M-12, M-44 moved). If the count" in question
    write(book, "2026-03-09 06:00 count P-07 1219410 by ana")
    assert asked(book, "2026-03-09 06:00") == [question]


def test_the_count_found_after_all_settles_the_split(tmp_path: Path) -> None:
    """1,206,950 stood on a slip of paper: 2,650, and the press need not stop."""
    book = book_of(tmp_path, MOVED, tasks=[SOON])
    told = write(book, READ_AFTER_ALL)
    assert [(change.line, change.before, change.after) for change in told.changes] == [(LINE, "stop", "later")]
    assert strokes(book, "DS-031", AFTERNOON) == (2_650, 2_650, 2_650)
    assert asked(book, AFTERNOON) == []


def test_without_it_the_mark_stays(tmp_path: Path) -> None:
    """Inspected, the interval begins anew without doubt; what the set has done since new is never known again."""
    book = book_of(tmp_path, MOVED, tasks=[SOON])
    write_each(
        book,
        """
        2026-03-02 15:00 sign DS-031/inspect for 4500 grade 0 by tom
        2026-06-02 06:00 count P-07 1300000 by ana
        """,
    )
    assert not line_at(book, LINE, "2026-06-02 06:00").estimated
    assert book.life("DS-031", at("2026-06-02 06:00")).estimated
    assert strokes(book, "DS-031", "2026-06-02 06:00") == (0, 2_981, 5_110)


# Two die sets carry one label


def test_a_die_set_that_hangs_elsewhere_cannot_be_fitted_a_second_time(tmp_path: Path) -> None:
    """Somebody copied a label: the second DS-031 is in a hand while the first one runs."""
    book = book_of(tmp_path, MOVED)
    with pytest.raises(Refused) as told:
        write(book, "2026-03-02 15:00 fit DS-031 in M-44 by ben")
    assert "DS-031 is still in M-12" in str(told.value)
    assert "which one is in your hand?" in str(told.value)

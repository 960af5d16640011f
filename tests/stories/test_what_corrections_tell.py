"""A corrected count, fitting or strike tells what it shows of work already done; done stays done."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import CLEAN, book_of, number_of, task, write
from upkeep.book import Book

LATER = "recorded 2026-03-03 07:00 corrects"
OIL = task("oil", "die set", strokes=5000, plan_from=80)
BEFORE = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:01 fit M-12 in P-07 at P-07 10000 by ana
    2026-03-02 06:02 fit DS-031 in M-12 at P-07 10000 by ana
"""


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A press with a set whose oil is asked for at 5,000 strokes."""
    with book_of(tmp_path, BEFORE, tasks=[OIL, CLEAN]) as opened:
        yield opened


def told_by(book: Book, line: str) -> list[str]:
    """What an entry is answered with that speaks of what is known now."""
    return [str(note) for note in write(book, line).notes if "by what is known now" in str(note)]


def test_a_corrected_count_tells_that_work_was_done_early(book: Book) -> None:
    """15,000 was a slip for 12,000: the oil was not open yet when it was signed."""
    count = number_of(write(book, "2026-03-02 10:00 count P-07 15000 by ana"))
    sign = number_of(write(book, "2026-03-02 10:05 sign DS-031/oil for 5000 by ana"))
    told = told_by(book, f'2026-03-02 10:00 count P-07 12000 by ana {LATER} #{count} because "slip"')
    assert told == [
        f"DS-031/oil, signed 2026-03-02 10:05 by Ana (#{sign}): by what is known now it was done early, before its "
        "window opened. It stays done."
    ]
    assert book.history("DS-031")[0].struck_by is None


def test_a_corrected_count_tells_that_work_was_done_late(book: Book) -> None:
    """14,200 was a slip for 16,200: the oil was overdue by then."""
    count = number_of(write(book, "2026-03-02 10:00 count P-07 14200 by ana"))
    sign = number_of(write(book, "2026-03-02 10:05 sign DS-031/oil for 5000 by ana"))
    (told,) = told_by(book, f'2026-03-02 10:00 count P-07 16200 by ana {LATER} #{count} because "slip"')
    assert f"(#{sign}): by what is known now it was done late. It stays done." in told


def test_a_struck_count_tells_that_work_was_done_early(book: Book) -> None:
    """It was another press: by the count after it the set had hardly run."""
    count = number_of(write(book, "2026-03-02 10:00 count P-07 14800 by ana"))
    sign = number_of(write(book, "2026-03-02 10:05 sign DS-031/oil for 5000 by ana"))
    write(book, "2026-03-02 12:00 count P-07 14900 by ana")
    told = told_by(book, f'2026-03-02 13:00 strike #{count} by ana because "another press"')
    assert [f"DS-031/oil, signed 2026-03-02 10:05 by Ana (#{sign})" in each and "early" in each for each in told] == [
        True
    ]


def test_a_struck_fitting_tells_that_a_clean_was_not_needed(book: Book) -> None:
    """The module hung elsewhere all shift: nobody had to clean it."""
    write(book, "2026-03-02 13:55 count P-07 12000 by ana")
    write(book, "2026-03-02 13:56 sign M-12/clean for 2026-03-02/early by ben")
    fitting = next(line.entry for line in book.history("M-12") if "fit M-12" in line.text)
    told = told_by(book, f'2026-03-02 15:00 strike #{fitting} by ana because "it was M-44"')
    assert any("M-12/clean for 2026-03-02/early, signed by Ben" in each and "not needed" in each for each in told)


def test_a_corrected_count_tells_what_was_never_asked_for(book: Book) -> None:
    """The late shift ran after all: its clean was never asked for."""
    write(book, "2026-03-02 13:59 count P-07 12000 by ana")
    count = number_of(write(book, "2026-03-02 21:59 count P-07 12000 by ana"))
    write(book, "2026-03-03 06:30 count P-07 13000 by ana")
    told = told_by(book, f'2026-03-02 21:59 count P-07 12800 by ana {LATER} #{count} because "misread"')
    assert "M-12/clean for 2026-03-02/late was never asked for, and by what is known now it should have been." in told


def test_what_changes_nothing_of_work_done_tells_nothing(book: Book) -> None:
    """Ten strokes more or less."""
    count = number_of(write(book, "2026-03-02 10:00 count P-07 14500 by ana"))
    write(book, "2026-03-02 10:05 sign DS-031/oil for 5000 by ana")
    assert told_by(book, f'2026-03-02 10:00 count P-07 14510 by ana {LATER} #{count} because "slip"') == []


# Told late, and no correction


def test_a_count_told_late_tells_that_work_was_done_late(book: Book) -> None:
    """By the readings of 06:00 and 14:00 the set had done about half at 10:05; it had done all of it by then."""
    write(book, "2026-03-02 14:00 count P-07 20000 by ana")
    sign = number_of(write(book, "2026-03-02 08:00 sign DS-031/oil for 5000 by lea"))
    told = told_by(book, "2026-03-02 07:55 count P-07 17500 by ana recorded 2026-03-02 15:00")
    assert told == [
        f"DS-031/oil, signed 2026-03-02 08:00 by Lea (#{sign}): by what is known now it was done late. It stays done."
    ]


def test_a_change_of_tools_told_late_tells_that_work_was_done_early(book: Book) -> None:
    """The set was away while the press did most of its strokes: at 10:05 nothing was open yet."""
    write(book, "2026-03-02 10:00 count P-07 14800 by ana")
    sign = number_of(write(book, "2026-03-02 10:05 sign DS-031/oil for 5000 by ana"))
    away = """
        2026-03-02 06:30 unfit DS-031 at P-07 10100 by ana recorded 2026-03-02 15:00
        2026-03-02 09:30 fit DS-031 in M-12 at P-07 14000 by ana recorded 2026-03-02 15:00
    """
    told = told_by(book, away)
    assert any(f"(#{sign}): by what is known now it was done early, before its window opened." in each for each in told)


def test_a_removal_told_late_tells_that_a_clean_was_not_needed(book: Book) -> None:
    """The module had been taken out before the late shift, whose clean somebody signed."""
    write(book, "2026-03-02 13:59 count P-07 12000 by ana")
    write(book, "2026-03-02 21:00 count P-07 13000 by ana")
    write(book, "2026-03-02 21:30 sign M-12/clean for 2026-03-02/late by ben")
    told = told_by(book, "2026-03-02 13:59:30 unfit M-12 at P-07 12000 by ana recorded 2026-03-02 22:30")
    assert any("M-12/clean for 2026-03-02/late, signed by Ben" in each and "not needed" in each for each in told)


def test_a_count_told_in_its_time_tells_nothing_of_work_done(book: Book) -> None:
    """It is the newest of its press; that it moves what was estimated is no news."""
    sign = "2026-03-02 10:05 sign DS-031/oil for 5000 by lea"
    write(book, sign)
    assert told_by(book, "2026-03-02 12:00 count P-07 18000 by ana") == []

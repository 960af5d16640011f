"""Strokes done beyond an interval count into the next one, as published for the hundred hours of aircraft.

Source: United States, Code of Federal Regulations, title 14, section 91.409(b): an inspection within each 100 hours of
time in service; the limit may be exceeded by not more than 10 hours on the way to where it can be done, and the excess
must be included in computing the next 100 hours.  So an inspection at 108 hours leaves 92, and the next is due at 200.
Here one stroke stands for one hour; the tolerance of ten becomes late_strokes.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import book_of, line_at, state, task, why_of
from upkeep.book import Book

LINE = "P-07/hundred"


def inspected_at(tmp_path: Path, hours: int, later: int, *, deduct: bool = True) -> Book:
    """In service for some hours, inspected, and then in service up to a later number of hours."""
    rule = task("hundred", "press", strokes=100, late_strokes=10, deduct_overrun=deduct)
    return book_of(
        tmp_path,
        f"""
        2026-03-02 06:00 count P-07 0 by ana
        2026-03-02 10:00 count P-07 {hours} by ana
        2026-03-02 11:00 sign {LINE} for 100 by tom
        2026-03-02 14:00 count P-07 {later} by ana
        """,
        tasks=[rule],
    )


@pytest.mark.parametrize("done_at", [100, 101, 108, 110])
def test_the_excess_is_included_in_the_next_hundred(tmp_path: Path, done_at: int) -> None:
    """Done at 108: 92 are left and the next is due at 200, as it is when done at 100, 101 or 110."""
    line = line_at(inspected_at(tmp_path, done_at, done_at), LINE, "2026-03-02 15:00")
    assert (line.occurrence, line.due_strokes) == ("200", 200 - done_at)


@pytest.mark.parametrize(
    ("hours", "expected"), [(199, "open"), (200, "due"), (210, "due"), (211, "overdue")]
)  # fmt: skip
def test_after_an_inspection_at_108_the_edges_are_those_of_200(tmp_path: Path, hours: int, expected: str) -> None:
    """Due at 200, in tolerance to 210."""
    assert state(inspected_at(tmp_path, 108, hours), LINE, "2026-03-02 15:00") == expected


def test_an_inspection_before_its_hundred_lends_nothing_to_the_next(tmp_path: Path) -> None:
    """Within the preceding 100 hours: done at 95, the next is due at 195."""
    assert line_at(inspected_at(tmp_path, 95, 95), LINE, "2026-03-02 15:00").occurrence == "195"


def test_where_the_excess_is_not_deducted_the_interval_floats(tmp_path: Path) -> None:
    """Done at 108, the next is due at 208."""
    line = line_at(inspected_at(tmp_path, 108, 108, deduct=False), LINE, "2026-03-02 15:00")
    assert (line.occurrence, line.due_strokes) == ("208", 100)


def test_the_line_says_what_was_deducted(tmp_path: Path) -> None:
    """Whoever reads 92 sees why it is not 100."""
    book = inspected_at(tmp_path, 108, 108)
    why = why_of(book, line_at(book, LINE, "2026-03-02 15:00"))
    assert "0 of 92 strokes since it was last done, 92 left (less the 8 strokes it ran over last time)" in why

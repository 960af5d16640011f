"""A part of which nobody knows what it has done: one number of it everywhere.  All figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of, item, line_at, task, why_of, write_each
from upkeep.errors import Refused
from upkeep.papers.board_text import life_text
from upkeep.wording.sentences import ENGLISH

LIFE = task("change", "die set", life=True)
INSPECT = task("inspect", "conductor punch", strokes=50_000, graded=True)
PUNCH = item("CP-a", life=100_000)
RUN = """
    2026-03-02 06:00 count P-07 1000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
    2026-03-02 14:00 count P-07 3000 by ana
    2026-03-02 15:00 unknown-life CP-a by tom because "two punches in one drawer"
"""
KNOWN = "2026-03-02 16:00"


def test_life_order_and_board_tell_one_number_of_a_part_of_unknown_life(tmp_path: Path) -> None:
    """None is left: not 98,000 on one page and none on another."""
    book = book_of(tmp_path, RUN, tasks=[LIFE, INSPECT], more=[PUNCH])
    numbers = book.life("CP-a", at(KNOWN))
    assert (numbers.life_left, numbers.life_unknown) == (0, True)
    assert "life left                  not known: none is left until it is inspected" in life_text(
        numbers, book.zone, ENGLISH
    )
    line = line_at(book, "DS-031/change", KNOWN)
    assert (line.remaining, line.state) == (0, "due")
    assert "what CP-a has done is not known (#" in why_of(book, line)
    (written,) = write_each(book, "2026-03-02 16:00 order A-1 500 with DS-031 on P-07 from 2026-03-03 by ana")
    assert any("500 strokes past the limit of DS-031/change: 0 left" in str(note) for note in written.notes)
    assert book.prove().differences == ()


def test_an_inspection_or_a_rework_gives_it_strokes_again(tmp_path: Path) -> None:
    """Inspected, it goes on by what the book counted; reworked, by what the rework granted."""
    book = book_of(tmp_path, RUN, tasks=[LIFE, INSPECT], more=[PUNCH])
    write_each(book, "2026-03-02 17:00 sign CP-a/inspect for 50000 grade 1 by lea")
    assert book.life("CP-a", at("2026-03-02 18:00")).life_left == 98_000
    assert line_at(book, "DS-031/change", "2026-03-02 18:00").remaining == 98_000
    write_each(book, '2026-03-02 19:00 unknown-life CP-a by tom because "mixed up again"')
    assert line_at(book, "DS-031/change", "2026-03-02 19:30").remaining == 0
    write_each(book, '2026-03-02 20:00 rework CP-a granted 40000 by tom because "reground"')
    assert book.life("CP-a", at("2026-03-02 21:00")).life_left == 40_000
    assert line_at(book, "DS-031/change", "2026-03-02 21:00").remaining == 40_000
    assert book.prove().differences == ()


def test_the_inspection_of_a_part_of_unknown_life_is_open_at_once_for_those_who_sign_it(tmp_path: Path) -> None:
    """The part is held until it is inspected, so the inspection waits neither for strokes nor for the lead."""
    book = book_of(tmp_path, RUN, tasks=[INSPECT], more=[PUNCH])
    line = line_at(book, "CP-a/inspect", KNOWN)
    assert line.state == "due"
    assert "nobody knows what it has done" in why_of(book, line)
    write_each(book, f"2026-03-02 17:00 sign CP-a/inspect for {line.occurrence} grade 1 by tom")
    after = line_at(book, "CP-a/inspect", "2026-03-02 18:00")
    assert (after.state, book.prove().differences) == ("later", ())
    with pytest.raises(Refused, match="not open yet"):
        write_each(book, "2026-03-02 19:00 sign CP-a/inspect for 52000 grade 1 by tom")


def test_only_the_planned_inspection_is_asked_of_a_part_of_unknown_life(tmp_path: Path) -> None:
    """One that is done on request after a crash is not asked as well; where there is no other, it is."""
    on_request = task("after-crash", "conductor punch", graded=True)
    book = book_of(tmp_path, RUN, tasks=[INSPECT, on_request], more=[PUNCH])
    assert line_at(book, "CP-a/after-crash", KNOWN).state == "held"
    (tmp_path / "other").mkdir()
    alone = book_of(tmp_path / "other", RUN, tasks=[on_request], more=[PUNCH])
    assert line_at(alone, "CP-a/after-crash", KNOWN).state == "due"

"""Work that waits for the press to stand: at the next change of tools, at the latest when it falls due.  Invented."""

from __future__ import annotations

from pathlib import Path

from tests.plants import at, book_of, line_at, task, why_of, write_each
from tui.present.board import due_text as on_screen
from upkeep.book import Book
from upkeep.papers.board_text import due_said
from upkeep.papers.week.week_facts import due_said as in_week
from upkeep.wording.sentences import ENGLISH

SPRINGS = task("springs", "module", every="10 days", early_days=4, late_days=2, at_next_stop=True)
FILTER = task("filter", "press", every="10 days", early_days=4, at_next_stop=True)
BLADE = task("blade", "cut-off blade", strokes=10_000, plan_from=50, at_next_stop=True)
HUNG = """
    2026-03-02 06:00 count P-07 1000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CB-1 in M-12 by ana
    2026-03-02 14:00 count P-07 2000 by ana
"""
SET_OUT = "2026-03-09 10:00 unfit DS-031 at P-07 3000 to rack by ana"


def hung(tmp_path: Path) -> Book:
    """Everything is 10 days old on Wednesday 2026-03-11, its window opens on Saturday 2026-03-07."""
    return book_of(tmp_path, HUNG, tasks=[SPRINGS, FILTER, BLADE])


def test_it_is_due_with_the_first_change_of_tools_after_its_window_opened(tmp_path: Path) -> None:
    """Of the press, of the module and of what else hangs there; late it is when it would have been anyway."""
    book = hung(tmp_path)
    assert line_at(book, "M-12/springs", "2026-03-09 09:00").state == "open"
    write_each(book, SET_OUT)
    for name in ("M-12/springs", "P-07/filter"):
        line = line_at(book, name, "2026-03-09 12:00")
        assert (line.state, line.due_at, line.stopped_at) == ("due", at("2026-03-09 10:00"), at("2026-03-09 10:00"))
        assert line.due_day == at("2026-03-11 00:00").date()
    assert line_at(book, "M-12/springs", "2026-03-13 12:00").state == "due"
    assert line_at(book, "M-12/springs", "2026-03-14 12:00").state == "overdue"
    assert book.prove().differences == ()


def test_without_a_stop_it_is_due_on_its_day(tmp_path: Path) -> None:
    """A change of tools before the window opened, or on another press, is not the next stop."""
    book = hung(tmp_path)
    write_each(
        book,
        """
        2026-03-06 10:00 unfit DS-031 at P-07 2500 to rack by ana
        2026-03-06 11:00 fit DS-102 in M-12 at P-07 2500 by ana
        2026-03-09 10:00 fit M-44 in P-08 at 500 by ana
        """,
    )
    assert line_at(book, "M-12/springs", "2026-03-10 12:00").state == "open"
    assert line_at(book, "M-12/springs", "2026-03-11 12:00").state == "due"
    assert line_at(book, "M-12/springs", "2026-03-11 12:00").stopped_at is None


def test_a_stop_counts_for_what_sits_beside_the_tool_that_was_changed(tmp_path: Path) -> None:
    """The blade in the module when the set comes out, as soon as its strokes opened the window; not what lies in a
    rack."""
    book = hung(tmp_path)
    write_each(book, "2026-03-09 08:00 count P-07 6500 by ana\n" + SET_OUT.replace("3000", "7000"))
    line = line_at(book, "CB-1/blade", "2026-03-09 12:00")
    assert (line.state, line.strokes, line.stopped_at) == ("due", 6000, at("2026-03-09 10:00"))
    assert line_at(book, "M-44/springs", "2026-03-09 12:00").state == "open"
    assert book.prove().differences == ()


def test_done_at_the_stop_it_waits_for_the_next_one(tmp_path: Path) -> None:
    """Ten days on from there, and a change struck out was none."""
    book = hung(tmp_path)
    (out,) = write_each(book, SET_OUT)
    write_each(book, f'2026-03-09 10:30 strike #{out.entries[0]} by lea because "it stayed in"')
    assert line_at(book, "M-12/springs", "2026-03-09 12:00").state == "open"
    write_each(book, SET_OUT.replace("10:00", "11:00"))
    assert line_at(book, "M-12/springs", "2026-03-09 12:00").state == "due"
    write_each(book, "2026-03-09 13:00 sign M-12/springs for 2026-03-11 by tom")
    after = line_at(book, "M-12/springs", "2026-03-09 14:00")
    assert (after.state, after.stopped_at) == ("later", None)
    assert book.prove().differences == ()


def test_board_week_and_screen_say_what_it_waits_for(tmp_path: Path) -> None:
    """And, once tools were changed, since when."""
    book = hung(tmp_path)
    line = line_at(book, "M-12/springs", "2026-03-09 09:00")
    assert str(due_said(line, book.zone)) == "at the next stop; due Wed 2026-03-11 at the latest"
    assert on_screen(line, book.zone, ENGLISH, 40) == "at the next stop, by Wed 2026-03-11"
    assert "to be done at the next change of tools on its press" in why_of(book, line)
    row = next(row for row in book.week(at("2026-03-09 09:00"), by="lea").rows if row.line == "M-12/springs")
    assert str(in_week(row, book.zone)) == "at the next stop; Wed 2026-03-11 at the latest"
    write_each(book, SET_OUT)
    line = line_at(book, "M-12/springs", "2026-03-09 12:00")
    assert (
        str(due_said(line, book.zone)) == "now, tools were changed 2026-03-09 10:00; due Wed 2026-03-11 at the latest"
    )
    assert on_screen(line, book.zone, ENGLISH, 26) == "tools changed 03-09 10:00"
    assert "they were changed 2026-03-09 10:00" in why_of(book, line)


def test_the_past_is_shown_without_a_stop_that_was_still_to_come(tmp_path: Path) -> None:
    """Also what was known then of a stop told later."""
    book = hung(tmp_path)
    write_each(book, SET_OUT + " recorded 2026-03-10 09:00")
    assert line_at(book, "M-12/springs", "2026-03-09 09:00").state == "open"
    assert line_at(book, "M-12/springs", "2026-03-09 12:00").state == "due"

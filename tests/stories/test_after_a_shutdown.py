"""The plant starts again after two weeks of shutdown: what has to be done before an item runs.

All figures are invented.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.plants import at, book_of, line_at, state, task, why_of, write, write_each
from upkeep.book import BoardQuery, Book
from upkeep.due.states import CALLING
from upkeep.errors import Refused

SHUT = [
    {"from": "2026-08-03", "to": "2026-08-14", "title": "Summer"},
    {"from": "2026-12-24", "to": "2026-12-31", "title": "Turn of the year"},
]
FIRST_USE = task("first-use", "press", after=["storage", "shutdown"], stop_days=0)
GUARD = task("guard", "press", each_shift=True, by_hour=4)
LINE, TOKEN = "P-07/first-use", "shutdown.2026-08-14"
LAST_DAY, MIDDLE, MONDAY = "2026-07-31 13:00", "2026-08-10 12:00", "2026-08-17 06:30"
TEXT = """
    2026-07-30 06:00 count P-07 10000 by ana
    2026-08-01 06:00 count P-07 12000 by ana
"""


def summer(tmp_path: Path, text: str = TEXT) -> Book:
    """A plant that stands still from 3 to 14 August; the first shift after that is the early one of Monday the 17th."""
    return book_of(tmp_path, text, tasks=[FIRST_USE, GUARD], shutdowns=SHUT, begins="2026-07-28 00:00")


def test_an_item_that_stood_through_a_shutdown_asks_for_its_first_use_work(tmp_path: Path) -> None:
    """Due when the first shift begins, open from the weekend before it, and seen coming long before."""
    book = summer(tmp_path)
    states = [state(book, LINE, moment) for moment in (LAST_DAY, MIDDLE, "2026-08-15 08:00", MONDAY)]
    assert states == ["later", "later", "open", "due"]
    line = line_at(book, LINE, MONDAY)
    assert (line.occurrence, line.due_at) == (TOKEN, at("2026-08-17 06:00"))
    assert "before it runs again after the shutdown that ends on Fri 2026-08-14 (Summer)" in why_of(book, line)


def test_run_without_it_the_item_stops(tmp_path: Path) -> None:
    """With the first count that moved."""
    book = summer(tmp_path)
    write(book, "2026-08-17 06:20 count P-07 12001 by ana")
    assert state(book, LINE, MONDAY) == "stop"


@pytest.mark.parametrize("moment", ["2026-08-16 09:00", "2026-08-17 06:10"])
def test_done_before_it_runs_it_asks_next_after_the_next_shutdown(tmp_path: Path, moment: str) -> None:
    """On the Sunday before or at the start of the first shift; the strokes of the morning move nothing."""
    book = summer(tmp_path)
    write_each(book, f"{moment} sign {LINE} for {TOKEN} by tom\n2026-08-17 06:20 count P-07 12500 by ana")
    line = line_at(book, LINE, MONDAY)
    assert (line.state, line.occurrence) == ("later", "shutdown.2026-12-31")
    assert book.prove().differences == ()


def test_work_done_before_the_shutdown_is_over_is_no_first_use_work(tmp_path: Path) -> None:
    """Nobody makes a press ready on the day it is switched off."""
    book = summer(tmp_path, "")
    with pytest.raises(Refused, match="its window opens 2026-08-15 00:00"):
        write(book, f"{LAST_DAY} sign {LINE} for {TOKEN} by tom")


def test_what_came_into_the_book_after_a_shutdown_did_not_stand_through_it(tmp_path: Path) -> None:
    """A book begun on the Monday waits for the next one."""
    book = book_of(tmp_path, tasks=[FIRST_USE], shutdowns=SHUT, begins="2026-08-17 06:00")
    assert line_at(book, LINE, MONDAY).occurrence == "shutdown.2026-12-31"


def test_a_press_in_storage_meanwhile_asks_once_for_both(tmp_path: Path) -> None:
    """Paused before the summer, brought back on the Monday: one piece of work answers the storage and the shutdown."""
    book = summer(tmp_path)
    write_each(book, f'{LAST_DAY} pause P-07 by lea because "no orders"\n2026-08-17 06:00 resume P-07 by lea')
    line = line_at(book, LINE, "2026-08-17 06:05")
    assert (line.state, "storage of 2026-08-17" in why_of(book, line), "shutdown" in why_of(book, line)) == (
        "due",
        True,
        True,
    )
    write(book, f"2026-08-17 06:10 sign {LINE} for {line.occurrence} by tom")
    assert state(book, LINE, MONDAY) == "later"


def test_the_board_of_the_first_morning_is_the_list_of_what_to_do_before_starting(tmp_path: Path) -> None:
    """First use and guard of every press."""
    book = summer(tmp_path)
    rows = book.board(at(MONDAY), BoardQuery(states=frozenset(CALLING))).rows
    presses = ("P-03", "P-07", "P-08")
    assert {row.line for row in rows} == {f"{press}/{key}" for press in presses for key in ("first-use", "guard")}
    assert {row.due_at for row in rows if row.task == "first-use"} == {at("2026-08-17 06:00")}


def test_the_figures_count_it_by_the_day_the_plant_started_again(tmp_path: Path) -> None:
    """One press made ready before it ran, one run without."""
    book = summer(tmp_path)
    write_each(
        book,
        f"""
        2026-08-17 06:00 count P-03 500 by ana
        2026-08-17 06:10 sign P-03/first-use for {TOKEN} by tom
        2026-08-17 06:20 count P-07 12001 by ana
        """,
    )
    page = book.figures(at("2026-08-17 12:00"), first=date(2026, 8, 17), last=date(2026, 8, 17))
    late = [(one.line, one.verdict) for one in page.late if one.line.endswith("first-use")]
    assert late == [(LINE, "not done")]

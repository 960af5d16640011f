"""Story F48: a plant begins its book with twelve sets of unknown life, and the first day is a day like any other."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, item, line_at, person, state, task, why_of, write
from upkeep.book import Book
from upkeep.views.board import BoardQuery
from upkeep.views.planned.baselines import Risk

TASKS = [
    task("inspect", "die set", strokes=200_000, stop_at=110, graded=True, minutes=30, by=["maintenance technician"]),
    task("clean-set", "die set", every="3 months", minutes=20, by=["maintenance technician"]),
    task("guard", "press", every="1 year", statutory=True, minutes=15, by=["maintenance technician"]),
    task("oil", "module", every="7 days", minutes=5, by=["maintenance technician"]),
]
SETS = [f"DS-2{n:02}" for n in range(12)]
OLD = ("DS-203",)


def new_book(folder: Path) -> Book:
    """Twelve sets more, one of a customer and one very old; two technicians on the early shift."""
    sets = [
        item(key, kind="die set", place="rack", **({"owner": "Aldermoor"} if key == "DS-207" else {}),
             **({"since": "1999-01-01"} if key in OLD else {"since": "2020-01-01"}))
        for key in SETS
    ]  # fmt: skip
    people = [person("uma", "Uma", "maintenance technician"), person("vic", "Vic", "maintenance technician")]
    return book_of(folder, tasks=TASKS, more=[*sets, *people])


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """The book with its baseline over six weeks."""
    book = new_book(tmp_path_factory.mktemp("baseline"))
    moment = at("2026-03-02 08:00")
    book.write(book.baseline_statements(moment, 6, "lea"), moment)
    return book


def test_nothing_is_due_on_the_first_day_and_the_weeks_are_level(planned: Book) -> None:
    """No line is open, due, held or overdue for want of history; each week has its share."""
    board = planned.board(at("2026-03-02 09:00"), BoardQuery())
    assert {one.state.value for one in board.rows} <= {"later", "not required"}
    due = [one.due_day for one in board.rows if one.task in ("inspect", "clean-set", "guard") and one.due_day]
    weeks = Counter(day.isocalendar().week for day in due)
    assert len(due) == 2 * 14 + 3
    assert set(weeks) == {11, 12, 13, 14, 15, 16}
    assert max(weeks.values()) <= 2 * min(weeks.values())


def test_what_law_asks_for_comes_first_then_what_belongs_to_customers_then_what_is_oldest(tmp_path: Path) -> None:
    """And the work of one set is on one day."""
    rows = new_book(tmp_path).baseline(at("2026-03-02 08:00"), 6).rows
    assert {row.week for row in rows if row.risk in (Risk.LAW, Risk.CUSTOMER)} == {"2026-W11"}
    first = {item: min(row.day for row in rows if row.item == item) for item in {row.item for row in rows}}
    assert all(first["DS-203"] <= first[key] for key in SETS if key != "DS-207")
    assert all(len({row.day for row in rows if row.item == key}) == 1 for key in SETS)
    assert not any(row.task == "oil" for row in rows)
    assert all(row.fits for row in rows)


def test_a_first_time_says_why_and_stops_where_the_task_stops(planned: Book) -> None:
    """Nobody knows what the set has done: once its first inspection is overdue it must not run on."""
    line = line_at(planned, "DS-207/inspect", "2026-03-02 09:00")
    assert line.due_day is not None
    assert "for nobody knows when it was done before this book" in why_of(planned, line)
    day = line.due_day.isoformat()
    assert state(planned, "DS-207/inspect", f"{day} 12:00") == "due"
    assert state(planned, "DS-207/inspect", "2026-06-01 12:00") == "stop"
    assert state(planned, "DS-207/clean-set", "2026-06-01 12:00") == "overdue"


def test_once_signed_the_line_goes_by_its_own_interval(tmp_path: Path) -> None:
    """And the same at the book's full replay."""
    book = new_book(tmp_path)
    moment = at("2026-03-02 08:00")
    book.write(book.baseline_statements(moment, 6, "lea"), moment)
    day = line_at(book, "DS-207/clean-set", "2026-03-02 09:00").due_day
    assert day is not None
    write(book, f"{day} 10:00 sign DS-207/clean-set for {day} by tom")
    line = line_at(book, "DS-207/clean-set", f"{day} 12:00")
    assert line.due_day is not None
    assert (line.due_day - day).days in (90, 91, 92)
    assert book.prove().clean
    again = book.baseline(at(f"{day} 12:00"), 6)
    assert not any(row.item == "DS-207" for row in again.rows)
    assert not again.rows


def test_what_is_stated_and_overdue_gets_a_day_and_stays_stated(tmp_path: Path) -> None:
    """The day stated still shows, not verified."""
    book = new_book(tmp_path)
    write(book, "2026-03-02 07:00 stated M-12/oil done 2026-01-05 by lea")
    assert state(book, "M-12/oil", "2026-03-02 08:00") == "overdue"
    moment = at("2026-03-02 08:00")
    book.write(book.baseline_statements(moment, 6, "lea"), moment)
    line = line_at(book, "M-12/oil", "2026-03-02 09:00")
    assert line.state.value == "later"
    assert "stated as done 2026-01-05" in why_of(book, line)
    assert "not verified" in why_of(book, line)
    assert book.stated()["M-12", "oil"] == "2026-01-05"


def test_the_command_shows_writes_and_does_not_move_what_is_planned(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Only who plans may; a day in the past is refused; a second time there is nothing to plan."""
    book = new_book(tmp_path)
    path = book.path
    book.close()
    terminal = Terminal(path, capsys)
    moment = "2026-03-02 08:00:00"
    looked = terminal.types(moment, "baseline", "--weeks", 6, "--by", "lea", "--dry-run")
    assert "31 lines without history, over 6 weeks" in looked.out
    assert terminal.types(moment, "baseline", "--by", "ben").code == 1
    assert terminal.types(moment, "baseline", "--weeks", 6, "--by", "lea").code == 0
    again = terminal.types(moment, "baseline", "--weeks", 6, "--by", "lea")
    assert "Nothing to plan" in again.out
    (tmp_path / "late.txt").write_text("2026-03-02 08:00 stated P-07/guard unknown first 2026-03-01 by lea\n")
    assert "is no day for a first time" in terminal.types(moment, "enter", tmp_path / "late.txt").err

"""The week from Thursday's proposal to the sheet that comes back: proposed, changed, agreed, frozen, printed, changed
once more, printed again, returned; and what becomes of a job that is never done.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, item, person, task, write_each
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.papers.planned.week_text import plan_text
from upkeep.papers.week.week_text import week_text
from upkeep.views.planned.week_plan import Mark, Stage, Unplaced
from upkeep.wording.sentences import ENGLISH

TASKS = [
    task("lube", "press", every="7 days", late_days=2, minutes=20, energy="lock", by=["maintenance technician"]),
    task("belt", "press", every="7 days", late_days=2, minutes=30, energy="lock", by=["maintenance technician"]),
    task("law", "press", every="7 days", minutes=15, statutory=True, by=["appointed person"]),
]
PEOPLE = [person("tom", "Tom", "maintenance technician", shifts=["early", "late"])]
WEEK, THURSDAY, MONDAY = "2026-W11", "2026-03-05 10:00", "2026-03-09 05:00"


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """Three presses, everything due on Sunday the 8th; Tom works, Ana stands in, and no appointed person there is."""
    return book_of(tmp_path, tasks=TASKS, more=[*PEOPLE, item("P-08", scrapped="2026-03-01")])


def write(book: Book, text: str) -> None:
    """Writes entries one after another, at their own moments."""
    write_each(book, text)


def propose(book: Book, moment: str = THURSDAY, week: str = WEEK) -> None:
    """The proposal of a week, written."""
    book.write([book.week_proposal(week, at(moment), "lea")], at(moment))


def freeze(book: Book, moment: str, week: str = WEEK) -> None:
    """Freezes what is agreed."""
    book.write([book.week_freezing(week, at(moment), "lea")], at(moment))


def test_a_week_is_proposed_changed_agreed_and_frozen(book: Book) -> None:
    """Each step waits for the one before; a change takes the agreement back."""
    assert book.week_plan(at(THURSDAY), WEEK).stage is Stage.NONE
    with pytest.raises(Refused, match="not agreed"):
        freeze(book, THURSDAY)
    propose(book)
    plan = book.week_plan(at(THURSDAY), WEEK)
    assert plan.stage is Stage.PROPOSED
    assert {row.line for row in plan.rows if row.why is Unplaced.NOBODY} == {"P-03/law", "P-07/law"}
    assert all(row.shift and row.person in ("tom", "ana") for row in plan.rows if row.task != "law")
    write(book, f"2026-03-05 10:01 agree-week {WEEK} by lea")
    write(book, f"2026-03-05 10:02 plan-job {WEEK} P-07/lube to 2026-03-12/late with ana by lea")
    assert book.week_plan(at("2026-03-05 10:02"), WEEK).stage is Stage.CHANGED
    write(book, f"2026-03-05 10:03 agree-week {WEEK} by lea")
    freeze(book, "2026-03-05 10:04")
    plan = book.week_plan(at("2026-03-05 10:04"), WEEK)
    assert plan.stage is Stage.FROZEN
    assert next(row.shift for row in plan.rows if row.line == "P-07/lube") == "2026-03-12/late"
    assert "Frozen as 2026-W11" in plan_text(plan, ENGLISH)
    with pytest.raises(Refused, match="is frozen"):
        propose(book, "2026-03-05 10:05")


def frozen(book: Book) -> Book:
    """The week, frozen on Thursday."""
    propose(book)
    write(book, f"2026-03-05 10:01 agree-week {WEEK} by lea")
    freeze(book, "2026-03-05 10:04")
    return book


def test_what_is_printed_later_is_the_frozen_list(book: Book) -> None:
    """On Wednesday half of it is done and more has come: the rows, their order and their numbers stay."""
    first = frozen(book).week(at("2026-03-05 11:00"), week=WEEK)
    write(book, "2026-03-09 09:00 sign P-03/lube for 2026-03-08 by tom")
    again = book.week(at("2026-03-11 12:00"), week=WEEK)
    assert [(row.row, row.line, row.due_day) for row in again.rows] == [
        (row.row, row.line, row.due_day) for row in first.rows
    ]
    assert again.frozen is not None
    assert (again.frozen.added, again.frozen.removed) == (0, 0)
    plan = book.week_plan(at("2026-03-11 12:00"), WEEK)
    assert [row.line for row in plan.rows if row.done_at is not None] == ["P-03/lube"]


def test_added_and_removed_after_the_print_are_marked(book: Book) -> None:
    """On screen, on the print made again, and the past week prints as it was frozen, with its marks."""
    frozen(book)
    write(book, f"2026-03-10 06:00 plan-job {WEEK} P-03/belt out by lea")
    plan = book.week_plan(at("2026-03-10 07:00"), WEEK)
    assert {row.line: row.mark for row in plan.rows if row.mark} == {"P-03/belt": Mark.REMOVED}
    page = week_text(book.week(at("2026-03-10 07:00"), week=WEEK), ENGLISH)
    assert "REMOVED after the" in page
    assert "0 added, 1 removed" in " ".join(page.split())
    past = book.week_as_it_began(WEEK)
    assert [row.line for row in past.rows] == [row.line for row in plan.rows]
    before = book.week(at("2026-03-09 12:00"), week=WEEK)
    assert all(row.mark == "" for row in before.rows)


def test_the_sheet_of_a_frozen_week_comes_back_by_its_numbers(
    book: Book, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Printed on Monday, changed on Tuesday, returned on Friday: the numbers are those of the print."""
    listed = frozen(book).week(at(MONDAY), week=WEEK)
    write(book, f"2026-03-10 06:00 plan-job {WEEK} P-03/belt out by lea")
    row = next(row.row for row in listed.rows if row.line == "P-07/lube")
    sheet = tmp_path / "sheet.txt"
    sheet.write_text(f"{row} 2026-03-11 09:30 tom\n", encoding="utf-8")
    header = ["--revision", str(listed.revision), "--week", WEEK, "--printed", MONDAY, "--by", "lea"]
    Terminal(book.path, capsys).types("2026-03-13 09:00:00", "sheet", sheet, *header)
    assert book.answer_to("P-07/lube", "2026-03-08") is not None


def test_at_the_third_carry_the_lead_has_to_decide(book: Book) -> None:
    """Frozen three weeks in a row and never done: the fourth is not frozen before the lead has said a sentence."""
    frozen(book)
    for week, day in (("2026-W12", "2026-03-12"), ("2026-W13", "2026-03-19")):
        book.write([book.week_proposal(week, at(f"{day} 10:00"), "lea")], at(f"{day} 10:00"))
        for line in ("P-03/belt", "P-03/lube", "P-07/belt", "P-07/lube"):  # promised this week, and not done
            write(book, f"{day} 10:01 plan-job {week} {line} to {_friday_after(day)}/early with tom by lea")
        write(book, f"{day} 10:02 agree-week {week} by lea")
        freeze(book, f"{day} 10:03", week)
    propose(book, "2026-03-30 05:00", "2026-W14")
    write(book, "2026-03-30 05:01 agree-week 2026-W14 by lea")
    rows = {row.line: row for row in book.week_plan(at("2026-03-30 05:02"), "2026-W14").rows}
    assert rows["P-03/belt"].carried == 3
    assert rows["P-03/belt"].asks
    with pytest.raises(Refused, match="carried over 3 times"):
        freeze(book, "2026-03-30 05:03", "2026-W14")
    for line in ("P-03/belt", "P-03/lube", "P-07/belt", "P-07/lube"):
        write(book, f'2026-03-30 05:04 carried 2026-W14 {line} hours by lea because "Monday is kept for it"')
    freeze(book, "2026-03-30 05:05", "2026-W14")
    listed = book.week(at("2026-03-30 06:00"), week="2026-W14")
    assert listed.rows[0].carried == 3


def _friday_after(thursday: str) -> str:
    return str(at(f"{thursday} 10:00").date().replace(day=int(thursday[-2:]) + 8))


def test_who_is_absent_gets_no_work(book: Book) -> None:
    """Neither by the proposal, nor in the hours there are; the entry asks for no reason."""
    hours = book.capacity(at(THURSDAY), WEEK)
    write(book, "2026-03-05 09:00 absent tom 2026-03-09 to 2026-03-13 by lea")
    write(book, "2026-03-05 09:00 absent ana 2026-03-09 to 2026-03-11 by lea")
    propose(book)
    placed = [row for row in book.week_plan(at(THURSDAY), WEEK).rows if row.shift]
    assert placed
    assert all(row.person == "ana" and row.shift >= "2026-03-12" for row in placed if row.shift)
    fewer = book.capacity(at(THURSDAY), WEEK)
    technician = {found.role: found for found in hours.roles}["maintenance technician"].there
    assert {found.role: found for found in fewer.roles}["maintenance technician"].there == technician - 5 * 8 * 60


def test_a_week_over_its_hours_says_so_by_a_sign_and_in_words(tmp_path: Path) -> None:
    """40 hours of work on one technician of eight hours a day."""
    heavy = [task(f"big-{n}", "press", every="7 days", minutes=700, by=["maintenance technician"]) for n in range(4)]
    with book_of(tmp_path, tasks=heavy) as book:
        found = book.capacity(at(THURSDAY), WEEK)
        assert found.is_over
        assert "! over by" in plan_text(book.week_plan(at(THURSDAY), WEEK), ENGLISH)
        with pytest.raises(Refused, match="no shift"):
            book.week_proposal("2026-W05", at(THURSDAY), "lea")


def test_the_shell_plans_a_week(book: Book, capsys: pytest.CaptureFixture[str]) -> None:
    """From the hours to the frozen list, by commands alone."""
    terminal = Terminal(book.path, capsys)
    for words in ("propose", "agree-week", "freeze-week"):
        terminal.types("2026-03-05 10:00:00", words, "--week", WEEK, "--by", "lea")
    said = terminal.types("2026-03-05 10:01:00", "plan", "--week", WEEK, "--json")
    assert json.loads(said.out)["stage"] == "frozen"
    refused = terminal.types("2026-03-05 10:02:00", "plan-job", "P-07/lube", "--week", WEEK, "--by", "lea")
    assert "Give a shift and a person" in refused.err

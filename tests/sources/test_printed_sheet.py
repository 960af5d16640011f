"""Whether the numbers on a sheet that came back are those of its print, and a week of paper from Thursday to Friday.

A program that was updated while a sheet hung on the wall may put rows in another order: that is played here by a list
of which two rows changed places.
"""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, person, task, write_each
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.papers.week.week_text import week_text
from upkeep.scan_codes import ScanCode, Scannable, row_code
from upkeep.sources.printed_sheet import PrintedSheet, printed_sheet
from upkeep.sources.sheet import enter_sheet
from upkeep.sources.sheet_rows import Ticked, row_of
from upkeep.views.planned.week_plan import Unplaced
from upkeep.views.week import WeekList
from upkeep.wording.sentences import ENGLISH, text

MAY = ["maintenance technician"]
TASKS = [task(f"care-{n}", "press", every="7 days", early_days=4, late_days=2, minutes=10, by=MAY) for n in range(9)]
PEOPLE = [person("tom", "Tom", *MAY, shifts=["early", "late"])]
WEEK, NEXT, PRINTED, RETURNED = "2026-W10", "2026-W11", "2026-03-05 05:00", "2026-03-06 12:00"


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book in which 27 jobs fall due by the end of the second week, which was frozen on its Monday."""
    with book_of(tmp_path_factory.mktemp("plant"), tasks=TASKS, more=PEOPLE) as book:
        planned(book, WEEK, "2026-03-02")
        return book.path


@pytest.fixture
def book(plant: Path, tmp_path: Path) -> Book:
    """The same, for one test."""
    copy = tmp_path / plant.name
    copy.write_bytes(plant.read_bytes())
    return Book.open(copy)


def planned(book: Book, week: str, day: str) -> None:
    """Proposes, agrees and freezes a week."""
    book.write([book.week_proposal(week, at(f"{day} 05:00"), "lea")], at(f"{day} 05:00"))
    write_each(book, f"{day} 05:01 agree-week {week} by lea")
    book.write([book.week_freezing(week, at(f"{day} 05:02"), "lea")], at(f"{day} 05:02"))


def listed(book: Book, week: str = NEXT) -> WeekList:
    """The list as it is printed: of the week after, which is not frozen, unless another is named."""
    return book.week(at(PRINTED), week=week)


def tick(text: str) -> Ticked:
    """A row as it is typed."""
    found = row_of(text)
    assert found is not None
    return found


def test_a_number_is_taken_where_the_letters_at_the_head_fit(book: Book) -> None:
    """In capitals or not; of other rows, or of the same in another order, nothing is entered."""
    week = listed(book)
    sheet = printed_sheet(book, week.revision, NEXT, None, at(PRINTED), week.letters.lower())
    assert sheet.row(tick("3 8:00 tom")) == week.rows[2]
    assert f"Rows: {week.letters}." in week_text(week, ENGLISH)
    first, second, *rest = week.rows
    older = replace(week, rows=(replace(second, row=1), replace(first, row=2), *rest))
    assert older.letters != week.letters
    with pytest.raises(Refused, match="may have had other numbers when it was printed"):
        printed_sheet(book, week.revision, NEXT, None, at(PRINTED), older.letters)


def test_a_number_alone_is_asked_about(book: Book) -> None:
    """Neither letters nor a frozen week say that rows kept their numbers; a line is the same under any number."""
    week = listed(book)
    sheet = printed_sheet(book, week.revision, NEXT, None, at(PRINTED))
    with pytest.raises(Refused, match="nothing says that row 3 is still the row of that print"):
        sheet.row(tick("3 8:00 tom"))
    assert sheet.row(tick(f"{week.rows[2].line} 8:00 tom")) == week.rows[2]
    with pytest.raises(Refused, match="P-99/care-1 is not on the list"):
        sheet.row(tick("P-99/care-1 8:00 tom"))


def test_a_code_says_itself_whether_its_number_holds(book: Book) -> None:
    """Typed or scanned; of a row that had another number then, the line it may be is named, and nothing is entered."""
    week = listed(book)
    sheet = PrintedSheet(week, by_number=False)
    here, other = week.rows[2], week.rows[5]
    assert sheet.row(tick(f"{row_code(week.revision, 3, here.line)} 8:00 tom")) == here
    with pytest.raises(Refused, match=rf"does not fit row 3 .* it may be {other.line}"):
        sheet.row(tick(f"{row_code(week.revision, 3, other.line)} 8:00 tom"))
    with pytest.raises(Refused, match="Keep the sheets apart"):
        sheet.row(tick(f"{row_code(week.revision + 1, 3, here.line)} 8:00 tom"))
    before = ScanCode(Scannable.ROW, f"{week.revision}.3")  # printed by a program that wrote no letters
    with pytest.raises(Refused, match="nothing says that row 3"):
        sheet.row(tick(f"{before} 8:00 tom"))
    entered = enter_sheet(book, sheet, [f"{before} 5.3. 8:00 tom", f"{other.line} 5.3. 8:10 tom"], "lea", at(RETURNED))
    assert len(entered.sentences) == len(entered.problems) == 1


def test_a_row_that_was_taken_off_since_is_entered_and_told(book: Book) -> None:
    """Done is done; but the lead had taken it off, and may have planned on that."""
    week = listed(book, WEEK)
    row = week.rows[0]
    write_each(book, f"2026-03-05 09:00 plan-job {WEEK} {row.line} out by lea")
    sheet = printed_sheet(book, week.revision, WEEK, None, at(PRINTED))
    assert sheet.by_number  # the numbers of a frozen week stand in the book
    rows = [f"{row.row} Thu 10:20 tom", f"{week.rows[1].row} Thu 10:40 tom"]
    off, on = (text(said, ENGLISH) for said in enter_sheet(book, sheet, rows, "lea", at(RETURNED)).sentences)
    assert "It was taken off the list after the print; tell the lead that it was done all the same." in off
    assert "taken off" not in on


def test_what_this_week_still_promises_stands_on_the_plan_of_the_next(book: Book) -> None:
    """A plan made on Thursday leaves out nothing: what is not done by Sunday is on next week's list, and counts on."""
    thursday = at("2026-03-05 05:00")
    coming = {row.line for row in book.week_plan(thursday, WEEK).rows if row.shift and row.shift > "2026-03-05"}
    assert coming
    planned(book, NEXT, "2026-03-05")
    rows = {row.line: row for row in book.week_plan(at("2026-03-05 05:02"), NEXT).rows}
    assert {line for line, row in rows.items() if row.why is Unplaced.PROMISED} == coming
    later = {row.line: row for row in book.week_plan(at("2026-03-16 05:00"), "2026-W12").rows}
    assert all(later[line].carried == 2 for line in coming)


def test_a_week_on_paper_from_the_print_to_the_sheets_that_come_back(
    book: Book, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """By a person's hand: the first page of the list comes back with ticks on 25 rows, three of them late, two without
    a time, one without initials, one for a person nobody knows; the second page is missing."""
    week = listed(book, WEEK)
    pages = week_text(week, ENGLISH).split("\f")
    head = " ".join(pages[0].split())
    revision, letters = re.search(r"revision ([\d,]+)", head), re.search(r"Rows: (\w+)\.", head)
    assert revision
    assert letters
    printed = re.search(r"Printed (\d{4}-\d\d-\d\d \d\d:\d\d)", head)
    assert printed
    numbers = [int(found) for found in re.findall(r"^ *(\d+) P-", "\n".join(pages), re.MULTILINE)][:25]
    assert len(numbers) == 25 < len(week.rows)
    hand = {numbers[3]: "11.3. 9.15 tom", numbers[4]: "Thu ? tom", numbers[5]: "Thu ? tom", numbers[6]: "Thu 8.10 ?",
            numbers[7]: "Thu 8.20 zoe"}  # fmt: skip
    rows = [f"{number} {hand.get(number, f'Thu {8 + place // 6}.{place % 6}0 TOM')}" for place, number in
            enumerate(numbers)]  # fmt: skip
    (tmp_path / "sheet.txt").write_text("\n".join(rows), encoding="utf-8")
    options = ["--week", WEEK, "--revision", revision[1], "--rows", letters[1], "--printed", printed[1], "--by", "lea"]
    said = Terminal(book.path, capsys).types("2026-03-12 07:00:00", "sheet", tmp_path / "sheet.txt", *options)
    assert said.code == 1
    assert "There is no person 'zoe' in this book." in said.err
    assert said.err.count("row ") == 1
    assert said.out.count("signed by Tom") == 23
    assert said.out.count(", late") == 1
    assert "has no initials, so it is not signed" in said.out
    missing = ", ".join(str(row.row) for row in week.rows if row.row not in numbers[:25])
    assert missing.split(", ")[0] in said.out.rsplit("Not on this sheet:", 1)[1]
    again = Terminal(book.path, capsys).types("2026-03-12 07:10:00", "sheet", tmp_path / "sheet.txt", *options)
    assert "signed by" not in again.out
    assert book.prove().differences == ()

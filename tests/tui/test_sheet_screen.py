"""A weekly list that came back, typed in at the screen: its head once, then a line a row."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.clock import Clock
from tests.plants import at, book_of, line_at, task
from tests.sources.test_returned_sheet import FRIDAY, HANGING, MONDAY, TASKS
from tests.tui.terminal import SMALL, Terminal, terminal
from upkeep.book import Book, WeekList
from upkeep.scan_codes import row_code


@pytest.fixture
def wall(tmp_path: Path) -> tuple[Callable[[], Book], WeekList]:
    """A book, and the list that was printed on Monday."""
    with book_of(tmp_path, HANGING, tasks=[*TASKS, task("wipe", "press", every="3 days")]) as book:
        path, listed = book.path, book.week(at(MONDAY))
    return lambda: Book.open(path), listed


async def found(here: Terminal, listed: WeekList) -> None:
    """Opens the screen from the board and finds the list by its head."""
    await here.press("l")
    await here.type("came back", "enter")
    assert "A weekly list that came back" in here.rows[0]
    await here.type(f"{listed.revision}", "enter")
    await here.type(MONDAY, "enter")
    await here.type(listed.letters.lower(), "enter", "enter")
    await here.type("4.3.", "enter")


async def test_rows_of_a_sheet_are_typed_a_line_each_and_entered_together(
    wall: tuple[Callable[[], Book], WeekList],
) -> None:
    """Each says whose work it is before it is kept; two actions a row, and one for all of them."""
    opener, listed = wall
    rows = {row.line: row.row for row in listed.rows}
    async with terminal(opener, SMALL, clock=Clock(at(FRIDAY)), by="lea") as here:
        await found(here, listed)
        assert f"List of 2026-W10 (Mon 2026-03-02 to Sun 2026-03-08), revision {listed.revision}" in here.text
        await here.type(f"{rows['M-12/lube']} 10.20 ana count 1,206,300", "enter")
        assert "Task lube, M-12: Ana, 2026-03-04 10:20" in here.text
        await here.type(f"{rows['M-44/lube']} Thu 1030 ?", "enter")
        assert "Task lube, M-44: no initials, kept for the lead" in here.text
        await here.press("ctrl+s")
        assert "To be minded before this work is done:" in here.text
        await here.press("enter")
        assert "M-12/lube signed by Ana, 2026-03-04 10:20, in time" in here.text
        assert "M-44/lube has no initials, so it is not signed" in here.text
    with opener() as book:
        assert line_at(book, "M-12/lube", FRIDAY).last_done_by == "ana"
        assert [line.kind for line in book.newest_written(3)] == ["remark", "sign", "count"]


async def test_a_row_that_is_wrong_stays_in_its_field_with_what_is_wrong(
    wall: tuple[Callable[[], Book], WeekList],
) -> None:
    """And what the book refuses when it is entered comes back to be typed anew; the others are in."""
    opener, listed = wall
    rows = {row.line: row.row for row in listed.rows}
    async with terminal(opener, SMALL, clock=Clock(at(FRIDAY)), by="lea") as here:
        await found(here, listed)
        for typed, why in (
            ("99 8:00 ana", "there is no such row"),
            ("1 8:00", "is not a row"),
            (f"{rows['M-12/lube']} 8:00 zoe", "There is no person 'zoe' in this book."),
            (f"{rows['DS-031/look']} ? ana", "has a grade, so it cannot be entered without the time"),
        ):
            await here.type(typed, "enter")
            assert why in here.text
            assert typed in here.text
            await here.press("ctrl+u")
        await here.type(f"{rows['M-12/lube']} Sat 8:00 ana", "enter")
        await here.type(f"{rows['M-44/lube']} 8:00 ana", "enter", "ctrl+s", "enter")
        assert "2026-03-07 08:00 is in the future" in here.text
        assert "M-44/lube signed by Ana" in here.text
        await here.type(f"{rows['M-12/lube']} 8:00 ana", "enter", "ctrl+s", "enter")
        assert "M-12/lube signed by Ana, 2026-03-04 08:00" in here.text


async def test_what_stands_at_the_head_is_checked_before_any_row(wall: tuple[Callable[[], Book], WeekList]) -> None:
    """A wrong revision would sign other rows; and typed rows are not lost by one key."""
    opener, listed = wall
    async with terminal(opener, SMALL, clock=Clock(at(FRIDAY)), by="lea") as here:
        await here.press("l")
        await here.type("came back", "enter")
        await here.type("9999", "enter")
        await here.type(MONDAY, "enter", "enter", "enter", "enter")
        assert "There is no entry '#9999' in this book." in here.text
        await here.press("escape")
        await found(here, listed)
        await here.type("1 8:00 ana", "enter", "escape")
        assert "Esc once more loses them; Ctrl+S enters them." in here.text


async def test_a_scanned_row_brings_its_revision_and_its_number(wall: tuple[Callable[[], Book], WeekList]) -> None:
    """First the head, then each row; a row of another sheet is told apart."""
    opener, listed = wall
    row = next(row.row for row in listed.rows if row.line == "M-12/lube")
    async with terminal(opener, SMALL, clock=Clock(at(FRIDAY)), by="lea") as here:
        await here.press("l")
        await here.type("came back", "enter")
        await here.type(str(row_code(listed.revision, row, "M-12/lube")), "enter")
        await here.type(MONDAY, "enter", "enter", "enter")
        await here.type("4.3.", "enter")
        assert f"revision {listed.revision}" in here.text
        await here.type(str(row_code(listed.revision + 1, row, "M-12/lube")), "enter")
        assert "Keep the sheets apart." in here.text
        await here.type(str(row_code(listed.revision, row, "M-44/lube")), "enter")
        assert "the code does not fit row" in " ".join(here.text.split())
        await here.type(f"{row} 10.20 ana", "enter")
        assert "nothing says that row" in " ".join(here.text.split())
        await here.press("ctrl+u")
        await here.type(str(row_code(listed.revision, row, "M-12/lube")), "enter")
        await here.type("10.20 ana", "enter")
        assert "Task lube, M-12: Ana, 2026-03-04 10:20" in here.text

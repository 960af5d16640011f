"""The page a lead begins with: every part in its order with its count, one row an item, and the keys from there."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.clock import Clock
from tests.plants import CLEAN, INSPECT, at, book_of, task, write, written_lines
from tests.tui.terminal import Terminal, terminal
from upkeep.book import Book
from upkeep.views.overview.home import Home, Part

MONDAY = at("2026-03-02 07:00")
OILING = task("oiling", "press", every="7 days", late_days=2)
WIPE = task("wipe", "module", by=["operator"], each_shift=True)
STARTED = """
2026-03-01 22:00 fit M-12 in P-07 by ana
2026-03-01 22:00 fit DS-031 in M-12 by ana
2026-03-02 06:00 count P-07 1204300 by ana
2026-03-02 06:50 hold DS-031 by lea because "chip seen"
2026-03-02 06:51 permit DS-031 strokes 2000 by lea because "order ends today"
2026-03-02 06:52 fault M-12 "wheel sticks" by ben
2026-03-02 06:55 count P-07 1205000 by ana
"""


@pytest.fixture
def path(tmp_path: Path) -> Iterator[Path]:
    """The file of a book with something in most parts of the page."""
    with book_of(tmp_path, STARTED, tasks=[CLEAN, INSPECT, OILING, WIPE]) as book:
        found = book.path
    yield found
    with Book.open(found) as book:
        assert book.prove().clean


def home(path: Path, person: str | None = None) -> Home:
    """The page as the book gives it."""
    with Book.open(path) as book:
        return book.home(MONDAY, person)


def rows_of(page: Home, part: Part) -> list[tuple[str, str | None, int]]:
    """The rows of a part: place, item, how many lines each stands for."""
    (shown,) = (one for one in page.parts if one.part is part)
    return [(row.place, row.item, len(row.lines)) for row in shown.rows]


def test_every_part_stands_in_its_order_also_where_nothing_is_in_it(path: Path) -> None:
    """Held first, permits last; a part counts what its rows stand for."""
    page = home(path)
    assert [one.part for one in page.parts] == list(Part)
    counts = {one.part: one.total for one in page.parts}
    assert counts[Part.HELD] == counts[Part.FAULTS] == counts[Part.PERMITS] == 1
    assert counts[Part.STOP] == counts[Part.OVERDUE] == counts[Part.HINTS] == 0
    assert counts[Part.TODAY] == 2


def test_a_held_item_is_one_row_and_the_cleans_of_a_press_are_one(path: Path) -> None:
    """However many lines wait with them."""
    page = home(path)
    assert rows_of(page, Part.HELD) == [("P-07", "DS-031", 0)]
    assert rows_of(page, Part.TODAY) == [("P-07", None, 2)]
    assert rows_of(page, Part.PERMITS) == [("P-07", "DS-031", 0)]


def test_the_week_says_day_by_day_what_falls_due_and_how_long_it_takes(path: Path) -> None:
    """Three presses are oiled on Sunday; the cleans of every shift are left to the rounds."""
    days = {one.day.isoformat(): one.lines for one in home(path).week}
    assert next(iter(days)) == "2026-03-02"
    assert len(days) == 7
    assert days["2026-03-08"] == 3
    assert sum(days.values()) == 3


async def begun(here: Terminal) -> str:
    """All that stands on the screen."""
    await here.settle()
    return here.text


async def test_a_lead_begins_with_it_and_b_goes_to_the_board_and_back(path: Path) -> None:
    """Anybody else begins with the board."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(MONDAY)) as here:
        assert "1 held 1 2 past hard stop 0 3 overdue 0 4 due today 2" in await begun(here)
        assert "Released by the lead or quality: press h." in here.text
        await here.press("b")
        assert "lines to do" in here.text or "to do" in here.text
        await here.press("b")
        assert "1 held 1" in here.text
    async with terminal(lambda: Book.open(path), by="ben", clock=Clock(MONDAY)) as here:
        assert "1 held 1" not in await begun(here)


async def test_the_cleans_of_a_press_are_signed_in_three_actions(path: Path) -> None:
    """To the part, s, and Enter once the caution was read: each line of the row gets its sign-off."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(MONDAY)) as here:
        await here.press("4", "s")
        assert "CAUTION" in here.text
        await here.press("ctrl+s")
        if "Nothing is written yet." in here.text:
            await here.press("enter")
        assert "WRITTEN: 2 lines done, by Lea." in here.text
    with Book.open(path) as book:
        first, second = written_lines(book)[-2:]
    assert "sign M-12/clean for 2026-03-02/early by lea" in first
    assert "sign M-12/wipe for 2026-03-02/early by lea" in second


async def test_a_held_item_is_released_from_its_row_with_one_key_and_a_reason(path: Path) -> None:
    """h, the reason, a look at what it moves, Enter; then the part is empty."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(MONDAY)) as here:
        await here.press("h")
        assert "Release: DS-031" in here.text
        await here.type("no chip")
        await here.press("ctrl+s")
        if "Nothing is written yet." in here.text:
            await here.press("enter")
        assert "1 held 0" in here.text
        await here.press("u")
        assert "1 held 1" in here.text


async def test_a_number_goes_to_its_part_and_enter_opens_what_stands_there(path: Path) -> None:
    """A fault opens its page."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(MONDAY)) as here:
        await here.press("7", "enter")
        assert "wheel sticks" in here.text
        assert "Fault #" in here.text
        await here.press("escape")
        assert "1 held 1" in here.text


async def test_the_page_of_an_area_is_kept_while_one_looks_elsewhere(path: Path) -> None:
    """What stands in other areas is left out of every part; the area stands beside the plant."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(MONDAY)) as here:
        await here.press("w")
        assert "Which area?" in here.text
        await here.type("press hall", "enter")
        assert "here: Lea" in here.rows[0]
        await here.press("b", "b")
        assert "press hall" in here.rows[0]


async def test_the_page_opens_by_itself_when_a_lead_says_who_is_here(path: Path) -> None:
    """Anybody else stays on the board."""
    async with terminal(lambda: Book.open(path), clock=Clock(MONDAY)) as here:
        await here.press("o")
        await here.type("ben", "enter")
        assert "1 held 1" not in here.text
        await here.press("o")
        await here.type("lea", "enter")
        assert "1 held 1" in here.text


async def test_what_goes_on_stands_above_all_parts(path: Path) -> None:
    """Locks, jobs, and a shift that nobody has accepted; on the board a sign and a word stand in the rows."""
    with Book.open(path) as book:
        write(book, '2026-03-02 06:56 lock P-07 "main switch" by ben')
        write(book, "2026-03-02 06:57 start M-12/clean by ana")
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(MONDAY)) as here:
        await here.settle()
        assert "AT THIS MOMENT" in here.text
        assert "[X] locked: Ben at main switch" in here.row_with("[X]")
        assert "[>] in work, Ana: " in here.row_with("[>]")
        await here.press("enter")
        assert "main switch" in here.text
        await here.press("escape", "b", "t")
        assert any("[X] locked" in row and "oiling" in row for row in here.rows)

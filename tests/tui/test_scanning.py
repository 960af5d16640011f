"""What is scanned at the screens goes where it belongs, whatever field has the keys."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.clock import Clock
from tests.plants import CLEAN, INSPECT, at, book_of, item, task
from tests.tui.terminal import Terminal, terminal
from upkeep.book import Book
from upkeep.scan_codes import ScanCode, Scannable, row_code

NOON = at("2026-03-02 12:00")
POINT = {"id": "slug", "title": "Slug height", "unit": "mm", "lower": 1.0, "upper": 2.0, "readings": 2}
MEASURED = task("measured", "press", by=["operator"], each_shift=True, gauge_class="crimp micrometer", points=[POINT])
BLOCK = task("block", "gauge", every="7 days", title="Block check")
BEFORE = """
    2026-03-02 05:00 count P-07 0 by ana
    2026-03-02 05:00 fit M-12 in P-07 at 0 by ana
    2026-03-02 05:00 fit DS-031 in M-12 by ana
    2026-03-02 05:10 stated G-2/block done 2026-03-01 by lea
    2026-03-02 06:00 count P-07 900 by ana
    2026-03-02 06:00 count P-08 0 by ana
"""


@pytest.fixture
def path(tmp_path: Path) -> Iterator[Path]:
    more = [item("G-2", kind="gauge", gauge_class="crimp micrometer")]
    with book_of(tmp_path, BEFORE, tasks=[CLEAN, MEASURED, INSPECT, BLOCK], more=more) as book:
        yield book.path


async def scans(here: Terminal, kind: Scannable, text: str) -> None:
    await here.type(str(ScanCode(kind, text)), "enter")


async def test_an_item_on_the_round_is_told_and_a_press_is_gone_to(path: Path) -> None:
    async with terminal(lambda: Book.open(path), place="P-07", clock=Clock(NOON)) as here:
        await here.press("c")  # the count has the keys
        await scans(here, Scannable.ITEM, "DS-031")
        assert "DS-031 (die set) is in M-12, at P-07." in here.text
        await here.type(str(row_code(812, 12, "M-12/lube")), "enter")
        assert "scan it where a returned sheet is typed in." in here.text
        await scans(here, Scannable.ITEM, "P-08")
        assert here.rows[0].lstrip().startswith("P-08")
        await here.type("*IDS-031A", "enter")
        assert "was not read whole" in here.text
    with Book.open(path) as book:
        assert book.newest_written(1)[0].text.endswith("count P-08 0 by ana")


async def test_an_item_on_the_board_shows_its_lines(path: Path) -> None:
    async with terminal(lambda: Book.open(path), clock=Clock(NOON)) as here:
        await scans(here, Scannable.ITEM, "DS-031")
        assert "DS-031 (die set) is in M-12, at P-07." in here.text
        assert "Task inspect" in here.text
        assert "Task clean" not in here.text


async def test_a_gauge_in_the_form_is_that_gauge_or_a_sentence(path: Path) -> None:
    async with terminal(lambda: Book.open(path), place="P-07", by="ben", clock=Clock(NOON), size=(160, 48)) as here:
        await here.press("escape", *_number_of(here, "Task measured"))
        await here.type("1.2")
        await scans(here, Scannable.GAUGE, "G-1")
        assert "G-1 is not taken: not valid: Block check: never done in this book" in here.text
        await scans(here, Scannable.GAUGE, "G-2")
        assert "G-2 Item G-2: valid, next due in 6 days." in here.text
        await scans(here, Scannable.ITEM, "DS-031")
        assert "This is about Task measured on P-07" in here.text
        await here.press("enter")
        await here.type("1.3", "ctrl+s")
        assert "SIGNED" in here.text
    with Book.open(path) as book:
        assert "with G-2 slug=1.2,1.3" in book.newest_written(1)[0].text


async def test_an_item_in_the_report_of_a_fault_is_the_one_it_was_found_on(path: Path) -> None:
    async with terminal(lambda: Book.open(path), place="P-07", by="ben", clock=Clock(NOON)) as here:
        await here.press("escape", "f")
        await here.type("feed finger")
        await scans(here, Scannable.ITEM, "DS-031")
        assert "Found on DS-031" in here.text
        await scans(here, Scannable.ITEM, "DS-102")
        assert "Nothing here asks for it" in here.text
        await here.press("enter", "y", "enter")
    with Book.open(path) as book:
        assert 'fault DS-031 "feed finger" stopped' in book.newest_written(1)[0].text


def _number_of(here: Terminal, work: str) -> str:
    return next(row.split()[0] for row in here.rows if work in row)

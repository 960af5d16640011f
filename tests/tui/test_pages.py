"""Pages of text at a terminal: suspect product and open questions, over a real book."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import at, book_of, define, item
from tests.tui.terminal import SMALL, Clock, terminal
from upkeep.book import Book

HEIGHT = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25}
MORE = (
    define("crimp", "CR-1", title="Tab on 0.5", family="tab", points=[HEIGHT]),
    item("DS-031", kind="die set", family="tab", place="rack"),
)
FAILED = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 check DS-031 first-off of CR-1 with G-1 crimp-height=1.2 by ana
    2026-03-02 08:00 count P-07 1206950 by ana
    2026-03-02 08:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.26 by ana
"""


@pytest.fixture
def path(tmp_path: Path) -> Iterator[Path]:
    """The file of a book in which a check failed this morning."""
    with book_of(tmp_path, FAILED, more=MORE) as book:
        yield book.path


async def test_suspect_product_is_two_keys_from_the_board(path: Path) -> None:
    """The list with its lines, at 80 columns; esc goes back to the board."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at("2026-03-02 09:00")), size=SMALL) as here:
        await here.press("l", "enter")
        assert "2,650 strokes suspect" in here.text
        assert "P-07" in here.text
        assert all(len(row) <= 80 for row in here.rows)
        await here.press("escape")
        assert "calling" in here.text


async def test_a_page_follows_the_book(path: Path) -> None:
    """What is judged elsewhere leaves the page."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at("2026-03-02 09:00"))) as here:
        await here.press("l")
        await here.type("open", "enter")
        assert "What the counts leave open" in here.text

"""What the book answers to a sign-off is read before going on: values out of limits, whatever else it has to say."""

from __future__ import annotations

from pathlib import Path

from tests.clock import Clock
from tests.plants import at, book_of, task
from tests.tui.terminal import terminal
from upkeep.book import Book

GAP = {"id": "gap", "title": "Gap", "unit": "mm", "lower": 1.2, "upper": 1.3}
MEASURE = task("measure", "module", every="7 days", early_days=7, points=[GAP])
FITTED = "2026-03-01 22:00 fit M-12 in P-07 by ana"


async def test_a_value_out_of_limits_is_told_after_signing(tmp_path: Path) -> None:
    """In a box of its own with what was signed; Enter goes on, and undo works from there."""
    with book_of(tmp_path, FITTED, tasks=[MEASURE]) as book:
        path = book.path
    async with terminal(lambda: Book.open(path), by="tom", clock=Clock(at("2026-03-02 07:00"))) as here:
        await here.press("t", "s")
        await here.type("1.4", "ctrl+s")
        assert "SIGNED Mon 2026-03-02 07:00 Tom: done by me. Task measure on M-12" in here.text
        assert "Gap 1.4 mm is above its limit of 1.3 mm." in here.text
        await here.press("enter")
        assert "Press u to undo." in here.text
        await here.press("u")
        assert "UNDONE: Task measure on M-12" in here.text


async def test_a_clean_sign_off_asks_for_no_more_keys(tmp_path: Path) -> None:
    """Where the book has nothing to say the proof is there at once."""
    with book_of(tmp_path, FITTED, tasks=[MEASURE]) as book:
        path = book.path
    async with terminal(lambda: Book.open(path), by="tom", clock=Clock(at("2026-03-02 07:00"))) as here:
        await here.press("t", "s")
        await here.type("1.25", "ctrl+s")
        assert "Press u to undo." in here.text

"""A check fails and the press was not counted since: what it made is not nothing, it is not known yet."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, write
from tests.stories.test_suspect_product import MORE, MORNING
from upkeep.book import Book

BAD = "2026-03-02 08:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.26,1.262 by lea"
NOW = "2026-03-02 08:30"


def test_a_window_nobody_has_counted_yet_says_which_press_to_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Never 'No product is suspect' right after the failed check; with the count its strokes are known."""
    good = "2026-03-02 07:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.2,1.2 by lea\n"
    with book_of(tmp_path, f"{MORNING}{good}{BAD}", more=MORE) as book:
        (found,) = book.suspects(at(NOW)).lists()
        (press,) = found.not_counted
        assert (press.press, press.read, press.since) == ("P-07", at("2026-03-02 06:15"), at("2026-03-02 07:00"))
    terminal = Terminal(tmp_path / "plant.book", capsys)
    listed = " ".join(terminal.types(NOW, "suspect", "--item", "DS-031").out.split())
    assert "P-07 not counted yet: read the counter" in listed
    page = " ".join(terminal.types(NOW, "suspect", found.number).out.split())
    assert (
        "P-07 was not counted since 2026-03-02 06:15: read it. What it made since 2026-03-02 07:00 is suspect." in page
    )
    assert "no product is suspect" not in page
    with Book.open(tmp_path / "plant.book") as book:
        write(book, "2026-03-02 08:40 count P-07 1205300 by ana")
        (counted,) = book.suspects(at("2026-03-02 08:45")).lists()
    assert counted.not_counted == ()
    assert counted.strokes == 1_000

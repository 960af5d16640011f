"""Somebody tells the lead something about an item or a line: it stays in their histories and moves nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of, task, write
from upkeep.book import Book
from upkeep.errors import NotFound, Refused

WIPE, LUBE = task("wipe", "press", every="7 days"), task("lube", "module", every="7 days")


def shop(tmp_path: Path) -> Book:
    """One press with a weekly task."""
    return book_of(tmp_path, "2026-03-02 06:00 count P-07 10000 by ana", tasks=[WIPE, LUBE])


def test_a_remark_stands_in_the_history_of_its_item_and_moves_no_line(tmp_path: Path) -> None:
    """The press hums; the board says what it said before, and the book proves clean."""
    book = shop(tmp_path)
    before = book.board(at("2026-03-20 10:00")).rows
    assert not write(book, '2026-03-03 10:00 remark P-07 "hums since the new belt" by ana').changes
    assert book.board(at("2026-03-20 10:00")).rows == before
    newest = book.history("P-07")[0]
    assert (newest.kind, newest.text) == ("remark", '2026-03-03 10:00 remark P-07 "hums since the new belt" by ana')
    assert book.prove().clean


def test_a_remark_on_a_line_stands_in_the_history_of_item_and_line(tmp_path: Path) -> None:
    """Whoever looks why the line is due reads it there."""
    book = shop(tmp_path)
    write(book, '2026-03-03 10:00 remark P-07/wipe "the wipes are used up" by ana')
    assert "wipes" in book.history("P-07")[0].text
    assert [line.kind for line in book.detail("P-07/wipe", at("2026-03-04 10:00")).history] == ["remark"]


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ('remark P-07 " "', "The remark is empty"),
        ('remark P-07/lube "dry"', "lube is not a task on P-07"),
        ('remark P-99 "dry"', "P-99"),
    ],
)
def test_a_remark_says_something_about_what_is_there(tmp_path: Path, line: str, sentence: str) -> None:
    """Empty, on a task of another kind of item, on an item nobody knows."""
    with pytest.raises((Refused, NotFound), match=sentence):
        write(shop(tmp_path), f"2026-03-03 10:00 {line} by ana")

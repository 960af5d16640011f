"""What a book knows of a code that was scanned."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import CLEAN, at, book_of
from upkeep.book import Book
from upkeep.errors import NotFound
from upkeep.scan_codes import ScanCode, Scannable, row_code, seal_code
from upkeep.wording.scanned import scanned_said

NOON = at("2026-03-02 12:00")
TEXT = """
    2026-03-02 05:00 count P-07 0 by ana
    2026-03-02 05:00 fit M-12 in P-07 at 0 by ana
    2026-03-02 05:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 hold DS-031 by lea because "burr on one side"
"""


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with book_of(tmp_path, TEXT, tasks=[CLEAN]) as opened:
        yield opened


def told(book: Book, code: ScanCode) -> str:
    return str(scanned_said(book.scanned(code, NOON)))


def test_an_item_is_told_with_where_it_is_and_whether_it_may_run(book: Book) -> None:
    item = ScanCode(Scannable.ITEM, "ds-031")  # capitals are locked
    assert told(book, item) == ("DS-031 (die set) is in M-12, at P-07. It is HELD and must not run: burr on one side.")
    assert told(book, ScanCode(Scannable.ITEM, "P-07")) == "P-07 (press) is at P-07."


def test_an_id_that_is_nothing_here_is_refused_with_near_misses(book: Book) -> None:
    with pytest.raises(NotFound, match="There is no item 'DS-O31' in this book"):
        told(book, ScanCode(Scannable.ITEM, "DS-O31"))


def test_a_seal_fits_the_book_it_was_made_of_and_no_other(book: Book) -> None:
    links = [line.rsplit(" link ", 1)[1] for line in book.export()]
    assert told(book, seal_code(3, links[3])) == "The seal fits: #3 stands in this book as it did when it was printed."
    assert told(book, seal_code(3, links[4])).startswith("THE SEAL DOES NOT FIT: #3")
    assert told(book, seal_code(9000, links[3])).startswith("THE BOOK HAS LOST ITS TAIL: a seal knows #9000")


def test_a_row_says_where_it_belongs(book: Book) -> None:
    assert told(book, row_code(812, 12, "M-12/lube")).startswith("Row 12 of the week printed as revision 812")

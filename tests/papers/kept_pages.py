"""Pages of a kept book that are compared byte for byte: a hold list, the figures of a period, the life of a part.

``.venv/bin/python -m tests.papers.kept_pages`` writes them anew; look at each difference before you commit it.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

from tests.kept_book import KEPT, copy_of
from tests.papers.weeks import GOLDEN
from tests.plants import at
from upkeep.book import Book
from upkeep.papers.board_text import life_text
from upkeep.papers.figures.figures_text import figures_text
from upkeep.papers.suspect_text import hold_list_text, lists_text
from upkeep.papers.wear_text import wear_text
from upkeep.wording.sentences import ENGLISH

BOOK = KEPT / "book-5.book"
MOMENT = at("2026-03-09 12:00")


def _hold_lists(book: Book) -> str:
    lists = book.suspects(MOMENT).lists()
    return "\n".join(
        [lists_text(lists, book.zone, ENGLISH), *(hold_list_text(one, book.zone, ENGLISH) for one in lists)]
    )


def _figures(book: Book) -> str:
    figures = book.figures(MOMENT, first=date(2026, 3, 1), last=date(2026, 3, 9))
    return figures_text(figures, book.names, ENGLISH)


def _life(book: Book) -> str:
    numbers = life_text(book.life("CP-b", MOMENT), book.zone, ENGLISH)
    wear = replace(book.wear(MOMENT).item("CP-b"), pictures=())  # their files are not kept with the book
    return numbers + wear_text(wear, book.zone, ENGLISH)


PAGES: Mapping[str, Callable[[Book], str]] = {"hold_lists": _hold_lists, "figures": _figures, "life": _life}
"""What makes each page, by its file's name."""


def pages() -> dict[str, str]:
    """The text of every page."""
    with tempfile.TemporaryDirectory() as folder, Book.open(copy_of(BOOK, Path(folder))) as book:
        return {name: page(book) for name, page in PAGES.items()}


if __name__ == "__main__":
    for name, text in pages().items():
        (GOLDEN / f"{name}.txt").write_text(text, encoding="utf-8")

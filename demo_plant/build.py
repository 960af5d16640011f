"""A new book with the demo plant in it: its definitions, then its history."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from random import Random

from demo_plant import definitions
from demo_plant.history import write_history
from demo_plant.last_hours import write_last_hours
from demo_plant.shelf import write_shelf
from upkeep.book import Book, Watch, nobody
from upkeep.entries.origin import FROM_A_FILE
from upkeep.errors import StrokebookError
from upkeep.plant.definition import Defined

_LOADED_BY = "yara"
"""The demo plant's maintenance lead."""


def is_built(path: Path) -> bool:
    """Whether a file is a book of the demo plant; nothing in it or beside it is written."""
    named: str = next(definition.content["name"] for definition in definitions() if definition.what == "plant")
    try:
        with Book.open_copy(path) as book:
            return book.facts.name == named
    except StrokebookError:
        return False


def build(path: Path, *, end: datetime, days: int = 90, seed: int = 7, watch: Watch = nobody) -> Book:
    """A new, open book of the demo plant, with the ``days`` before ``end`` (UTC, whole seconds) behind it.

    ``watch`` is told how many days are written.
    Raises :class:`upkeep.errors.BookUnavailable` where a file already is.
    """
    book = Book.create(path, Random(seed).randbytes)
    begin = end - timedelta(days=days)
    defined = definitions()
    others = [one for one in defined if one.what != Defined.SPARE]
    book.load(others, at=begin, by=_LOADED_BY, recorded_at=begin, origin=FROM_A_FILE)
    write_history(book, days=days, end=end, seed=seed, watch=watch)
    write_last_hours(book, end)
    write_shelf(book, [one for one in defined if one.what == Defined.SPARE], end)
    return book

"""A sign-off of a line that was signed every day for ten years against one of a line signed for ten days."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import count
from pathlib import Path

from tests.benchmarks.measuring import Measured, Timed, middle, timed
from tests.plants import at, book_of, item, task
from upkeep.book import Book
from upkeep.entries.signing import Sign

SIGNED, SELDOM = 3_650, 10
TURNS = 60
_BEGAN = date(2015, 1, 1)


def measured(folder: Path, signed: int = SIGNED) -> Iterator[Measured]:
    """Aim 1.5: what was signed long ago costs nothing now."""
    folder = folder / "signed"
    folder.mkdir(parents=True)
    oil = task("oil", "module", every="1 day", early_days=1)
    often, seldom = item("M-OFTEN", kind="module"), item("M-SELDOM", kind="module", since="2015-01-01")
    with book_of(folder, tasks=[oil], more=[often], begins=f"{_BEGAN} 00:00") as book:
        _sign(book, "M-OFTEN", 1, signed)
        late = _BEGAN + timedelta(days=signed - SELDOM)
        book.load([seldom], at(f"{late} 00:00"), "lea", at(f"{late} 00:00"), "as it is now")
        _sign(book, "M-SELDOM", signed - SELDOM + 1, signed)
        ours, theirs = middle(_daily(book, "M-OFTEN", signed), _daily(book, "M-SELDOM", signed), TURNS)
    yield Measured(f"signing a line signed {signed:,} times", ours, theirs, f"one signed {SELDOM} times", 1.5)


def _sign(book: Book, module: str, first: int, last: int) -> None:
    signs = [_signed(module, number) for number in range(first, last + 1)]
    book.write(signs, signs[-1].at)


def _signed(module: str, number: int) -> Sign:
    day = _BEGAN + timedelta(days=number)
    return Sign(at=at(f"{day} 10:00"), by="lea", task="oil", item=module, occurrence=day.isoformat())


def _daily(book: Book, module: str, signed: int) -> Timed:
    days = count(signed + 1)

    def once() -> float:
        sign = _signed(module, next(days))
        return timed(lambda: book.write([sign], sign.at))

    return once

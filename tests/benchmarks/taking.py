"""A dropped file of counts against inserting the same rows with plain SQL, on the same disk and equally durable."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

from tests.benchmarks.measuring import Measured, best, timed
from tests.benchmarks.writing import FIRST, PRESSES, Rows, connected, copied, insert, rows_since, shop
from upkeep.book import Book
from upkeep.sources.drop import COUNTS, take

ROWS = 100_000
ROUNDS = 3


def measured(folder: Path, rows: int = ROWS) -> Iterator[Measured]:
    """Aim 4: every row of the file is read, looked for in the book, checked, chained and judged as well."""
    path, file = shop(folder / "taking", 0), folder / "counts.csv"
    until = FIRST + timedelta(minutes=1 + rows // len(PRESSES))
    file.write_text("".join(_lines(rows)), encoding="utf-8")
    taken = path.with_name("taken.book")
    copied(path, taken)
    with Book.open(taken) as book:
        assert take(book, file, COUNTS, "lea", until).written == rows
    plain = rows_since(path, taken)
    ours, baseline = best(lambda: _ours(path, file), lambda: _plain(path, plain), ROUNDS)
    yield Measured(f"a file of {rows:,} counts", ours, baseline, "executemany", 4.0)


def _lines(rows: int) -> Iterator[str]:
    yield "press,at,count\n"
    for number in range(rows):
        minute, press = 1 + number // len(PRESSES), PRESSES[number % len(PRESSES)]
        yield f"{press},{FIRST + timedelta(minutes=minute):%Y-%m-%d %H:%M},{20 * minute}\n"


def _ours(path: Path, file: Path) -> float:
    copy = path.with_name("ours.book")
    copied(path, copy)
    with Book.open(copy) as book:
        book.known  # noqa: B018 - a program that takes files in has long read its plant
        return timed(lambda: take(book, file, COUNTS, "lea", FIRST + timedelta(days=30)))


def _plain(path: Path, rows: dict[str, Rows]) -> float:
    copy = path.with_name("plain.book")
    copied(path, copy)
    with closing(connected(copy)) as connection:
        return timed(lambda: insert(connection, rows))

"""Many writers at full speed at one book: how long the unluckiest write waits, against one round of all of them."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from tests.benchmarks.measuring import Measured
from tests.commands import set_off_together
from tests.plants import book_of

WRITERS = 30
EACH = 40

WRITER = """
import sys, time
from datetime import UTC, datetime
from pathlib import Path
from upkeep.book import Book
from upkeep.entries.faults import Fault
day = datetime(2026, 3, 8, 6, tzinfo=UTC)
with Book.open(Path(sys.argv[1])) as book:
    book.write([Fault(at=day, by="ana", item="M-12", symptom="first")], day)
    print("ready", flush=True)
    sys.stdin.readline()
    took = []
    for number in range(int(sys.argv[2])):
        began = time.perf_counter()
        book.write([Fault(at=day, by="ana", item="M-12", symptom=str(number))], day)
        took.append(time.perf_counter() - began)
print(*took)
"""


def measured(folder: Path, writers: int = WRITERS, each: int = EACH) -> Iterator[Measured]:
    """The longest wait of any write, and how long a round in which each writes once takes at best: all others first."""
    path = _book(folder / "turns")
    (alone,) = _waits(path, 1, each)
    waits = _waits(path, writers, each)
    longest = max(max(of_one) for of_one in waits)
    yield Measured(
        f"longest wait of {writers} writers at full speed", longest, writers * median(alone), "a round of all", 50.0
    )


def _book(folder: Path) -> Path:
    folder.mkdir(parents=True)
    with book_of(folder) as book:
        return book.path


def _waits(path: Path, writers: int, each: int) -> list[list[float]]:
    command = [sys.executable, "-c", WRITER, str(path), str(each)]
    running = set_off_together(command, writers)
    return [list(map(float, process.communicate()[0].split())) for process in running]

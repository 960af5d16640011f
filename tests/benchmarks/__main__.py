"""``python -m tests.benchmarks``: measures the program against plain baselines and prints the table of ratios.

Names of groups pick some of them; ``--markdown`` prints the table for a document.  Nothing here passes or fails: a
ratio above its aim is marked, and a person judges.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from tests.benchmarks import (
    board,
    history,
    late,
    lives,
    past,
    printing,
    recurring,
    screens,
    signed_often,
    starting,
    stations,
    suspects,
    taking,
    turns,
    writing,
)
from tests.benchmarks.books import Books
from tests.benchmarks.measuring import Measured, as_markdown, as_text

GROUPS: dict[str, Callable[[Books], Iterator[Measured]]] = {
    "writing": lambda books: writing.measured(books.folder),
    "taking": lambda books: taking.measured(books.folder),
    "turns": lambda books: turns.measured(books.folder),
    "late": late.measured,
    "signed_often": lambda books: signed_often.measured(books.folder),
    "board": board.measured,
    "recurring": lambda _: recurring.measured(),
    "history": history.measured,
    "suspects": lambda books: suspects.measured(books.folder),
    "past": lambda books: past.measured(books.folder),
    "printing": lambda _: printing.measured(),
    "starting": starting.measured,
    "screens": screens.measured,
    "stations": lambda books: stations.measured(books.folder),
    "lives": lambda _: lives.measured(),
}


def main() -> None:
    """Measures the groups asked for, in order, and prints one table."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    parser.add_argument("groups", nargs="*", metavar="GROUP", help=f"of {', '.join(GROUPS)}; all where none is named")
    parser.add_argument("--markdown", action="store_true", help="print the table for a document")
    asked = parser.parse_args()
    unknown = [name for name in asked.groups if name not in GROUPS]
    if unknown:
        parser.error(f"there is no group {unknown[0]!r}; there are {', '.join(GROUPS)}")
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        books = Books(Path(folder))
        for name in asked.groups or GROUPS:
            for found in GROUPS[name](books):
                print(f"{found.what}: {found.cells()[3]}", file=sys.stderr, flush=True)
                rows.append(found.cells())
    print((as_markdown if asked.markdown else as_text)(rows))


if __name__ == "__main__":
    main()

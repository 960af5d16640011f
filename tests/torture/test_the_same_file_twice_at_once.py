"""The same file taken in by several processes at the same moment: each of its lines is in the book once."""

from __future__ import annotations

import sys
from datetime import timedelta
from pathlib import Path

import pytest

from tests.commands import set_off_together
from tests.plants import CLEAN, at, book_of, written_lines
from upkeep.book import Book

TOGETHER = 3
LINES = 60
TELL = """
import sys
from upkeep.cli.run import run
sys.stdout.write("ready\\n"); sys.stdout.flush()
sys.stdin.readline()
sys.exit(run(sys.argv[1:]))
"""
FIRST = at("2026-03-02 06:00")


def _counts() -> str:
    return "press,at,count\n" + "".join(
        f"P-07,{FIRST + timedelta(minutes=place):%Y-%m-%d %H:%M},{1000 + place}\n" for place in range(LINES)
    )


def _quantities() -> str:
    return "press,at,pieces,minutes\n" + "".join(
        f"P-08,{FIRST + timedelta(minutes=place):%Y-%m-%d %H:%M},{10 + place},1\n" for place in range(LINES)
    )


def _orders() -> str:
    return "order,pieces,item,press,day\n" + "".join(
        f"A-{place},100,DS-031,P-07,2026-03-09\n" for place in range(LINES)
    )


@pytest.mark.parametrize(
    ("words", "text", "kind", "entries"),
    [
        (("count", "--from"), _counts(), "count", LINES),
        (("quantity", "--from"), _quantities(), "quantity", LINES),
        (("order", "--from"), _orders(), "order", LINES),
        (("stated",), "item,task,done\nM-12,clean,2026-02-20\n", "stated", 1),
    ],
)
def test_it_is_taken_in_once(tmp_path: Path, words: tuple[str, ...], text: str, kind: str, entries: int) -> None:
    """Whoever comes second finds it known: what is known is looked up when nobody else can write."""
    book_of(tmp_path, tasks=[CLEAN]).close()
    file, path = tmp_path / "told.csv", tmp_path / "plant.book"
    file.write_text(text, encoding="utf-8")
    command = [sys.executable, "-c", TELL, *words, str(file), "--by", "lea", "--book", str(path)]
    running = set_off_together(command, TOGETHER)
    told = [process.communicate(timeout=120) for process in running]
    assert [process.returncode for process in running] == [0] * TOGETHER, told
    with Book.open(path) as book:
        assert sum(line.split()[2] == kind for line in written_lines(book)) == entries
        assert book.prove().clean

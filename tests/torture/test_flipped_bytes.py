"""One bit of a book turned, in every kind of page: it changes nothing that is shown, or the proof finds it.

The pages are those of the SQLite file format (sqlite.org/fileformat2.html, sections 1.3 to 1.6, from memory): the
header of 100 bytes, inner and leaf pages of tables and indexes with a header of their own, overflow and free pages.
"""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest

from tests.plants import at, book_of, item, task
from upkeep.book import BoardQuery, Book
from upkeep.errors import StrokebookError

pytestmark = pytest.mark.torture

FLIPS, FLIPS_LONG = 5, 150
"""For each kind of place in the file; the second with ``--long``."""

NOW = at("2026-03-20 12:00")
HEADER = 100
KINDS = {0x02: "inner index page", 0x05: "inner table page", 0x0A: "leaf index page", 0x0D: "leaf table page"}
TOLD = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 06:10 hold M-44 by lea because "a crack"
    2026-03-02 06:30 uncounted M-12 dry 20 on M-12 by ana
    2026-03-02 14:00 count P-07 1209410 by ana
    2026-03-03 06:00 sign W-01/look for extra by ana
"""


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A book with all kinds of pages, as the bytes of its file."""
    daily = task("look", "module", rule="FREQ=DAILY", caution="Hands off. " * 600)
    weekly = task("oil", "module", every="7 days")
    modules = [item(f"W-{n:02d}", kind="module", title=f"Module {n} " + "of the long bench " * 3) for n in range(60)]
    folder = tmp_path_factory.mktemp("whole")
    with book_of(folder, TOLD, tasks=[daily, weekly], more=modules) as book:
        path = book.path
        book.refill()  # leaves the pages of the tables before free
        assert book.prove().clean
    return path.read_bytes()


def shown(path: Path) -> list[Any]:
    """Everything people look at: board of now and of then, counts by state, words found, history, entries, views."""
    with Book.open(path) as book:
        boards = [
            book.board(NOW, BoardQuery(), limit=1000),
            book.board(at("2026-03-02 12:00"), BoardQuery(), limit=1000),
            *(book.board(NOW, BoardQuery(search=word), limit=1000) for word in ("bench", "oil", "w-0", "99")),
            *(book.board(NOW, BoardQuery(place=place), limit=1000) for place in ("rack", "P-07")),
            *(book.board(NOW, BoardQuery(item=key), limit=1000) for key in ("W-07", "M-12")),
        ]
        views = [book._file.rows(f"SELECT * FROM {view}") for view in ("people", "items", "where_things_hang")]
        told = [book.life("M-12", NOW), book.history(limit=1000), book.history("M-12"), book.questions(NOW)]
        return [*boards, *told, *views, list(book.export())]


def places(content: bytes) -> Mapping[str, Sequence[int]]:
    """The places of all bytes by the kind of page, the headers of pages apart."""
    found: dict[str, list[int]] = defaultdict(list)
    size = int.from_bytes(content[16:18], "big")
    found["header of the file"] += range(HEADER)
    for begin in range(0, len(content), size):
        start = begin + (HEADER if begin == 0 else 0)
        kind = KINDS.get(content[start], "overflow or free page")
        if begin == 0:
            kind = "schema"
        head = start + (12 if content[start] in (0x02, 0x05) else 8)
        if kind != "overflow or free page":
            found[f"header of a page: {kind}"] += range(start, head)
        found[kind] += range(head, begin + size)
    return found


def flips(content: bytes, long: bool) -> Iterator[tuple[str, int, int]]:
    """Which bits to turn: kind, place and bit."""
    chance = random.Random(20260302)
    for kind, where in sorted(places(content).items()):
        for place in chance.sample(where, min(FLIPS_LONG if long else FLIPS, len(where))):
            yield kind, place, 1 << chance.randrange(8)


def is_found(path: Path) -> bool:
    """Whether the program refuses the file, or does not prove it."""
    try:
        with Book.open(path) as book:
            return not book.prove().clean
    except StrokebookError:
        return True


def test_the_book_has_every_kind_of_page(whole: bytes) -> None:
    """Otherwise the flips below try less than they say."""
    kinds = set(places(whole))
    assert {*KINDS.values(), "schema", "overflow or free page", "header of the file"} <= kinds


def test_a_flipped_bit_is_found_or_changes_nothing_that_is_shown(whole: bytes, tmp_path: Path, long: bool) -> None:
    """Not one that proves clean and shows something else; and never an error without a sentence."""
    path = tmp_path / "plant.book"
    path.write_bytes(whole)
    right, found = shown(path), 0
    hidden: list[tuple[str, int, int, str]] = []
    for kind, place, bit in flips(whole, long):
        content = bytearray(whole)
        content[place] ^= bit
        for beside in tmp_path.iterdir():
            beside.unlink()
        path.write_bytes(content)
        if is_found(path):
            found += 1
            continue
        try:
            if shown(path) != right:
                hidden.append((kind, place, bit, "something else"))
        except StrokebookError as error:
            hidden.append((kind, place, bit, str(error)))
    assert hidden == []
    assert found > 0

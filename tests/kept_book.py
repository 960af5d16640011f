"""The kept book: a small one that an earlier program wrote, which every later program has to open, prove and show.

Three files in tests/kept/: the book itself, its export, and its board at two moments as JSON without sentences.

``python -m tests.kept_book --make NUMBER`` makes another one, from a fixed seed, with every kind of entry that there is
by now; one that is there is never made again.  ``python -m tests.kept_book --board`` writes the boards anew, after a
rule was changed (DEVELOPERS.md says when that may be).
"""

from __future__ import annotations

import json
import re
import shutil
import sqlite3
import sys
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import closing
from pathlib import Path
from random import Random
from typing import Any
from unittest.mock import patch

from tests.plants import at
from tests.shop_floor import _KINDS, Floor
from tests.shop_plant import opened_copy, shop
from upkeep.book import Book, HistoryLine
from upkeep.cli.options import plain
from upkeep.cli.reasons_json import with_reasons
from upkeep.entries.kinds import VERBS

KEPT = Path(__file__).with_name("kept")
SEED = 1
MOMENTS = at("2026-03-09 12:00"), at("2026-03-23 12:00")
"""The moments at which a board is shown: one in the middle of what the book tells, and one after all of it."""

_SENTENCES = ("why", "hold")

WORDS = (
    r" count \S+ \d+ disputes #",
    r" count \S+ \d+ after-reset fastest \d+ ",
    r" count \S+ \d+ rolled-over fastest \d+ ",
    r" (fit|unfit) \S+ .*at \S+ \d+ (rolled-over|after-reset) fastest ",
    r" restart \S+ from \? rate \d+ fastest \d+ to ",
    r" uncounted \S+ stood-still ",
)
"""What stands in some line of a kept book beside every kind of entry: words that not every line of their kind has."""


def books() -> list[Path]:
    """The kept books, oldest first."""
    return sorted(KEPT.glob("book-*.book"), key=lambda kept: int(kept.stem.rpartition("-")[2]))


def copy_of(kept: Path, folder: Path) -> Path:
    """A copy of a kept book, to open and to write into."""
    return Path(shutil.copyfile(kept, folder / kept.name))


def export_of(kept: Path) -> Path:
    """The file with the export of a kept book."""
    return kept.with_suffix(".txt")


def board_of(kept: Path) -> Path:
    """The file with the board of a kept book."""
    return kept.with_name(kept.name.replace("book-", "board-")).with_suffix(".json")


def shown(book: Book) -> str:
    """The whole board of a book at both moments as JSON: what stands and why, as data, for a sentence is no rule."""
    boards = [with_reasons(book.board(moment, limit=10_000), book) for moment in MOMENTS]
    data = json.loads(json.dumps(boards, default=plain, ensure_ascii=False))
    return json.dumps(_without_sentences(data), ensure_ascii=False, indent=1, sort_keys=True) + "\n"


def _without_sentences(value: Any) -> Any:
    if isinstance(value, list):
        return [_without_sentences(one) for one in value]
    if isinstance(value, dict):
        return {key: _without_sentences(kept) for key, kept in value.items() if key not in _SENTENCES}
    return value


def make(kept: Path) -> None:
    """Makes a book with every kind of entry that no kept one has, and keeps it with its export and its board."""
    assert not kept.exists(), f"{kept.name} is kept as it is; make another one beside it"
    wanted, words = set(VERBS) - _kept_verbs(), _words_not_kept()
    with tempfile.TemporaryDirectory() as folder, patch("upkeep.store.file.urandom", Random(SEED).randbytes):
        with opened_copy(shop(Path(folder))) as book:
            for _ in _acts(book):
                if wanted <= _verbs(book) and words <= words_in(line.text for line in _in_effect(book)):
                    break
            path = book.path
            export_of(kept).write_text("".join(f"{line}\n" for line in book.export()), encoding="utf-8")
            board_of(kept).write_text(shown(book), encoding="utf-8")
        with closing(sqlite3.connect(path)) as connection:
            connection.execute("VACUUM INTO ?", (str(kept),))


def _acts(book: Book) -> Iterator[None]:
    chance, floor = Random(SEED), Floor(book)
    while True:
        floor.do((chance.choice(_KINDS), *(chance.randrange(4096) for _ in range(4))))  # type: ignore[arg-type]
        yield


def words_in(lines: Iterable[str]) -> set[str]:
    """Which of the words wanted some lines have."""
    text = "\n".join(lines)
    return {words for words in WORDS if re.search(words, text)}


def _in_effect(book: Book) -> list[HistoryLine]:
    return [line for line in book.newest_written(100_000) if line.struck_by is None and line.corrected_by is None]


def _words_not_kept() -> set[str]:
    exports = "".join(export_of(kept).read_text(encoding="utf-8") for kept in books())
    return set(WORDS) - words_in(exports.splitlines())


def _verbs(book: Book) -> set[str]:
    return {line.kind for line in book.newest_written(100_000) if line.struck_by is None}


def _kept_verbs() -> set[str]:
    with tempfile.TemporaryDirectory() as folder:
        verbs = set()
        for kept in books():
            with Book.open(copy_of(kept, Path(folder))) as book:
                verbs |= _verbs(book)
        return verbs


def main() -> None:
    """Makes what was asked for."""
    if sys.argv[1:2] == ["--make"]:
        make(KEPT / f"book-{int(sys.argv[2])}.book")
    elif sys.argv[1:] == ["--board"]:
        for kept in books():
            with tempfile.TemporaryDirectory() as folder, Book.open(copy_of(kept, Path(folder))) as book:
                board_of(kept).write_text(shown(book), encoding="utf-8")
    else:
        sys.exit(__doc__)


if __name__ == "__main__":
    main()

"""What a command refuses is read in the reader's language, whole: nothing in it goes past the catalogue."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import book_of, task
from tests.templates import BRACKETS, write_brackets
from upkeep.cli import saying
from upkeep.wording import sentences
from upkeep.wording.sentences import Reader

NOW = "2026-03-02 12:00"
WRITTEN = """
2026-03-02 06:00 fit M-12 in P-07 by ana
2026-03-02 06:00 count P-07 1200000 by ana
2026-03-02 06:10 sign M-12/clean for 2026-03-01 by ben
2026-03-02 07:00 hold DS-031 by lea because "dropped"
"""

REFUSED = [
    "count P-70 5 --by ana",
    "count M-12 5 --by ana",
    "count P-07 1100000 --by ana",
    "count P-07 99999999 --by ana",
    "count P-07 1300000 --by ana --at 2026-03-02T06:30",
    "count P-07 1200100 --by ana --at 2026-02-30T06:30",
    "count P-07 1200100 --by zoe",
    "count P-07 1200100 --by ana --at 2020-01-01T00:00",
    "fit DS-031 M-12 --by ana --no-count",
    "fit P-07 M-12 --by ana --no-count",
    "sign M-12/clean --by tom --for 2026-03-01",
    "sign M-12/clean --by ben --for 2031-01-01",
    "sign M-12/nothing --by ben",
    "verify 1 --by lea",
    "verify 999 --by lea",
    "strike 5 --by ben",
    "correct 5 hold --by ben",
    "defer M-12/clean --to 2026-03-01 --risk dry --because no --by lea",
    "release DS-031 --by ana --because fine",
    "resume M-12 --by lea",
    "rework M-12 5 --by lea --because worn",
    "check DS-031 first-off --by tom",
    "gauge M-12",
    "figures --from 2020-01-01 --to 2020-01-02",
    "suspect 5",
    "forecast M-12/clean",
    "life M-99",
]


@pytest.fixture(scope="module")
def catalogues(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The catalogue of one language, made up of brackets."""
    folder = tmp_path_factory.mktemp("catalogues")
    write_brackets(folder)
    return folder


@pytest.fixture(scope="module")
def plant_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with a press, a held set and a signed line."""
    clean = task("clean", "module", rule="FREQ=DAILY", start="2026-03-01")
    with book_of(tmp_path_factory.mktemp("book"), WRITTEN, tasks=[clean]) as book:
        return book.path


@pytest.mark.parametrize("words", REFUSED)
def test_a_refusal_is_read_whole_in_the_readers_language(
    words: str,
    plant_book: Path,
    catalogues: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """And says the same."""
    typed = [word.replace("T", " ") if word[:3] == "202" else word for word in words.split()]
    terminal = Terminal(plant_book, capsys)
    english = terminal.types(NOW, *typed)
    monkeypatch.setattr(sentences, "CATALOGUES", catalogues)
    monkeypatch.setattr(saying, "READER", Reader(BRACKETS))
    read = terminal.types(NOW, *typed)
    assert (english.code, read.code) == (1, 1), english
    assert "".join(_outside(read.err)).strip() == ""
    assert read.err.translate({ord("["): "", ord("]"): "", 0xA0: ","}) == english.err  # thousands, grouped


def test_wrong_usage_is_read_in_the_readers_language(
    plant_book: Path, catalogues: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Below the lines that every command line of this kind has."""
    monkeypatch.setattr(sentences, "CATALOGUES", catalogues)
    monkeypatch.setattr(saying, "READER", Reader(BRACKETS))
    read = Terminal(plant_book, capsys).types(NOW, "count", "--by", "ana")
    assert read.code == 2
    assert read.err.endswith("Error: [Name the press and what its counter shows, or a file with --from.]\n")


def _outside(text: str) -> Iterator[str]:
    """The letters of a text that stand in no bracket."""
    depth = 0
    for letter in text:
        depth += (letter == "[") - (letter == "]")
        if not depth and letter != "]":
            yield letter

"""A slip of the pen in a question is refused: it is never answered with a board on which nothing is due."""

from __future__ import annotations

from pathlib import Path

import pytest

from demo_plant.environment import ROOT
from tests.commands import Terminal
from tests.plants import CLEAN, book_of

MOMENT = "2026-03-02 12:00"


@pytest.mark.parametrize(
    ("words", "refused"),
    [
        ("board --place P-99", "There is no press or place 'P-99' in this book."),
        ("board --area hall", "There is no area 'hall' in this book. Its areas: "),
        ("board --item M-99", "There is no item 'M-99' in this book."),
        ("board --role technician", "There is no role 'technician' in this book. Its roles: operator, "),
        ("week --area hall", "There is no area 'hall' in this book. Its areas: "),
        ("figures --area hall", "There is no area 'hall' in this book. Its areas: "),
        ("history M-99", "There is no item 'M-99' in this book."),
        ("round P-99", "There is no press or place 'P-99' in this book."),
    ],
)
def test_a_word_that_names_nothing_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: str, refused: str
) -> None:
    """With what was perhaps meant, or what there is."""
    book_of(tmp_path, tasks=[CLEAN]).close()
    said = Terminal(tmp_path / "plant.book", capsys).types(MOMENT, *words.split())
    assert (said.code, said.out) == (1, "")
    assert said.err.startswith(refused)


@pytest.mark.parametrize("words", ["board --place P-07", "board --item M-12", "board --role operator", "history M-12"])
def test_a_word_that_names_something_is_answered(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: str
) -> None:
    """Also where nothing is due there."""
    book_of(tmp_path, tasks=[CLEAN]).close()
    said = Terminal(tmp_path / "plant.book", capsys).types(MOMENT, *words.split())
    assert (said.code, said.err) == (0, "")


def test_a_new_book_says_what_to_enter_first(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Somebody who has just loaded five files is told the three kinds of entry a plant begins with."""
    terminal = Terminal(tmp_path / "new.book", capsys)
    made = terminal.types(MOMENT, "new", ROOT / "demo_plant" / "files", "--by", "yara")
    assert made.code == 0
    assert all(word in made.out for word in ("What now", "strokebook fit", "strokebook count", "strokebook stated"))
    assert "What now" not in terminal.types(MOMENT, "new", ROOT / "demo_plant" / "files", "--by", "yara").out

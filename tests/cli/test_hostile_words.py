"""Whatever somebody types: a sentence and an exit code, never "This should not have happened"."""

from __future__ import annotations

import importlib
from collections.abc import Iterator
from pathlib import Path
from random import Random

import click
import pytest

from tests.plants import CLEAN, INSPECT, book_of
from upkeep.cli.commands import COMMANDS
from upkeep.cli.run import run

SEED, TRIES, MANY = 37, 250, 2_000

BIG = "9223372036854775808"
WORDS = (
    BIG, f"-{BIG}", "9" * 400, "0", "-1", "1e999", "nan", "", "x" * 300, "\udcff\ud800", "M-12\0", "9999-12-31 23:59",
    "9999-12-30", "0001-01-01 00:00", "9999-W53", "%s{}", f"#{BIG}", "P-07", "M-12/clean", "DS-031", "2026-03-02 06:00",
    "3",
)  # fmt: skip

BESIDE = {"demo", "serve", "screens", "refill"}
"""Commands that make a plant of their own, run for ever, or take no words."""


@pytest.fixture
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book with something in it, in a folder of its own into which commands may write."""
    with book_of(tmp_path, "2026-03-01 08:00 fit M-12 in P-07 at P-07 100 by ana", tasks=[CLEAN, INSPECT]) as book:
        monkeypatch.chdir(tmp_path)
        return book.path


def _command(name: str) -> click.Command:
    module = importlib.import_module(f"upkeep.cli.{COMMANDS[name][0]}")
    found = getattr(module, name, None) or getattr(module, name.replace("-", "_").replace(" ", "_"))
    assert isinstance(found, click.Command)
    return found


def _words(random: Random) -> Iterator[str]:
    name = random.choice([name for name in COMMANDS if name not in BESIDE])
    yield name
    for wanted in _command(name).params:
        if isinstance(wanted, click.Argument):
            yield from random.choices(WORDS, k=1 if wanted.nargs == 1 else random.randint(0, 3))
        elif wanted.name != "book_path" and (wanted.required or random.random() < 0.3):
            yield max(wanted.opts, key=len)
            if wanted.name == "by":
                yield "lea"
            elif not getattr(wanted, "is_flag", False):
                yield random.choice(WORDS)


def test_hostile_words_get_their_sentence(path: Path, capsys: pytest.CaptureFixture[str], long: bool) -> None:
    """Huge numbers, the last year of the calendar, long names, bytes that are no text, at every place of every
    command."""
    random = Random(SEED)
    for _ in range(MANY if long else TRIES):
        words = list(_words(random))
        code = run([*words, "--book", str(path)])
        told = capsys.readouterr().err
        assert code in (0, 1, 2), words
        assert "should not have happened" not in told, words
        assert code == 0 or told, words


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("history", "--limit", BIG), "--limit"),
        (("board", "--limit", BIG), "--limit"),
        (("figures", "--at", "9999-12-31 23:59"), "is too far away; give a year from 1000 to 9000."),
        (("board", "--at", "9999-12-30 00:00"), "is too far away; give a year from 1000 to 9000."),
        (("backup", "x" * 300), "File name too long"),
        (("board", "--role", "\udcff"), "Word 3 of this command is not text"),
        (("history", "M-12\0"), "Word 2 of this command is not text"),
        (("faults", BIG), "is not a number"),
        (("strike", BIG, "--by", "lea", "--because", "x"), BIG),
    ],
)
def test_each_says_what_is_wrong(
    path: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], sentence: str
) -> None:
    """In the words of whoever typed it."""
    assert run([*words, "--book", str(path)]) in (1, 2)
    told = capsys.readouterr().err
    assert sentence in told
    assert "should not have happened" not in told


@pytest.mark.parametrize(("typed", "meant"), [("sgin", "sign"), ("borad", "board"), ("quuestions", "questions")])
def test_a_mistyped_command_is_answered_with_the_one_that_was_meant(
    capsys: pytest.CaptureFixture[str], typed: str, meant: str
) -> None:
    """And one that looks like none with none."""
    assert run([typed]) == 2
    assert f"No such command '{typed}'. Did you mean {meant}" in capsys.readouterr().err
    assert run(["zzzzzz"]) == 2
    assert "Did you mean" not in capsys.readouterr().err

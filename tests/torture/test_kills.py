"""A terminal killed in the middle of its work, again and again: what was confirmed stays, and nothing is half."""

from __future__ import annotations

import random
import time
from pathlib import Path
from typing import Any

import pytest

from tests.plants import book_of, item, task, written_lines
from tests.torture.terminals import Terminal, terminals
from upkeep.book import Book

pytestmark = pytest.mark.torture

CONFIRMED_AT_LEAST, KILLED_AT_LEAST = 50, 4
CONFIRMED_LONG, KILLED_LONG = 200, 8
"""With ``--long``."""


def test_every_confirmed_sign_off_survives_the_killing_of_its_terminal(tmp_path: Path, long: bool) -> None:
    """Killed at moments nobody chose, until enough were confirmed; each pair of entries is whole or not there."""
    daily = task("look", "module", rule="FREQ=DAILY")
    with book_of(tmp_path, tasks=[daily], more=[item(f"W-{n:02d}", kind="module") for n in range(30)]) as book:
        path, defined = book.path, len(written_lines(book))
    confirmed: list[dict[str, Any]] = []
    chance, kills = random.Random(20260302), 0
    wanted, killed = (CONFIRMED_LONG, KILLED_LONG) if long else (CONFIRMED_AT_LEAST, KILLED_AT_LEAST)
    while len(confirmed) < wanted or kills < killed:
        with terminals(Terminal("keep_signing", path, "ana")) as (terminal,):
            if kills % 4:
                confirmed.append(terminal.hear())
            time.sleep(chance.uniform(0, 0.6))
            confirmed += terminal.kill()
        kills += 1
        with Book.open(path) as book:
            assert book.prove().clean
            _all_there(confirmed, written_lines(book), defined, kills)


def _all_there(confirmed: list[dict[str, Any]], written: list[str], defined: int, kills: int) -> None:
    for fact in confirmed:
        signed, found = (written[number] for number in fact["entries"])
        assert f"sign {fact['line']} for {fact['occurrence']} by ana" in signed
        assert f'"seen at {fact["occurrence"]}" by ana' in found
    pairs, rest = divmod(len(written) - defined, 2)
    assert rest == 0, "half of what was written together is missing"
    assert len(confirmed) <= pairs <= len(confirmed) + kills, "at most the write that was running came through unheard"

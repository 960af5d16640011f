"""The weekly list of a week that is over: the board as it stood when the week began, with what was known then."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import book_of, task

LUBE = task("lube", "module", every="1 week")
SIGNED = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-10 10:00 sign M-12/lube for 2026-03-08 by ana
"""


def test_a_past_week_is_printed_as_it_began(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What was done in it, and what is due today, is not on it; another moment may still be asked for."""
    with book_of(tmp_path, SIGNED, tasks=[LUBE]) as book:
        shell = Terminal(book.path, capsys)
        printed = shell.types("2026-03-25 12:00", "week", "--week", "2026-W11", "--by", "lea").out
        assert "As it stood 2026-03-09 00:00, with what was known then; printed by Lea" in printed
        assert "M-12" in printed
        asked = shell.types("2026-03-25 12:00", "week", "--week", "2026-W11", "--at", "2026-03-25 12:00").out
        assert "Printed 2026-03-25 12:00" in asked
        before = shell.types("2026-03-25 12:00", "week", "--week", "2026-W08")
        assert (before.code, "This book began 2026-03-01 00:00; it knows nothing of 2026-W08." in before.err) == (
            1, True,
        )  # fmt: skip


def test_the_week_in_which_the_book_began_is_printed_as_it_began_then(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nothing was known before that."""
    with book_of(tmp_path, SIGNED, tasks=[LUBE]) as book:
        printed = Terminal(book.path, capsys).types("2026-03-25 12:00", "week", "--week", "2026-W09").out
        assert "As it stood 2026-03-01 00:00" in printed

"""Work that puts hands near the point of operation is cautioned of before its signature is taken."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import CLEAN, book_of, task

HUNG = "2026-03-02 06:00 count P-07 1000 by ana\n2026-03-02 06:00 fit M-12 in P-07 by ana"
OIL = task("oil", "module", by=["operator"], energy="unplug", caution="Plug in your hand.")
LOOK = task("look", "module", by=["operator"], energy="look")


@pytest.fixture
def terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Terminal:
    """The book of a module on a press."""
    book_of(tmp_path, HUNG, tasks=[CLEAN, OIL, LOOK]).close()
    return Terminal(tmp_path / "plant.book", capsys)


def test_a_signature_in_the_shell_comes_behind_its_caution(terminal: Terminal) -> None:
    """Unplug, and what the task adds, ahead of the number of the entry."""
    told = terminal.types("2026-03-02 06:10", "sign", "M-12/clean", "--by", "ben").out
    said = [told.index(words) for words in ("CAUTION for M-12/clean: Unplug", "Plug in your hand.", "Written")]
    assert said == sorted(said)


def test_lines_of_a_file_are_cautioned_of_once_for_all_they_are_for(terminal: Terminal, tmp_path: Path) -> None:
    """One caution for two tasks that ask the same, another for the one that only looks; counts have none."""
    told = tmp_path / "told.txt"
    told.write_text(
        "2026-03-02 06:10 sign M-12/clean for 2026-03-02/early by ben\n"
        "2026-03-02 06:12 sign M-12/oil for extra by ben\n"
        "2026-03-02 06:14 sign M-12/look for extra by ben\n"
        "2026-03-02 06:15 count P-07 1100 by ben\n"
    )
    said = terminal.types("2026-03-02 06:20", "enter", told).out
    assert said.count("CAUTION for") == 2
    assert "CAUTION for M-12/clean, M-12/oil: Unplug the press" in " ".join(said.split())
    assert "CAUTION for M-12/look: Look only" in " ".join(said.split())
    assert said.rindex("CAUTION") < said.index("Written")

"""The documents say what the program says."""

from __future__ import annotations

import re

from tests.documents import DEVELOPERS, HELP_PAGE, ROOT, filled, help_of, stale
from tests.readme import README
from upkeep.cli.commands import COMMANDS
from upkeep.cli.run import strokebook


def test_no_document_is_stale() -> None:
    """The ready-made help page, the command pages, the drawing and every example of the README are what runs now."""
    assert stale() == []


def test_every_command_is_documented_and_has_a_help_text() -> None:
    """Each command has its page in DEVELOPERS.md and says more than its name."""
    pages = DEVELOPERS.read_text(encoding="utf-8")
    for name, (_, told) in COMMANDS.items():
        assert f"#### strokebook {name}\n" in pages
        assert told.endswith(".")
    assert help_of(strokebook, "strokebook") == HELP_PAGE.read_text(encoding="utf-8")


def test_a_document_filled_twice_stays_the_same() -> None:
    """Filling is repeatable: nothing grows with each run."""
    once = filled(DEVELOPERS.read_text(encoding="utf-8"))
    assert filled(once) == once


def test_every_picture_of_the_readme_is_there() -> None:
    """Pictures are those that the screens are compared with, so that they cannot show another program."""
    pictures = re.findall(r"!\[[^\]]*\]\(([^)]+)\)", README.read_text(encoding="utf-8"))
    assert len(pictures) >= 3
    for picture in pictures:
        assert (ROOT / picture.replace("%5B", "[").replace("%5D", "]")).is_file()

"""The documents say what the program says."""

from __future__ import annotations

import re
from pathlib import Path

import click

from tests.documents import COMMAND_PAGES, DEVELOPERS, HELP_PAGE, PICTURES, ROOT, filled, help_of, stale
from tests.readme import README
from upkeep.cli.commands import COMMANDS
from upkeep.cli.run import strokebook
from upkeep.entries.kinds import all_kinds


def test_no_document_is_stale(demo_month: Path) -> None:
    """Help page, command pages, drawing, and every example and picture of the README are what runs now."""
    assert stale(demo_month) == []


def test_every_command_is_documented_and_has_a_help_text() -> None:
    """Each command has its page beside the help page and says more than its name."""
    pages = COMMAND_PAGES.read_text(encoding="utf-8")
    for name, (_, told) in COMMANDS.items():
        assert f"Usage: strokebook {name} " in pages
        assert told.endswith(".")
    assert help_of(strokebook, "strokebook") == HELP_PAGE.read_text(encoding="utf-8")


def test_no_command_has_an_option_twice() -> None:
    """The second would hide the first."""
    context = click.Context(strokebook)
    for name in COMMANDS:
        command = strokebook.get_command(context, name)
        assert command is not None
        options = [word for one in command.params if isinstance(one, click.Option) for word in one.opts]
        assert len(options) == len(set(options)), name


def test_every_kind_of_entry_has_its_writer_and_what_it_moves_in_the_table() -> None:
    """The table that is written by hand has one row for each kind, and none for a kind that is gone."""
    page = DEVELOPERS.read_text(encoding="utf-8")
    table = page.partition("| verb | who writes one | what it moves |\n")[2].partition("\n\n")[0]
    assert sorted(re.findall(r"(?m)^\| `([a-z-]+)` \|", table)) == sorted(kind.verb for kind in all_kinds())


def test_a_document_filled_twice_stays_the_same() -> None:
    """Filling is repeatable: nothing grows with each run."""
    once = filled(DEVELOPERS.read_text(encoding="utf-8"))
    assert filled(once) == once


def test_no_example_of_the_readme_is_longer_than_twelve_lines() -> None:
    """A reader sees what an answer looks like and reads on."""
    examples = re.findall(r"(?ms)^```console\n(.*?)^```$", README.read_text(encoding="utf-8"))
    assert examples
    assert all(len(example.splitlines()) <= 12 for example in examples)


def test_every_picture_of_the_readme_is_there() -> None:
    """Each is one of those that are kept the same as what the screens are compared with, or a page of the stations."""
    pictures = re.findall(r"!\[[^\]]*\]\(([^)]+)\)", README.read_text(encoding="utf-8"))
    assert len(pictures) >= 3
    for picture in pictures:
        assert (ROOT / picture).parent in (PICTURES, ROOT / "tests" / "station" / "pictures")
        assert (ROOT / picture).is_file()

"""The command that opens the screens, in a terminal of its own: at which place, and for whom."""

from __future__ import annotations

import signal
from contextlib import closing
from pathlib import Path

import pytest

from tests.plants import book_of
from tests.pseudo_terminal import PseudoTerminal
from upkeep.errors import BookUnavailable

SCREENS = "import sys\nfrom upkeep.cli.run import run\nsys.exit(run(['screens', *sys.argv[1:]]))"

pytestmark = pytest.mark.skipif(not hasattr(signal, "SIGHUP"), reason="there are no pseudo terminals here")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """The file of a book of the small plant."""
    with book_of(tmp_path) as book:
        return book.path


def test_the_command_opens_the_round_of_a_place_for_whoever_is_there(path: Path) -> None:
    """Place and person come from the command line; Ctrl+Q ends it with 0, in the name of a keeper."""
    words = ("--book", str(path), "--place", "P-07", "--by", "tom")
    with closing(PseudoTerminal(SCREENS, *words, rows=24, columns=80)) as program:
        program.shows("Item P-07")
        program.settle(0.5)
        program.types("\x11")
        program.shows("A keeper of the book closes this station.")
        program.types("lea\r")
        code, said = program.ended()
    assert (code, "Traceback" in said, "Tom" in said) == (0, False, True)


def test_without_a_place_the_command_opens_the_board(path: Path) -> None:
    """Of the whole plant; the key q ends it."""
    with closing(PseudoTerminal(SCREENS, "--book", str(path), rows=24, columns=80)) as program:
        program.shows("to do")
        program.types("q")
        code, said = program.ended()
    assert (code, "Traceback" in said) == (0, False)


def test_where_there_is_no_book_no_screen_opens(tmp_path: Path) -> None:
    """A sentence and the exit code of the refusal."""
    with closing(PseudoTerminal(SCREENS, "--book", str(tmp_path / "none.book"), rows=24, columns=80)) as program:
        code, said = program.ended()
    assert code == BookUnavailable.exit_code
    assert "none.book" in said
    assert "\x1b[?1049h" not in said

"""The screens in a real terminal: a shell's window of 80 columns and 24 rows, keys as a keyboard sends them."""

from __future__ import annotations

import shlex
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import book_of, written_lines
from tests.tui.test_check_screen import FITTED, FIVE, SHOP, TASKS
from upkeep.book import Book

TMUX = shutil.which("tmux")
_PATIENCE_SECONDS = 60

SCRIPT = """
from datetime import UTC, datetime
from pathlib import Path

from tui.app import StrokebookApp
from upkeep.book import Book

StrokebookApp(lambda: Book.open(Path({book!r})), lambda: datetime(2026, 3, 2, 7, tzinfo=UTC), place="P-07").run()
"""

pytestmark = pytest.mark.skipif(TMUX is None, reason="tmux is not installed: no real terminal to look through")


class Window:
    """One window of a terminal server of its own, with its socket in a folder: a whole path may be too long for one."""

    def __init__(self, folder: Path, command: str) -> None:
        self._folder = folder
        self._tmux("new-session", "-d", "-x", "80", "-y", "24", command)

    def _tmux(self, *words: str) -> str:
        command = [str(TMUX), "-f", "/dev/null", "-S", "tmux", *words]
        return subprocess.run(command, cwd=self._folder, check=True, capture_output=True, encoding="utf-8").stdout

    def shows(self, words: str) -> str:
        """The window once these words are in it; fails with the window where they do not come."""
        given_up = time.monotonic() + _PATIENCE_SECONDS
        while words not in (seen := self._tmux("capture-pane", "-p")):
            assert time.monotonic() < given_up, seen
            time.sleep(0.1)
        return seen

    def types(self, *keys: str) -> None:
        """Sends keys in one burst: texts as they are, and names like Enter."""
        self._tmux("send-keys", *keys)

    def close(self) -> None:
        """Ends the server and what runs in it."""
        self._tmux("kill-server")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """The file of a book in which DS-031 was fitted this morning."""
    with book_of(tmp_path, FITTED, tasks=TASKS, more=(*SHOP, FIVE)) as book:
        return book.path


@pytest.fixture
def window(tmp_path: Path, path: Path) -> Iterator[Window]:
    """The screens at the press, at seven on the Monday of the book."""
    script = tmp_path / "screens.py"
    script.write_text(SCRIPT.format(book=str(path)))
    opened = Window(tmp_path, f"NO_COLOR=1 {shlex.join([sys.executable, str(script)])}")
    yield opened
    opened.close()


def test_a_first_off_typed_in_a_real_terminal_is_in_the_book(window: Window, path: Path) -> None:
    """Five values as a gauge sends them, three letters, a name: nothing depends on colour, every row fits."""
    window.shows("Fitted here")
    window.types("k")
    seen = window.shows("Crimp height 5/5")
    assert "first-off" in seen
    for value in ("1,29", "1.291", "1.288", "1.29", "1.292"):
        window.types(value, "Enter")
    window.shows("1.292      in limits")
    window.types("ggg", "ana", "Enter")
    window.shows("5 readings, 3 looks: none is bad")
    window.types("Enter")
    window.shows("SIGNED 07:0")
    with Book.open(path) as book:
        newest = written_lines(book)[-1]
    assert " check DS-031 first-off on P-07 of CR-28 with G-1 crimp-height=1.29,1.291,1.288,1.29,1.292 " in newest

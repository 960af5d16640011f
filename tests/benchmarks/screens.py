"""The screens in a real (pseudo) terminal over a board of 100,000 lines, against an application that shows plain text.

Both start as programs of their own.  A paint is over when the terminal has been quiet for a while; what counts is when
its last byte came.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import closing

from tests.benchmarks.big_book import NOW
from tests.benchmarks.books import Books
from tests.benchmarks.measuring import Measured, best, middle
from tests.pseudo_terminal import PseudoTerminal
from upkeep.book import BoardQuery, Book
from upkeep.due.states import CALLING

ROWS, COLUMNS = 40, 120
DOWN, PAGE_DOWN = b"\x1b[B", b"\x1b[6~"
_QUIET = 0.15
_PATIENCE = 60.0
_STARTS, _KEYS = 7, 40

_OURS = f"""
import sys
from datetime import datetime
from pathlib import Path
from tui.app import run
run(Path(sys.argv[1]), at=datetime.fromisoformat({NOW.isoformat()!r}))
"""
_PLAIN = f"""
from textual.app import App
from textual.widgets import Static
class Plain(App):
    pressed = 0
    def compose(self):
        yield Static("nothing yet", markup=False)
    def on_key(self, event):
        self.pressed += 1
        rows = {ROWS} if event.key == "pagedown" else 1
        self.query_one(Static).update("\\n".join([f"pressed {{self.pressed}}".ljust({COLUMNS} - 1, "-")] * rows))
Plain().run()
"""
"""One row of text; a key changes it, and the key for a page fills the screen."""


class Terminal(PseudoTerminal):
    """A program in a terminal of the size in which all is measured."""

    def __init__(self, code: str, *arguments: str) -> None:
        super().__init__(code, *arguments, rows=ROWS, columns=COLUMNS)

    def press(self, key: bytes) -> float:
        """Seconds from a key until the last of what it changed has been painted."""
        pressed = time.perf_counter()
        self.types(key.decode())
        assert self.some(_PATIENCE), "the key changed nothing"
        painted = time.perf_counter()
        while self.some(_QUIET):
            painted = time.perf_counter()
        return painted - pressed


def measured(books: Books) -> Iterator[Measured]:
    """From the start to the first lines, and from a key to the painted screen."""
    path = books.big
    with Book.open(path) as book:
        first = book.board(NOW, BoardQuery(states=frozenset(CALLING)), limit=1).rows[0].item
    ours, baseline = best(lambda: _start(first, _OURS, str(path)), lambda: _start("nothing yet", _PLAIN), _STARTS)
    yield Measured("screens: start to first lines", ours, baseline, "plain application", 2.5)
    with closing(Terminal(_OURS, str(path))) as at_work, closing(Terminal(_PLAIN)) as plain:
        at_work.shows(first)
        for terminal in (at_work, plain):
            terminal.settle(1.5)
        yield _key("arrow down", DOWN, at_work, plain)
        yield _key("page down", PAGE_DOWN, at_work, plain)


def _start(text: str, code: str, *arguments: str) -> float:
    with closing(Terminal(code, *arguments)) as terminal:
        return terminal.shows(text)


def _key(name: str, key: bytes, at_work: Terminal, plain: Terminal) -> Measured:
    ours, baseline = middle(lambda: at_work.press(key), lambda: plain.press(key), _KEYS)
    return Measured(f"screens: {name} to painted screen", ours, baseline, "plain application", 2.0)

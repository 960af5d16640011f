"""Keys that nobody would press, faster than anybody could: the screens go on, or end as they were told to.

The keys come from fixed seeds; ``--long`` presses some thousand of them.
"""

from __future__ import annotations

import asyncio
import signal
from collections.abc import Iterator, Sequence
from contextlib import closing
from pathlib import Path
from random import Random

import pytest
from textual.events import Key

from tests.clock import Clock
from tests.plants import at, book_of, task, write
from tests.pseudo_terminal import PseudoTerminal
from tests.tui.terminal import SMALL, Terminal, terminal
from tests.tui.test_check_screen import FITTED, SHOP, TASKS
from tui.keys import KEYS, NUMBERS
from upkeep.book import Book

NOW = "2026-03-02 07:00"
INSPECT = task("inspect", "die set", every="1 day", early_days=1, graded=True, gauge_class="crimp micrometer")
_ENDS = {"q"}
_NAMED = sorted({name for key in KEYS if key.key != NUMBERS for name in key.key.split(",")} - _ENDS)
_MOVES = ["enter"] * 12 + ["escape"] * 5 + ["down"] * 4 + ["up", "tab", "backspace"]
_TYPED = [*"0123456789.,", *"abefgmnoptvwy", "ana", "lea", "1.29", "1205100"]

RUN = """
import sys
from datetime import datetime
from pathlib import Path
from tui.app import run
sys.exit(run(Path(sys.argv[1]), at=datetime.fromisoformat(sys.argv[2])))
"""
CRASH = """
import sys
from tui.screens.board.board import BoardScreen
from upkeep.cli.run import run
def fails(screen):
    raise LookupError("planted")
BoardScreen.action_help = fails
sys.exit(run(["screens", "--book", sys.argv[1]]))
"""
_IN_A_TERMINAL = {
    "enter": "\r", "escape": "\x1b", "tab": "\t", "backspace": "\x7f", "slash": "/", "question_mark": "?",
    "up": "\x1b[A", "down": "\x1b[B", "pageup": "\x1b[5~", "pagedown": "\x1b[6~", "home": "\x1b[H", "end": "\x1b[F",
    "shift+tab": "\x1b[Z",
}  # fmt: skip


@pytest.fixture
def path(tmp_path: Path) -> Iterator[Path]:
    """The file of a book in which DS-031 was fitted this morning; whatever was pressed, it is proven clean."""
    with book_of(tmp_path, FITTED, tasks=[*TASKS, INSPECT], more=SHOP) as book:
        write(book, '2026-03-02 06:50 fault M-12 "feeds only half" by ana')
        found = book.path
    yield found
    with Book.open(found) as book:
        assert book.prove().clean


def bursts(seed: int, keys: int) -> Iterator[list[str]]:
    """So many keys, one to six at a time: moves, keys that do something somewhere, figures and names."""
    random, given = Random(seed), 0
    while given < keys:
        burst: list[str] = []
        for _ in range(random.randint(1, 4)):
            pool: Sequence[str] = random.choice((_MOVES, _NAMED, _NAMED, _TYPED))
            picked = random.choice(pool)
            burst += [picked] if picked in _NAMED or picked in _MOVES else list(picked)
        yield burst[:6]
        given += len(burst[:6])


async def pressed(here: Terminal, burst: Sequence[str], random: Random) -> None:
    """Presses a burst, and waits not at all, a moment, or until the screen is quiet."""
    for key in burst:
        here.app.post_message(Key(key, key if len(key) == 1 else None))
    patience = random.choice((0.0, 0.001, 0.005, 0.02, None))
    if patience is None:
        await here.settle()
    else:
        await asyncio.sleep(patience)


@pytest.mark.parametrize("place", ["P-07", None], ids=["round", "board"])
async def test_random_keys_end_no_screen(path: Path, long: bool, place: str | None) -> None:
    """An error on any screen would end the program and fail this test."""
    for seed in range(41, 61 if long else 42):
        random = Random(seed)
        async with terminal(lambda: Book.open(path), SMALL, place=place, clock=Clock(at(NOW))) as here:
            for burst in bursts(seed, 400 if long else 200):
                await pressed(here, burst, random)
            assert here.app.is_running, seed


async def test_the_program_ends_quietly_whatever_is_under_way(path: Path, long: bool) -> None:
    """Ctrl+Q behind a burst: work that comes back later finds nobody to ask."""
    for seed in range(200 if long else 8):
        async with terminal(lambda: Book.open(path), SMALL, place="P-07", clock=Clock(at(NOW))) as here:
            for burst in bursts(seed, 12):
                await pressed(here, burst, Random(seed))
            here.app.exit()


@pytest.mark.skipif(not hasattr(signal, "SIGHUP"), reason="there are no pseudo terminals here")
def test_the_program_itself_takes_random_keys_in_a_terminal(path: Path, long: bool) -> None:
    """Started as the command starts it, ended by Ctrl+Q with the exit code 0."""
    with closing(PseudoTerminal(RUN, str(path), at(NOW).isoformat(), rows=24, columns=80)) as program:
        program.shows("to do")
        for number, burst in enumerate(bursts(7, 2_000 if long else 25)):
            program.types("".join(_IN_A_TERMINAL.get(key, _control(key)) for key in burst))
            program.settle(0.05 if number % 4 else 0.3)
        program.types("\x11")
        code, said = program.ended()
    assert "Traceback" not in said
    assert code == 0, said[-2_000:]


@pytest.mark.skipif(not hasattr(signal, "SIGHUP"), reason="there are no pseudo terminals here")
def test_an_error_nobody_expected_is_one_sentence_and_an_exit_code(path: Path) -> None:
    """In the shell behind the screens; the error's own words are in it."""
    with closing(PseudoTerminal(CRASH, str(path), rows=24, columns=80)) as program:
        program.shows("to do")
        program.types("?")
        code, said = program.ended()
    assert code == 1
    left = said.rpartition("\x1b[?1049l")[2]
    assert "This should not have happened (LookupError: planted). STROKEBOOK_TRACE=1 shows where." in left
    assert "Traceback" not in said


def _control(key: str) -> str:
    """What a keyboard sends: Ctrl with a letter is one character, a letter is itself."""
    return chr(ord(key[-1]) & 0x1F) if key.startswith("ctrl+") else key

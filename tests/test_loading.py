"""What an answer loads that somebody waits for: no library of numbers, none that draws."""

from __future__ import annotations

import subprocess
import sys
from importlib import import_module
from pathlib import Path
from pkgutil import walk_packages

import pytest

import upkeep.entries
from demo_plant.environment import ROOT
from tests.plants import CLEAN, book_of, task
from upkeep.entries.kinds import VERBS, all_kinds, kind_named, kind_of

HEAVY = {
    *("numpy", "scipy", "matplotlib", "PIL", "plotext", "reportlab", "resvg_py", "pandas"),
    *("starlette", "uvicorn", "jinja2", "anyio"),
}
"""Each takes longer to load than all the rest of such an answer."""

POINT = {"id": "slug-height", "title": "Slug height", "unit": "mm", "upper": 1.24, "part": "conductor punch"}
WORN = """
    2026-03-02 06:00 count P-07 0 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 0 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
    2026-03-02 10:00 count P-07 1000 by ana
    2026-03-02 10:00 sign DS-031/inspect for extra grade 1 slug-height=1.200 by tom
    2026-03-03 10:00 count P-07 2000 by ana
    2026-03-03 10:00 sign DS-031/inspect for extra grade 1 slug-height=1.205 by tom
    2026-03-04 10:00 count P-07 3000 by ana
    2026-03-04 10:00 sign DS-031/inspect for extra grade 1 slug-height=1.211 by tom
    2026-03-05 10:00 count P-07 4000 by ana
    2026-03-05 10:00 sign DS-031/inspect for extra grade 1 slug-height=1.215 by tom
    2026-03-06 06:00 count P-07 5000 by ana
"""

COMMANDS = """
import sys
from freezegun import freeze_time
from upkeep.cli.run import run
with freeze_time("2026-03-06 09:00"):
    codes = [run([*line.split(), "--book", sys.argv[1]]) for line in sys.argv[2:]]
print(codes)
print(*sorted({name.partition(".")[0] for name in sys.modules}))
"""
MODULES = """
import sys
from upkeep.cli.run import run
run([*sys.argv[2].split(), "--book", sys.argv[1], "--at", sys.argv[3]])
print(*sys.modules)
"""
SCREEN = """
import asyncio, sys
from pathlib import Path
from pkgutil import iter_modules, walk_packages
from datetime import UTC, datetime
from tests.clock import Clock
from tests.tui.terminal import terminal
from upkeep.book import Book
async def painted():
    async with terminal(lambda: Book.open(Path(sys.argv[1])), place=sys.argv[2] or None, clock=Clock(moment)) as here:
        print(here.text)
moment = datetime(2026, 3, 6, 9, tzinfo=UTC)
asyncio.run(painted())
print(*sorted({name.partition(".")[0] for name in sys.modules}))
"""


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a book with a punch that wears."""
    inspect = task("inspect", "die set", strokes=40_000, graded=True, points=[POINT])
    drain = task("drain", "press", rule="FREQ=DAILY")
    with book_of(tmp_path_factory.mktemp("worn"), WORN, tasks=[inspect, CLEAN, drain]) as book:
        return book.path


def run(program: str, *words: object) -> list[str]:
    """What a program said, line by line."""
    done = subprocess.run(
        [sys.executable, "-c", program, *map(str, words)], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


def loaded_by(path: Path, *commands: str) -> tuple[list[str], set[str]]:
    """What commands said, all of them taken, and the packages there are when they are done."""
    *said, codes, loaded = run(COMMANDS, path, *commands)
    assert codes == str([0 for _ in commands])
    assert {"upkeep", "click"} <= set(loaded.split())
    return said, set(loaded.split())


def modules_of(path: Path, command: str, at: str = "2026-03-06 09:00") -> set[str]:
    """The modules there are when one command is done that looks at a moment."""
    return set(run(MODULES, path, command, at)[-1].split())


def test_the_commands_that_look_load_no_numeric_library(path: Path) -> None:
    """Board and round, and the life of a part with a trend and its bounds."""
    said, loaded = loaded_by(path, "board", "round P-07", "life CP-a")
    assert any("Theil-Sen" in line for line in said)
    assert HEAVY & loaded == set()


def test_a_sign_off_loads_no_numeric_library(path: Path) -> None:
    """Nor the library for schemas, which would take numpy along where that is installed."""
    _, loaded = loaded_by(path, "sign M-12/clean --by ana")
    assert (HEAVY | {"sqlite_utils"}) & loaded == set()


@pytest.mark.parametrize(("place", "shown"), [("", "Test plant"), ("P-07", "M-12")])
def test_the_first_screen_loads_no_numeric_library(path: Path, place: str, shown: str) -> None:
    """The board, and the round of a press."""
    *said, loaded = run(SCREEN, path, place)
    assert shown in " ".join(said)
    assert "textual" in loaded.split()
    assert HEAVY & set(loaded.split()) == set()


def test_a_command_that_looks_loads_the_kinds_of_entry_it_reads_and_no_others(path: Path) -> None:
    """A board is read from its tables alone; a life has points, which checks and sign-offs measure."""
    kinds = {kind.of.__module__ for kind in all_kinds()}
    board, life = (modules_of(path, command) for command in ("board", "life CP-a"))
    assert "upkeep.answers.board" in board
    assert kinds & board == set()
    assert kinds & life == {"upkeep.entries.checking", "upkeep.entries.signing"}
    assert {"upkeep.entries.chain", "hashlib"}.isdisjoint(board | life)


def test_a_board_of_late_lines_counts_what_was_missed_and_judges_none(path: Path) -> None:
    """Days and shifts that have gone by are counted without the rules that say when a line is due."""
    late = modules_of(path, "board", "2026-03-09 09:00")
    assert "upkeep.due.missed" in late
    assert {"upkeep.due.lines", "upkeep.keeping.judging"}.isdisjoint(late)


def test_every_kind_of_every_module_is_listed_once() -> None:
    """Each module is loaded by the verb of an entry; a kind that is left out could be written and never read again."""
    modules = [import_module(module.name) for module in walk_packages(upkeep.entries.__path__, "upkeep.entries.")]
    made = [kind for module in modules for kind in getattr(module, "KINDS", ())]
    assert len(made) > 30
    assert sorted(kind.verb for kind in made) == sorted(VERBS)
    assert {kind_named(kind.verb) for kind in made} == set(made) == set(all_kinds())
    assert all(kind_of(kind.of) is kind for kind in made)

"""A mutant is tried: the tests run on a copy of the program with the fault in it, the likeliest to find it first."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from tests.mutants.sampling import Mutant

_COPIED = ("upkeep", "tui", "demo_plant", "tests")
_NEVER = (
    "tests/torture",
    "tests/benchmarks",
    "tests/test_house.py",
    "tests/test_environment.py",
    "tests/test_mutants.py",
)
"""They kill processes, or look at the sources instead of what the program does."""

_SECONDS = 1_800
"""How long the tests of one step may take; a mutant that turns in circles is found by that."""

_FAILED = re.compile(r"^(?:FAILED|ERROR) (tests/.+?)(?: - .*)?$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether the tests found a mutant, and which did first ("" for none; else its name, or what happened)."""

    mutant: Mutant
    found_by: str


class Copy:
    """A copy of the program in a folder, in which faults are planted one at a time."""

    def __init__(self, root: Path, folder: Path) -> None:
        self._folder = folder
        for name in _COPIED:
            shutil.copytree(root / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
        for file in root.glob("*.*"):
            if file.is_file():
                shutil.copy2(file, folder)
        (folder / ".venv").symlink_to((root / ".venv").resolve())

    def tried(self, mutant: Mutant, *, near: bool) -> Verdict:
        """Plants a fault, runs tests until one fails, and takes it out again.

        ``near``: only those of its own rooms, those that name its module, and the stories.  Raises AssertionError where
        the test that fails does so without the fault too.
        """
        file = self._folder / mutant.file
        source = file.read_bytes()
        for tests in _steps(self._folder, mutant.file)[: 2 if near else 3]:
            file.write_bytes(mutant.fault.planted(source))
            try:
                found_by = self._failing(tests)
            finally:
                file.write_bytes(source)
            if found_by:
                whole, _, _ = found_by.partition("[")  # all examples of the test: one's name may hold anything
                assert "::" not in whole or not self._failing([whole]), f"{whole} fails without any fault"
                return Verdict(mutant, found_by)
        return Verdict(mutant, "")

    def _failing(self, tests: Sequence[str]) -> str:
        """The first test that fails; "" where none does."""
        if not tests:
            return ""
        quick = ("-n0", "-q", "-x", "-p", "no:cacheprovider", "--hypothesis-profile=unshrunk")
        command = [sys.executable, "-m", "pytest", *quick, *tests]
        environment = {**os.environ, "PYTHONPATH": str(self._folder), "PYTHONDONTWRITEBYTECODE": "1"}
        with subprocess.Popen(
            command, cwd=self._folder, env=environment, start_new_session=True, text=True,
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
        ) as process:  # fmt: skip
            try:
                said, _ = process.communicate(timeout=_SECONDS)
            except subprocess.TimeoutExpired:
                return "the time it took"
            finally:
                _end(process.pid)
        if process.returncode == 0:
            return ""
        assert process.returncode in (1, 2), said  # 1: a test fails; 2: what it tests cannot even be loaded
        failed = _FAILED.search(said)
        return failed[1] if failed else f"exit code {process.returncode} of pytest"


def _end(group: int) -> None:
    """Ends what a run left behind."""
    try:
        os.killpg(group, signal.SIGKILL)
    except ProcessLookupError:
        return


def _steps(root: Path, file: str) -> tuple[list[str], list[str], list[str]]:
    """The files of tests for a module: those of its room and those that name it; the stories; all others."""
    module = file.removesuffix(".py").replace("/", ".")
    room = file.removeprefix("upkeep/").split("/")[0]
    every = [path for path in _test_files(root) if not path.startswith(_NEVER)]
    naming = [path for path in every if module in (root / path).read_text(encoding="utf-8")]
    first = dict.fromkeys([*naming, *(path for path in every if path.startswith(f"tests/{room}/"))])
    stories = [path for path in every if path.startswith("tests/stories/") and path not in first]
    return list(first), stories, [path for path in every if path not in first and path not in stories]


def _test_files(root: Path) -> Iterator[str]:
    for path in sorted((root / "tests").rglob("test_*.py")):
        yield path.relative_to(root).as_posix()

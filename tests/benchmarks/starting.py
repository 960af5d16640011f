"""From the prompt to the answer: the command against a Python that does nothing."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from tests.benchmarks.books import DEMO_ENDS, Books
from tests.benchmarks.measuring import Measured, best, timed

WORN = "CP-020"
"""A punch of the demo plant whose points have trends."""

COMMAND = str(Path(sys.executable).with_name("strokebook"))


def measured(books: Books) -> Iterator[Measured]:
    """The help page, and the board and the life of a part of the demo plant."""
    yield _against_nothing("strokebook --help", 3.0, COMMAND, "--help")
    at = f"{DEMO_ENDS:%Y-%m-%d %H:%M}Z"
    yield _against_nothing("strokebook board", 12.0, COMMAND, "board", "--book", str(books.demo), "--at", at)
    life = ("life", WORN, "--book", str(books.demo), "--at", at)
    yield _against_nothing("strokebook life of a worn part", 18.0, COMMAND, *life)


def _against_nothing(what: str, aim: float | None, *command: str) -> Measured:
    ours, baseline = best(lambda: _run(*command), lambda: _run(sys.executable, "-c", "pass"), 15)
    return Measured(what, ours, baseline, "python -c pass", aim)


def _run(*command: str) -> float:
    return timed(lambda: subprocess.run(command, check=True, capture_output=True))

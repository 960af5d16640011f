"""From the prompt to the answer: the command against a Python that does nothing, in processor time.

The first run compiles what the others load, also where the environment forbids Python to keep what it compiled.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

from tests.benchmarks.books import DEMO_ENDS, Books
from tests.benchmarks.measuring import Measured, best, worked

WORN = "CP-020"
"""A punch of the demo plant whose points have trends."""

COMMAND = str(Path(sys.executable).with_name("strokebook"))


def measured(books: Books) -> Iterator[Measured]:
    """The help page, and the board and the life of a part of the demo plant."""
    yield _against_nothing("strokebook --help", 3.0, COMMAND, "--help")
    at = f"{DEMO_ENDS:%Y-%m-%d %H:%M}Z"
    yield _against_nothing("strokebook board", 12.0, COMMAND, "board", "--book", str(books.demo), "--at", at)
    neglected = f"{DEMO_ENDS + timedelta(days=11):%Y-%m-%d %H:%M}Z"
    yield _against_nothing(
        "strokebook board, nothing signed for 11 days",
        12.0,
        COMMAND,
        "board",
        "--book",
        str(books.demo),
        "--at",
        neglected,
    )
    life = ("life", WORN, "--book", str(books.demo), "--at", at)
    yield _against_nothing("strokebook life of a worn part", 18.0, COMMAND, *life)


def _against_nothing(what: str, aim: float | None, *command: str) -> Measured:
    ours, baseline = best(lambda: _run(*command), lambda: _run(sys.executable, "-c", "pass"), 15)
    return Measured(what, ours, baseline, "python -c pass", aim)


def _run(*command: str) -> float:
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return worked(lambda: subprocess.run(command, check=True, capture_output=True, env=environment))

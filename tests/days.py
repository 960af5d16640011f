"""The suite on another day, for ``python3 -m tests --on MOMENT``: all that it starts sees the clock moved.

Standard library only: it is read before anything is installed.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

AWKWARD = {
    "2026-03-29T00:59:50Z": "ten seconds before the clock is put forward in Berlin",
    "2026-03-29T01:30Z": "half past two is missing in Berlin",
    "2026-10-25T00:30Z": "the first half past two in Berlin",
    "2026-10-25T01:30Z": "the second half past two in Berlin",
    "2026-03-08T07:30Z": "half past two is missing in New York",
    "2026-11-01T06:30Z": "the second half past one in New York",
    "2026-01-31T22:59:50Z": "ten seconds before the end of a month in Berlin",
    "2028-02-29T01:30Z": "29 February, half past two in Berlin",
    "2026-12-31T22:59:50Z": "ten seconds before the end of a year with a week 53 in Berlin",
    "2027-01-03T12:00Z": "a Sunday in January, the last day of week 53 of the year before",
    "2027-01-04T04:59:50Z": "ten seconds before the first shift of week 1 in Berlin",
    "2026-11-30T01:00Z": "Monday in the small hours in Berlin, before the list of the week is written",
    "2038-01-19T03:14:08Z": "one second more than 31 bits of seconds",
}
"""Moments at which a program that reads the clock may stumble, each with what is awkward about it."""

CLOCK = Path(__file__).with_name("moved_clock.c")
MISSING = (
    "The clock was not moved and nothing was run: moving it takes Linux and a C compiler (cc); "
    "on Debian and Ubuntu that is the package build-essential."
)


class NoSuchDay(Exception):
    """Why the suite cannot run on that day, in words for the person who asked for it."""


def moments(text: str) -> list[datetime]:
    """The moment of a text (ISO 8601; without an offset it is this machine's local time), or all ``awkward`` ones.

    Raises :class:`NoSuchDay` for what is no moment, and where the clock cannot be moved here.
    """
    try:
        found = [datetime.fromisoformat(each).astimezone(UTC) for each in (AWKWARD if text == "awkward" else [text])]
    except ValueError:
        raise NoSuchDay(
            f"{text!r} is no moment; write one like 2028-02-29T02:30 or 2026-10-25T01:30Z, or write awkward."
        ) from None
    if sys.platform != "linux" or shutil.which("cc") is None:
        raise NoSuchDay(MISSING)
    return found


def run_at(asked: Sequence[datetime], command: Sequence[str]) -> int:
    """Runs a command with the clock at each moment; the exit code of the first that failed.

    The moments, and again those of them at which it failed, are said on stderr.
    """
    failed: list[tuple[datetime, int]] = []
    with tempfile.TemporaryDirectory() as folder:
        library = Path(folder) / "moved_clock.so"
        subprocess.run(["cc", "-O2", "-shared", "-fPIC", "-o", str(library), str(CLOCK)], check=True)
        for moment in asked:
            print(f"== With the clock at {_said(moment)}", file=sys.stderr, flush=True)
            moved_by = round((moment - datetime.now(UTC)).total_seconds())
            moved = {**os.environ, "LD_PRELOAD": str(library), "MOVED_BY": str(moved_by)}
            code = subprocess.run(command, env=moved, check=False).returncode
            failed += [(moment, code)] if code else []
    for moment, _ in failed:
        print(f"Failed with the clock at {_said(moment)}", file=sys.stderr)
    return failed[0][1] if failed else 0


def _said(moment: datetime) -> str:
    return f"{moment:%Y-%m-%dT%H:%M:%SZ}, a {moment:%A}"

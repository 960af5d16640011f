"""Runs the examples of README.md on the demo plant and gives the page with what they print filled in."""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
import tempfile
from pathlib import Path
from random import Random
from unittest.mock import patch

from freezegun import freeze_time

from tests.demo_month import NOW, SEED, copied, new_month
from upkeep.cli.run import run

README = Path(__file__).resolve().parents[1] / "README.md"
_EXAMPLE = re.compile(r"(?ms)^```console\n(.*?)^```$")
_BEGINNING = re.compile(r"(.*) \| head -n (\d+)")
"""A command of which only so many lines are shown."""


def filled_readme(month: Path | None = None) -> str:
    """README.md with the output of every example made anew, all on one book, in the order of the page.

    ``month`` is a month of the demo plant built before; it stays as it is.
    Raises :class:`AssertionError` where an example does not end well.
    """
    with tempfile.TemporaryDirectory() as folder:
        path = copied(month, Path(folder) / "book") if month is not None else new_month(Path(folder))
        page = README.read_text(encoding="utf-8")
        with patch(
            "upkeep.store.file.urandom", Random(SEED).randbytes
        ):  # what the commands write gets the same salts each time
            return _EXAMPLE.sub(lambda found: f"```console\n{_with_output(found[1], path)}```", page)


def _with_output(block: str, book: Path) -> str:
    commands = [line for line in block.splitlines() if line.startswith("$ ")]
    return "".join(f"{command}\n{_printed(command[2:], book)}" for command in commands)


def _printed(command: str, book: Path) -> str:
    if shortened := _BEGINNING.fullmatch(command):
        whole, lines = shortened.groups()
        return "".join(_printed(whole, book).splitlines(keepends=True)[: int(lines)])
    program, *arguments = shlex.split(command)
    assert program == "strokebook", command
    before = dict(os.environ)
    os.environ["STROKEBOOK_BOOK"] = str(book)
    output, errors = io.StringIO(), io.StringIO()
    try:
        with freeze_time(NOW), contextlib.redirect_stdout(output), contextlib.redirect_stderr(errors):
            code = run(arguments)
    finally:
        os.environ.clear()
        os.environ.update(before)
    assert code == 0, f"{command}: {errors.getvalue()}"
    return output.getvalue().replace("\f", "")

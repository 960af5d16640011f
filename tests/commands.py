"""The command line in the tests' own process, with the clock at a moment of their choosing, and in others."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from freezegun import freeze_time

from upkeep.cli.run import run


@dataclass(frozen=True)
class Said:
    """What a command said, and its exit code."""

    code: int
    out: str
    err: str


class Terminal:
    """Where somebody types commands about one book."""

    def __init__(self, book: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self._book, self._capsys = book, capsys

    def types(self, moment: str, *words: object) -> Said:
        """Runs one command line at a moment (UTC)."""
        self._capsys.readouterr()
        with freeze_time(moment):
            code = run([*map(str, words), "--book", str(self._book)])
        out, err = self._capsys.readouterr()
        return Said(code, out, err)


@contextmanager
def started(command: Sequence[object]) -> Iterator[subprocess.Popen[str]]:
    """A process of its own whose stderr is read; a test that fails meanwhile ends it, and nobody waits for it."""
    with subprocess.Popen(list(map(str, command)), stderr=subprocess.PIPE, text=True) as process:
        try:
            yield process
        finally:
            process.kill()


def set_off_together(command: Sequence[str], times: int) -> list[subprocess.Popen[str]]:
    """As many processes of one program that all wait for the word: each prints ``ready``, then reads a line to go."""
    pipe = subprocess.PIPE
    running = [subprocess.Popen(command, stdin=pipe, stdout=pipe, stderr=pipe, text=True) for _ in range(times)]
    for process in running:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
    for process in running:
        assert process.stdin is not None
        process.stdin.write("go\n")
        process.stdin.flush()
    return running

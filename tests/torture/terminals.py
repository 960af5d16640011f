"""Starting terminals from a test and listening to them."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]


class Terminal:
    """One process of :mod:`tests.torture.terminal`."""

    def __init__(self, act: str, book: Path, *words: object) -> None:
        command = [sys.executable, "-m", "tests.torture.terminal", act, str(book), *map(str, words)]
        self._complaints = tempfile.TemporaryFile()  # noqa: SIM115 - closed by close()
        self._process = subprocess.Popen(
            command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=self._complaints, text=True
        )
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._to, self._from = self._process.stdin, self._process.stdout

    def tell(self, *words: object) -> None:
        """Sends it one line."""
        print(*words, file=self._to, flush=True)

    def hear(self) -> dict[str, Any]:
        """The next thing it says; fails with its complaint where it broke down instead."""
        line = self._from.readline()
        assert line.endswith("\n"), self._complaint()
        said: dict[str, Any] = json.loads(line)
        return said

    def kill(self) -> list[dict[str, Any]]:
        """Ends it as a power cut would (SIGKILL: no handler runs, nothing is tidied up); what nobody had heard yet."""
        self._process.kill()
        said = self._from.read().splitlines(keepends=True)
        self._process.wait()
        return [json.loads(line) for line in said if line.endswith("\n")]

    def rest(self) -> list[dict[str, Any]]:
        """All it says until it ends by itself; fails with its complaint where it broke down."""
        self._to.close()
        said = self._from.read().splitlines()
        assert self._process.wait() == 0, self._complaint()
        return [json.loads(line) for line in said]

    def _complaint(self) -> str:
        self._process.wait()
        self._complaints.seek(0)
        return f"the terminal ended with {self._process.returncode}:\n{self._complaints.read().decode()}"

    def close(self) -> None:
        """Ends it, if it has not ended, and waits."""
        self._process.kill()
        self._process.wait()
        for stream in (self._to, self._from, self._complaints):
            stream.close()


@contextmanager
def terminals(*started: Terminal) -> Iterator[tuple[Terminal, ...]]:
    """Sees to it that none of them outlives the test."""
    try:
        yield started
    finally:
        for one in started:
            one.close()

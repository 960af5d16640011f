"""The server of the stations and a terminal at one book, each killed in the middle of its work, again and again."""

from __future__ import annotations

import random
import socket
import subprocess
import sys
import threading
import time
from contextlib import ExitStack
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import httpx2
import pytest

from tests.plants import book_of, item, task, written_lines
from tests.station.visitor import Visitor
from tests.torture.terminals import ROOT, Terminal, terminals
from upkeep.book import Book

pytestmark = pytest.mark.torture

ROUNDS = 12
"""Kills of the server, of the terminal, of both."""
REPORTED_AT_LEAST = 3
"""Reports of a round that the browser saw confirmed before anything is killed."""


class Browser(threading.Thread):
    """Somebody who reports one finding after another, until the server is gone; ``stored`` is what a page confirmed."""

    def __init__(self, port: int, name: str) -> None:
        super().__init__()
        self._base, self._name = f"http://127.0.0.1:{port}", name
        self.stored: list[str] = []
        self.failed: Exception | None = None

    def run(self) -> None:
        """Goes on until nobody answers."""
        try:
            with httpx2.Client(base_url=self._base, follow_redirects=True, timeout=60) as client:
                visitor: Visitor = Visitor(client).is_here("ben")
                self._report(visitor)
        except httpx2.TransportError:
            return
        except Exception as error:
            self.failed = error

    def _report(self, visitor: Visitor) -> None:
        number = 0
        while True:
            words = f"{self._name} {number}"
            visitor.goes("/at/P-07/found/other")
            if visitor.status == 429:
                time.sleep(0.2)
                continue
            visitor.presses("It goes on running", words=words, item="P-07")
            assert visitor.status == 200, visitor.text
            assert "P-07: " + words in visitor.text or visitor.path.endswith("/count"), visitor.text
            self.stored.append(words)
            number += 1


def free_port() -> int:
    """A port that nobody uses now; where somebody takes it before the server does, another one is asked for."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def started(book: Path) -> tuple[subprocess.Popen[bytes], int]:
    """The server as a plant runs it, answering at a port."""
    until = time.monotonic() + 60
    while time.monotonic() < until:
        port = free_port()
        server = _run_at(book, port)
        while time.monotonic() < until and server.poll() is None:
            try:
                httpx2.get(f"http://127.0.0.1:{port}/at/P-07/who", timeout=60)
            except httpx2.TransportError:
                time.sleep(0.05)
            else:
                return server, port
        server.kill()
        server.wait()
    raise AssertionError("the server did not answer")


def _run_at(book: Path, port: int) -> subprocess.Popen[bytes]:
    words = ["serve", "--book", str(book), "--stations", f"127.0.0.1:{port}"]
    for folder in ("lists", "backups"):
        words += [f"--{folder}", str(book.with_name(folder))]
    command = [sys.executable, "-c", f"from upkeep.cli.run import run; run({words!r})"]
    return subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def test_nothing_confirmed_is_lost_whoever_is_killed(tmp_path: Path, long: bool) -> None:
    """The server with its browser, the terminal, both: what was confirmed is there, once; nothing is half."""
    if not long:
        pytest.skip("a server, a browser and a terminal for each kill: --long")
    began = (datetime.now(UTC) - timedelta(days=1)).strftime("%Y-%m-%d %H:%M")
    modules = [item(f"W-{n:02d}", kind="module") for n in range(30)]
    with book_of(tmp_path, tasks=[task("look", "module", rule="FREQ=DAILY")], more=modules, begins=began) as book:
        path = book.path
    chance = random.Random(20260302)
    stored: list[str] = []
    signed: list[dict[str, Any]] = []
    for number in range(ROUNDS):
        stored += _killed_at_work(path, number, chance.uniform(0, 0.4), signed)
        with Book.open(path) as book:
            assert book.prove().clean
            _all_there(written_lines(book), stored, signed)
    assert len(stored) >= REPORTED_AT_LEAST


def _killed_at_work(path: Path, number: int, after: float, signed: list[dict[str, Any]]) -> list[str]:
    """What a browser saw confirmed until server, terminal or both were killed; what the terminal heard is added."""
    with ExitStack() as ending, terminals(Terminal("keep_signing", path, "ana")) as (terminal,):
        server, port = started(path)
        ending.callback(server.wait)
        ending.callback(server.kill)
        browser = Browser(port, f"seen {number}")
        browser.start()
        signed.append(terminal.hear())
        while len(browser.stored) < REPORTED_AT_LEAST and browser.is_alive():
            time.sleep(0.02)
        time.sleep(after)
        if number % 3 != 1:
            server.kill()
        if number % 3 != 2:
            signed += terminal.kill()
        confirmed = list(browser.stored)
        with Book.open(path) as book:  # beside whoever still writes
            _all_there(written_lines(book), confirmed, signed)
        server.kill()
        signed += terminal.kill()
        browser.join()
    assert browser.failed is None, browser.failed
    return browser.stored


def _all_there(written: list[str], stored: list[str], signed: list[dict[str, Any]]) -> None:
    for words in stored:
        assert sum(f'"{words}"' in line for line in written) == 1, words
    for fact in signed:
        line, found = (written[number] for number in fact["entries"])
        assert f"sign {fact['line']} for {fact['occurrence']} by ana" in line
        assert f'"seen at {fact["occurrence"]}" by ana' in found

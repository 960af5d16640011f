"""Fifty stations at one server: what a page takes beside a bare page of the same bytes, and what they take of memory.

Each station is a browser's session of its own, from an address of its own, at a press of its own, with somebody there.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from functools import partial
from pathlib import Path

from httpx2 import Client, HTTPTransport

from tests.benchmarks.measuring import Measured, megabytes, timed
from tests.plants import CLEAN, book_of, item
from tests.station.visitor import AIR, BEFORE, GUARD, MORNING, WIPE, Visitor
from upkeep.book import Book
from upkeep.station.server.desk import look

STATIONS, PAGES = 50, 6
"""Stations, and how often each asks for its page."""

PRESSES = tuple(f"S-{number:02d}" for number in range(1, STATIONS + 1))

_MORE = 100e6
"""So many bytes more than one may all of them take."""


def measured(folder: Path) -> Iterator[Measured]:
    """Aims: a page, without what the book reads for it, 3 times a bare one; 100 MB for 49 stations more."""
    path = _book(folder)
    with _served(path) as served, ExitStack() as browsers:
        stations = [browsers.enter_context(_browser(served.port, number)) for number in range(1, STATIONS + 1)]
        stations[0].is_here("ana", PRESSES[0])
        alone = served.memory()
        for station, press in zip(stations[1:], PRESSES[1:], strict=True):
            station.is_here("ana", press)
        page = folder / "page.html"
        page.write_text(stations[0].html, encoding="utf-8")
        with _served(page) as bare, _browser(bare.port, 1) as browser, Book.open(path) as book:
            yield _page(stations, browser, book)
        together = served.memory()
        yield Measured(
            "memory of a server with 50 stations", together, alone, "with one", (alone + _MORE) / alone, megabytes
        )


def _book(folder: Path) -> Path:
    presses = [item(press, kind="press", place="hall", max_rate=3000) for press in PRESSES]
    with book_of(folder, BEFORE, tasks=[CLEAN, AIR, WIPE, GUARD], more=presses) as book:
        return book.path


def _page(stations: Sequence[Visitor], bare: Visitor, book: Book) -> Measured:
    """What 95 % of the pages take at most, asked one by one: each beside a bare page and what the book reads for it."""
    ours, plain = [], []
    for _ in range(PAGES):
        for station, press in zip(stations, PRESSES, strict=True):
            page = _answered(station, f"/at/{press}")
            ours.append(page - timed(partial(look, book, press, MORNING)))
            plain.append(_answered(bare, "/"))
    what = "page of one of 50 stations, less the book's read, 95 %"
    return Measured(what, _slow(ours), _slow(plain), "bare page, 95 %", 3.0)


def _answered(visitor: Visitor, path: str) -> float:
    seconds = timed(lambda: visitor.goes(path))
    assert visitor.status == 200, visitor.text
    return seconds


def _slow(seconds: Sequence[float]) -> float:
    """What 95 % of the answers take at most."""
    return sorted(seconds)[int(len(seconds) * 0.95)]


class _Served:
    """A server in a process of its own."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        assert process.stdout is not None
        self.port = int(process.stdout.readline())
        self._number = process.pid

    def memory(self) -> float:
        """The bytes of memory it has, its own and those of its libraries."""
        status = Path(f"/proc/{self._number}/status").read_text(encoding="ascii")
        (held,) = (line.split()[1] for line in status.splitlines() if line.startswith("VmRSS:"))
        return int(held) * 1024.0


@contextmanager
def _served(path: Path) -> Iterator[_Served]:
    command = [sys.executable, "-m", "tests.benchmarks.station_server", str(path), f"{MORNING:%Y-%m-%d %H:%M}"]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        yield _Served(process)
        process.communicate()


@contextmanager
def _browser(port: int, number: int) -> Iterator[Visitor]:
    """A browser at an address of its own, of those that every machine has."""
    transport = HTTPTransport(local_address=f"127.0.1.{number}")
    with Client(base_url=f"http://127.0.0.1:{port}", transport=transport, follow_redirects=True) as client:
        yield Visitor(client)

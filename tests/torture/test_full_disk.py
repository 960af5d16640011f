"""No room left: the writer is told so in a sentence, everything confirmed is there, and room makes it go on."""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.plants import at, book_of, written_lines
from tests.torture.terminals import Terminal, terminals
from upkeep.book import Book
from upkeep.entries.faults import Fault
from upkeep.errors import BookUnavailable

pytestmark = pytest.mark.torture

LATER = at("2026-03-20 06:00")


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system with room for little more than an empty book; only root can make one."""
    disk = tmp_path / "disk"
    disk.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", "size=1700k", "tmpfs", str(disk)]
    if sys.platform != "linux" or os.getuid() != 0 or subprocess.run(command, check=False).returncode != 0:
        pytest.skip("a small file system can only be mounted by root on Linux, and not in every container")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


def test_a_full_disk_loses_nothing_and_says_so(small_disk: Path) -> None:
    """A really full file system; with the room given back the next entry is written."""
    ballast = small_disk / "ballast"
    ballast.write_bytes(bytes(64 * 1024))
    with book_of(small_disk) as book:
        path = book.path
    with terminals(Terminal("write_until_refused", path, "ana", 0)) as (terminal,):
        *confirmed, refused = terminal.rest()
    assert "is full. Free some space and try again; everything confirmed is safe." in refused["sentence"]
    ballast.unlink()
    _nothing_lost(path, confirmed)
    _can_go_on(path)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows knows no limit on the size of files")
def test_a_file_that_may_not_grow_loses_nothing_and_says_so(tmp_path: Path) -> None:
    """The same where a quota or a limit of the process stops the file; another process without it goes on."""
    with book_of(tmp_path) as book:
        path = book.path
    largest = path.stat().st_size + 600_000
    with terminals(Terminal("write_until_refused", path, "ana", largest)) as (terminal,):
        *confirmed, refused = terminal.rest()
    assert "everything confirmed is safe." in refused["sentence"]
    _nothing_lost(path, confirmed)
    _can_go_on(path)


def test_a_full_disk_can_still_be_read(small_disk: Path) -> None:
    """Not a byte to spare: a screen that has the book open still gets board, history and proof, and copies it away."""
    elsewhere = small_disk.parent / "copy.book"
    with book_of(small_disk) as book:
        with terminals(Terminal("write_until_refused", book.path, "ana", 0)) as (terminal,):
            *confirmed, _ = terminal.rest()
        _fill_up(small_disk / "ballast")
        with pytest.raises(BookUnavailable, match="is full"):
            book.write([Fault(at=LATER, by="ana", item="M-12", symptom="no room")], LATER)
        assert book.board(LATER).at == LATER
        assert len(book.history(limit=10)) == 10
        assert book.prove().clean
        book.backup(elsewhere)
    _nothing_lost(elsewhere, confirmed)


def test_a_program_that_starts_on_a_full_disk_can_read(small_disk: Path) -> None:
    """With what a killed writer has left in the log; board, proof and export are there, and writing points to paper."""
    with book_of(small_disk) as book:
        path = book.path
    with terminals(Terminal("write_until_refused", path, "ana", 0)) as (terminal,):
        *confirmed, _ = terminal.rest()
        terminal.kill()
    _fill_up(small_disk / "ballast")
    with Book.open(path) as book:
        assert book.board(LATER).at == LATER
        assert book.prove().clean
        assert len(list(book.export())) == confirmed[-1]["entry"] + 1
        with pytest.raises(BookUnavailable, match="write on the last printed list"):
            book.write([Fault(at=LATER, by="ana", item="M-12", symptom="no room")], LATER)


def _fill_up(ballast: Path) -> None:
    with ballast.open("wb", buffering=0) as file, contextlib.suppress(OSError):
        while True:
            file.write(bytes(512))


def _nothing_lost(path: Path, confirmed: list[dict[str, Any]]) -> None:
    assert len(confirmed) > 20
    with Book.open(path) as book:
        written = written_lines(book)
        assert [f'"{fact["n"]} x' in written[fact["entry"]] for fact in confirmed] == [True] * len(confirmed)
        assert len(written) == confirmed[-1]["entry"] + 1, "the entry that was refused is not there"
        assert book.prove().clean


def _can_go_on(path: Path) -> None:
    with Book.open(path) as book:
        number = book.write([Fault(at=LATER, by="ana", item="M-12", symptom="room again")], LATER).entries[0]
        assert "room again" in written_lines(book)[number]
        assert book.prove().clean

"""Writers at one book: whoever asks first writes first, and nobody is told that it is busy while others get in."""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

import upkeep.store.disk.connecting
from tests.plants import at, book_of
from upkeep.book import Book
from upkeep.entries.faults import Fault
from upkeep.store.disk import turns

DAY = at("2026-03-08 06:00")
PATIENCE = 60
"""Seconds after which a test gives up waiting for another thread."""

WRITERS = 20
HELD_SECONDS = 0.05


def _write(book: Book, symptom: str) -> int:
    return book.write([Fault(at=DAY, by="ana", item="M-12", symptom=symptom)], DAY).entries[0]


def _write_apart(path: Path, symptom: str) -> int:
    with Book.open(path) as book:
        return _write(book, symptom)


def _wait_until(is_so: Callable[[], bool]) -> None:
    until = time.monotonic() + PATIENCE
    while not is_so():
        assert time.monotonic() < until, "it never came"
        time.sleep(0.001)


def test_who_waits_writes_before_who_comes_by(tmp_path: Path) -> None:
    """The writer who has just written asks again at once, and stands behind the one who waited, time after time."""
    with book_of(tmp_path) as book, ThreadPoolExecutor(1) as threads:
        for number in range(20):
            with book._file.writing():
                waiting = threads.submit(_write_apart, book.path, f"waited {number}")
                _wait_until(lambda: not turns.is_free(book.path))
            again = _write(book, f"came by {number}")
            assert waiting.result(PATIENCE) < again


def test_nobody_is_told_busy_while_others_get_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """However long the row of those who wait: each waits longer here than a writer waits for a book nobody leaves."""
    monkeypatch.setattr(upkeep.store.disk.connecting, "BUSY_SECONDS", WRITERS * HELD_SECONDS / 2)
    book_of(tmp_path).close()

    def writes(number: int) -> None:
        with Book.open(tmp_path / "plant.book") as book:
            for _ in range(2):
                with book._file.writing():
                    time.sleep(HELD_SECONDS)
                    book._writer(DAY).write([Fault(at=DAY, by="ana", item="M-12", symptom=str(number))])

    with ThreadPoolExecutor(WRITERS) as threads:
        for done in [threads.submit(writes, number) for number in range(WRITERS)]:
            done.result(PATIENCE)


def test_a_book_nobody_leaves_is_told_to_all_who_wait(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """At about the same moment: those behind do not wait for the patience of each before them."""
    monkeypatch.setattr(upkeep.store.disk.connecting, "BUSY_SECONDS", 1.0)
    with book_of(tmp_path) as book, ThreadPoolExecutor(WRITERS) as threads:
        with book._file.writing():
            waiting = [threads.submit(_write_apart, book.path, "in vain") for _ in range(WRITERS)]
            began = time.monotonic()
            refusals = [one.exception(PATIENCE) for one in waiting]
            took = time.monotonic() - began
        assert all("has been busy for 1 s" in str(refusal) for refusal in refusals)
        assert took < WRITERS, "each has waited for the one before"
        assert _write(book, "in time") > 0

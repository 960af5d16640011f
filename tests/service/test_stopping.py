"""A service that is asked to stop ends soon, whatever it is at, and leaves nothing half done."""

from __future__ import annotations

import logging
import threading
import time
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from tests.plants import CLEAN, at, book_of, task
from upkeep.book import Book, Progress
from upkeep.entries.bookkeeping import Note
from upkeep.service.ending import Ending, GivenUp
from upkeep.service.serve import Service

NOW = at("2026-03-04 12:00")


class EndsAt(Ending):
    """A stop whose time is over when work comes to a stage."""

    def __init__(self, stage: str) -> None:
        super().__init__(threading.Event())
        self._stage = stage

    def heed(self, progress: Progress | None = None) -> None:
        """Raises at that stage."""
        if progress is not None and progress.stage == self._stage:
            raise GivenUp


def service_of(folder: Path, moment: datetime = NOW) -> Service:
    book_of(folder, tasks=[CLEAN, task("grease", "press", every="2 days")]).close()
    return Service(folder / "plant.book", lists=folder / "lists", backups=folder / "backups", clock=lambda: moment)


@pytest.mark.parametrize(
    ("job", "stage", "told"),
    [
        ("back_up", "copying", "The backup"),
        ("back_up", "comparing", "The backup"),
        ("write_list", "gathered", "The weekly list"),
        ("write_list", "worded", "The weekly list"),
        ("write_list", "rows", "The weekly list"),
        ("write_list", "pages", "The weekly list"),
    ],
)
def test_what_takes_long_is_given_up_and_made_at_the_next_start(
    tmp_path: Path, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch, job: str, stage: str, told: str
) -> None:
    """While the book is copied or proven, the week gathered, put into words, set or drawn; no part of it is left."""
    caplog.set_level(logging.INFO, "upkeep.service")
    service = service_of(tmp_path)
    with monkeypatch.context() as patched:
        patched.setattr(service, "_ending", EndsAt(stage))
        getattr(service, job)()
    assert caplog.messages[-1] == f"{told} was given up; it is made at the next start."
    assert [path for path in tmp_path.glob("*/*") if path.is_file()] == []
    getattr(service, job)()
    assert caplog.messages[-1].startswith(("Backed up to", "The list of week"))


def test_a_copy_is_one_state_of_the_book_while_others_write(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is written meanwhile neither comes into it nor makes it begin anew."""
    monkeypatch.setattr("upkeep.store.disk.backup._PAGES_AT_ONCE", 10)
    service_of(tmp_path)
    told: list[int] = []
    with Book.open(tmp_path / "plant.book") as book, Book.open(tmp_path / "plant.book") as other:
        before = book.prove().entries

        def writes(progress: Progress) -> None:
            told.append(progress.done)
            other.write([Note(at=NOW, by="ana", text="meanwhile")], NOW)

        book.backup(tmp_path / "copy.book", writes)
        assert book.prove().entries == before + len(told)
    assert len(told) > 3
    assert told == sorted(told)
    with Book.open_copy(tmp_path / "copy.book") as copy:
        report = copy.prove()
    assert report.clean
    assert report.entries == before


def test_a_stop_while_the_scheduler_hands_out_its_first_job_breaks_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The scheduler looks for the job it has just handed out, to strike it off."""
    from apscheduler.executors.pool import ThreadPoolExecutor

    stop, handed_out = threading.Event(), ThreadPoolExecutor.submit_job
    broken: list[Any] = []

    def stops_meanwhile(*job: Any) -> None:
        handed_out(*job)
        stop.set()
        time.sleep(0.3)  # the service hears of it long before

    monkeypatch.setattr(ThreadPoolExecutor, "submit_job", stops_meanwhile)
    monkeypatch.setattr(threading, "excepthook", broken.append)
    service_of(tmp_path).run(stop)
    assert broken == []

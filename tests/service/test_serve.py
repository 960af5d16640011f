"""The jobs around a book, and how they start, miss, fail and stop."""

from __future__ import annotations

import logging
import os
import signal
import sys
import threading
import time
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from freezegun import freeze_time

from tests.commands import started
from tests.plants import CLEAN, at, book_of, task, why_of
from upkeep.book import Book, Progress, Watch
from upkeep.errors import BookUnavailable
from upkeep.service.backups import Backups
from upkeep.service.serve import LOOK_AGAIN, TRY_AGAIN, Service, monday_trigger, night_trigger, now, serve
from upkeep.store.disk.serving import kept_by
from upkeep.units.instants import Zone

BERLIN = Zone("Europe/Berlin")
PATIENCE = 60
"""Seconds after which a test gives up waiting for another thread or process."""


class Floor:
    """A plant's book, a clock to set and the folders a service writes to."""

    def __init__(self, folder: Path) -> None:
        self.book = folder / "plant.book"
        self.lists, self.backups = folder / "lists", folder / "backups"
        self.now = BERLIN.read("2026-03-04 12:00")
        self.service = self.new_service()

    def new_service(self) -> Service:
        return Service(self.book, lists=self.lists, backups=self.backups, keep=3, clock=lambda: self.now)

    def set(self, wall: str) -> None:
        self.now = BERLIN.read(wall)

    def made(self) -> list[datetime]:
        return [moment for moment, _ in Backups(self.backups, self.book, 3).good()]

    def texts(self) -> list[str]:
        return sorted(path.name for path in self.lists.glob("*.txt"))


@pytest.fixture
def floor(tmp_path: Path) -> Floor:
    tasks = [CLEAN, task("grease", "press", every="7 days")]
    book_of(tmp_path, "2026-03-01 08:00 fit M-12 in P-07 at P-07 100 by ana", "Europe/Berlin", tasks=tasks).close()
    return Floor(tmp_path)


def wait_for(found: Callable[[], object]) -> None:
    """Waits until something is there."""
    until = time.monotonic() + PATIENCE
    while not found():
        assert time.monotonic() < until, "nothing came"
        time.sleep(0.05)


# What changed by itself


def test_a_look_tells_the_lines_that_changed_since_the_last(floor: Floor, caplog: pytest.LogCaptureFixture) -> None:
    """And the shift that began: each once, with why."""
    caplog.set_level(logging.INFO, "upkeep.service")
    floor.set("2026-03-02 05:59")
    floor.service.look()
    caplog.clear()
    floor.set("2026-03-02 06:00")
    floor.service.look()
    with Book.open(floor.book) as book:
        line = book.line("M-12/clean", floor.now)
        why = why_of(book, line)
    assert "Shift 2026-03-02/early has begun." in caplog.messages
    assert f"M-12/clean is {line.state}: {why}" in caplog.messages
    caplog.clear()
    floor.service.look()
    assert caplog.messages == []


def test_a_look_after_a_long_sleep_tells_all_that_was_missed(floor: Floor, caplog: pytest.LogCaptureFixture) -> None:
    """In one go: the shifts that came and went, and each line as it stands now."""
    caplog.set_level(logging.INFO, "upkeep.service")
    floor.set("2026-03-02 05:00")
    floor.service.look()
    caplog.clear()
    floor.set("2026-03-03 14:00")
    floor.service.look()
    shifts = [message for message in caplog.messages if message.startswith("Shift")]
    assert shifts[0] == "Shift 2026-03-02/early has begun."
    assert shifts[-1] == "Shift 2026-03-03/late has begun."
    assert len(shifts) == 9
    assert sum(message.startswith("M-12/clean is overdue") for message in caplog.messages) == 1
    assert {one.levelname for one in caplog.records if "overdue" in one.message} == {"WARNING"}


def test_a_book_that_is_gone_is_told_once(floor: Floor, caplog: pytest.LogCaptureFixture) -> None:
    """The look goes on, and says so again only after it was there in between."""
    floor.book.rename(floor.book.with_suffix(".aside"))
    floor.service.look()
    floor.service.look()
    assert len(caplog.messages) == 1
    assert "There is no book at" in caplog.messages[0]
    floor.book.with_suffix(".aside").rename(floor.book)
    floor.service.look()
    floor.book.rename(floor.book.with_suffix(".aside"))
    floor.service.look()
    assert len(caplog.messages) == 2


# Monday's list


def test_each_week_gets_one_list(floor: Floor) -> None:
    """From Monday 06:00 on; a week nobody ran in gets none later."""
    for wall in ("2026-03-02 05:59", "2026-03-02 06:00", "2026-03-02 06:01", "2026-03-08 23:59", "2026-03-09 05:59"):
        floor.set(wall)
        floor.service.write_list()
    assert floor.texts() == ["strokebook-2026-W10.txt"]
    floor.set("2026-03-18 09:00")
    floor.service.write_list()
    assert floor.texts() == ["strokebook-2026-W10.txt", "strokebook-2026-W12.txt"]


def test_weeks_slept_through_are_told(floor: Floor, caplog: pytest.LogCaptureFixture) -> None:
    """Each week without a list since the last one, once, when the next list is made."""
    floor.set("2026-12-21 06:00")
    floor.service.write_list()
    assert caplog.messages == []
    floor.set("2027-01-13 09:00")
    floor.service.write_list()
    floor.service.write_list()
    assert caplog.messages == [
        f"The list of week {week} was never made: nobody kept the book in that week."
        for week in ("2026-W53", "2027-W01")
    ]
    assert floor.texts() == ["strokebook-2026-W52.txt", "strokebook-2027-W02.txt"]


def test_a_list_that_cannot_be_written_is_told(floor: Floor, caplog: pytest.LogCaptureFixture) -> None:
    """In a sentence with the path, and made when it can be."""
    floor.lists.write_text("a file, no folder")
    floor.service.write_list()
    assert f"The weekly list could not be made. {floor.lists}" in caplog.text
    floor.lists.unlink()
    floor.service.write_list()
    assert floor.texts() == ["strokebook-2026-W10.txt"]


# Nightly backups


def test_a_start_makes_up_for_a_missed_night(floor: Floor) -> None:
    """And a second start on the same day does not back up again."""
    floor.service.back_up()
    floor.set("2026-03-04 18:00")
    floor.new_service().back_up()
    assert floor.made() == [BERLIN.read("2026-03-04 12:00")]
    floor.set("2026-03-05 02:15")
    floor.new_service().back_up()
    assert floor.made() == [BERLIN.read("2026-03-04 12:00"), BERLIN.read("2026-03-05 02:15")]


@pytest.mark.parametrize("first", ["2026-03-27 12:00", "2026-10-23 12:00"])
def test_each_night_gets_one_backup_when_the_clock_changes(floor: Floor, first: str) -> None:
    """The scheduler's own alarms around both changes of the clock; it rings twice in the autumn night."""
    start = BERLIN.read(first)
    made, rung = Counter[Any](), start
    while rung < start + timedelta(days=4):
        floor.now = rung.astimezone(UTC)
        before = floor.made()
        floor.service.back_up()
        made.update(BERLIN.day(moment) for moment in floor.made() if moment not in before)
        rung = night_trigger("Europe/Berlin").get_next_fire_time(rung, rung.astimezone(UTC))
    assert [made[day] for day in sorted(made)] == [1, 1, 1, 1, 1]


def test_monday_comes_once_a_week_when_the_clock_changes() -> None:
    """At 06:00 on the wall on both sides of both changes."""
    trigger = monday_trigger("Europe/Berlin")
    rung = BERLIN.read("2026-03-20 12:00")
    walls = []
    for _ in range(36):
        rung = trigger.get_next_fire_time(rung, rung.astimezone(UTC))
        walls.append(rung)
    assert {f"{wall:%a %H:%M}" for wall in walls} == {"Mon 06:00"}
    assert len({wall.date() for wall in walls}) == 36
    assert walls[-1].date() - walls[0].date() == timedelta(weeks=35)


def test_a_backup_that_cannot_be_made_is_told_and_made_later(floor: Floor, caplog: pytest.LogCaptureFixture) -> None:
    """In a sentence; what was backed up before is untouched."""
    floor.service.back_up()
    floor.set("2026-03-05 02:15")
    aside = floor.book.with_suffix(".aside")
    floor.book.rename(aside)
    floor.service.back_up()
    assert "The backup could not be made. There is no book at" in caplog.text
    assert "Trying again in an hour." in caplog.text
    aside.rename(floor.book)
    floor.now += TRY_AGAIN
    floor.service.back_up()
    assert floor.made() == [BERLIN.read("2026-03-04 12:00"), BERLIN.read("2026-03-05 03:15")]


def test_a_backup_from_the_future_is_none_for_tonight(floor: Floor) -> None:
    """Made while the machine's clock was wrong, it does not stop the nights until then."""
    floor.set("2030-01-01 12:00")
    floor.service.back_up()
    floor.set("2026-03-05 02:15")
    floor.service.back_up()
    assert BERLIN.read("2026-03-05 02:15") in floor.made()


def test_a_fault_of_the_program_is_told_with_its_traceback(
    floor: Floor, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The job is tried again like any other, and the look does not repeat itself each minute."""

    def broken(self: Book, *_: object) -> None:
        raise KeyError("marks")

    monkeypatch.setattr(Book, "backup", broken)
    monkeypatch.setattr(Book, "changed_lines", broken)
    floor.service.back_up()
    floor.service.look()
    floor.service.look()
    assert "The backup could not be made. KeyError: 'marks'. Trying again in an hour." in caplog.messages
    assert [one.exc_info is not None for one in caplog.records if one.levelname == "ERROR"] == [True, True]


# Running


class Alarms:
    """Stands where the scheduler stands, and keeps what it is asked for."""

    def __init__(self) -> None:
        self.asked: dict[str, Any] = {}

    def add_job(self, run: Any, trigger: Any, args: Any, *, id: str, **when: Any) -> None:
        self.asked[id] = when.get("run_date", trigger)


def test_a_failed_job_is_planned_an_hour_later(floor: Floor, monkeypatch: pytest.MonkeyPatch) -> None:
    """Both the backup and the list."""
    alarms = Alarms()
    monkeypatch.setattr(floor.service, "_scheduler", alarms)
    floor.book.unlink()
    floor.service.back_up()
    floor.service.write_list()
    later = floor.now + TRY_AGAIN
    assert alarms.asked == {"back_up again": later, "write_list again": later}


def test_a_look_plans_the_next_one_at_the_next_change(floor: Floor, monkeypatch: pytest.MonkeyPatch) -> None:
    """At the edge of a shift or line if that comes first, else soon: an entry may bring an edge forward."""
    alarms = Alarms()
    monkeypatch.setattr(floor.service, "_scheduler", alarms)
    floor.set("2026-03-02 05:00")
    floor.service.look()
    assert alarms.asked["look next"] == floor.now + LOOK_AGAIN
    floor.set("2026-03-02 05:59:30")
    floor.service.look()
    assert alarms.asked["look next"] == BERLIN.read("2026-03-02 06:00")
    assert {"write_list missed", "back_up missed", "write_list by the wall", "back_up by the wall"} < set(alarms.asked)


def test_the_wall_times_follow_the_plants_zone(
    floor: Floor, tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A book of another zone is put in the place of the first while the service runs."""
    alarms = Alarms()
    monkeypatch.setattr(floor.service, "_scheduler", alarms)
    floor.service.look()
    assert str(alarms.asked["back_up by the wall"].timezone) == "Europe/Berlin"
    with book_of(tmp_path_factory.mktemp("other")) as other:
        other.close()
        other.path.replace(floor.book)
    floor.now += LOOK_AGAIN
    floor.service.look()
    assert str(alarms.asked["back_up by the wall"].timezone) == "UTC"


def test_a_running_service_makes_up_for_what_it_slept_through(floor: Floor) -> None:
    """A machine asleep for a week: on waking, this week's list and one backup."""
    stop = threading.Event()
    with freeze_time("2026-03-04 11:00:00", tick=True) as clock:
        service = Service(floor.book, lists=floor.lists, backups=floor.backups, keep=3, clock=now)
        running = threading.Thread(target=service.run, args=(stop,))
        running.start()
        try:
            wait_for(lambda: floor.texts() and floor.made())
            clock.move_to("2026-03-12 11:00:00")
            service._scheduler.wakeup()
            wait_for(lambda: len(floor.texts()) == 2 and len(floor.made()) == 2)
        finally:
            stop.set()
            running.join(PATIENCE)
    assert not running.is_alive()
    assert floor.texts() == ["strokebook-2026-W10.txt", "strokebook-2026-W11.txt"]
    assert [f"{moment:%Y-%m-%d %H}" for moment in floor.made()] == ["2026-03-04 11", "2026-03-12 11"]


def run_until_stopped(floor: Floor, begun: threading.Event, stop: threading.Event) -> None:
    """Runs the service, stops it once its backup has begun, and sees it end."""
    running = threading.Thread(target=floor.service.run, args=(stop,))
    running.start()
    assert begun.wait(PATIENCE)
    stop.set()
    running.join(PATIENCE)
    assert not running.is_alive()


def test_stopping_ends_the_running_backup_and_starts_nothing_else(
    floor: Floor, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The backup begun before the stop is whole; the jobs still waiting are not run."""
    stop, begun = threading.Event(), threading.Event()
    make = Backups.make

    def slow(self: Backups, *given: Any) -> tuple[Path, int]:
        begun.set()
        assert stop.wait(PATIENCE)
        return make(self, *given)

    monkeypatch.setattr(Backups, "make", slow)
    monkeypatch.setattr(Service, "write_list", lambda self: None)
    run_until_stopped(floor, begun, stop)
    assert len(floor.made()) == 1


def test_a_long_backup_is_given_up_soon_after_the_stop(floor: Floor, monkeypatch: pytest.MonkeyPatch) -> None:
    """And leaves nothing: the next start makes it."""
    stop, begun = threading.Event(), threading.Event()

    def endless(self: Book, watch: Watch) -> None:
        begun.set()
        while True:
            watch(Progress("reading", 1, 2))
            time.sleep(0.01)

    monkeypatch.setattr(Book, "prove", endless)
    monkeypatch.setattr(Service, "write_list", lambda self: None)
    run_until_stopped(floor, begun, stop)
    assert list(floor.backups.iterdir()) == []


def test_a_second_service_on_a_book_is_told_who_runs(floor: Floor, tmp_path: Path) -> None:
    """By whatever name the book is given; when the first has ended, the next may begin."""
    other_name = tmp_path / "other.book"
    other_name.symlink_to(floor.book)
    with (
        kept_by(floor.book, "process 7 on toolroom"),
        pytest.raises(BookUnavailable, match="is served already, by process 7 on toolroom"),
    ):
        serve(other_name, lists=floor.lists, backups=floor.backups, stop=threading.Event())
    asked = threading.Event()
    asked.set()
    serve(floor.book, lists=floor.lists, backups=floor.backups, stop=asked)


def test_a_service_that_was_killed_keeps_no_book(floor: Floor) -> None:
    """Its sign is left behind, and means nothing."""
    killed = (
        "import os, signal, sys; from pathlib import Path; from upkeep.store.disk.serving import kept_by\n"
        "with kept_by(Path(sys.argv[1]), 'somebody'): os.kill(os.getpid(), signal.SIGKILL)"
    )
    with started([sys.executable, "-c", killed, floor.book]) as process:
        process.wait(PATIENCE)
    with kept_by(floor.book, "the next"):
        pass


@pytest.mark.skipif(os.name == "nt", reason="Windows says by folder who may read")
def test_a_start_tells_which_files_everybody_may_read(floor: Floor, caplog: pytest.LogCaptureFixture) -> None:
    """Of the book and of its backups, as an older program made them; private ones are not spoken of."""
    floor.service.back_up()
    ((_, backup),) = Backups(floor.backups, floor.book, 3).good()
    caplog.clear()
    with caplog.at_level(logging.INFO):
        floor.service.tell_open_files()
        assert caplog.messages == []
        floor.book.chmod(0o644)
        backup.chmod(0o666)
        floor.service.tell_open_files()
    told = "can be read or changed by everybody on this machine. Make it private: chmod o="
    for path, message in zip((floor.book, backup), caplog.messages, strict=True):
        assert message.startswith(f"{path} {told}")


def test_serving_from_another_thread_ends_with_its_event(floor: Floor) -> None:
    """Signals belong to the main thread; elsewhere the event alone decides."""
    stop = threading.Event()
    running = threading.Thread(
        target=serve, args=(floor.book,), kwargs={"lists": floor.lists, "backups": floor.backups, "stop": stop}
    )
    running.start()
    wait_for(floor.made)
    stop.set()
    running.join(PATIENCE)
    assert not running.is_alive()


@pytest.mark.skipif(os.name == "nt", reason="a process cannot be asked to end there")
@pytest.mark.parametrize("asked", [signal.SIGTERM, signal.SIGINT])
def test_the_command_keeps_a_book_until_it_is_asked_to_end(floor: Floor, asked: signal.Signals) -> None:
    """As a process of its own: list and proven backup are there, the end is clean and told.

    The process reads the real clock, and no list is written in the small hours of a Monday: in one of two zones half a
    day apart it is later.
    """
    if (monday := datetime.now(ZoneInfo("Europe/Berlin"))).weekday() == 0 and monday.hour < 7:
        floor.book.unlink()
        book_of(floor.book.parent, zone="Pacific/Auckland").close()
    command = [Path(sys.executable).with_name("strokebook"), "serve", "--book", floor.book, "--lists", floor.lists]
    command += ["--backups", floor.backups]
    with started(command) as process:
        wait_for(lambda: (floor.made() and floor.texts()) or process.poll() is not None)
        process.send_signal(asked)
        _, told = process.communicate(timeout=PATIENCE)
    assert process.returncode == 0, told
    assert "Backed up to" in told
    assert told.endswith("Stopped.\n")
    assert "Traceback" not in told
    with Book.open(next(floor.backups.glob("plant-*.book"))) as copy:
        assert copy.prove().clean


def test_the_clock_is_read_in_whole_seconds_of_utc() -> None:
    """As every moment in a book."""
    with freeze_time("2026-03-02 05:00:00.75"):
        assert now() == at("2026-03-02 05:00")

"""The folder into which other programs drop files: what is taken, refused, waited for and never lost."""

from __future__ import annotations

import logging
import os
import signal
import subprocess
import sys
import time
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.commands import started
from tests.plants import INSPECT, at, book_of, written_lines
from upkeep.book import Book, Progress
from upkeep.cli.run import run
from upkeep.errors import BookUnavailable
from upkeep.said import said
from upkeep.service.drops import SETTLED_AFTER, DropFolder, Left
from upkeep.service.ending import GivenUp
from upkeep.service.serve import LOOK_SOON, Service
from upkeep.sources.drop import take

GOOD = "press,at,count\nP-07,2026-03-02 06:00,1000\nP-07,2026-03-02 14:00,9000\n"
MIXED = GOOD + "P-70,2026-03-02 14:00,5\n"
KILLED = """
import os, signal, sys
from datetime import UTC, datetime
from pathlib import Path
from upkeep.service.drops import DropFolder
os.replace = lambda *_: os.kill(os.getpid(), signal.SIGKILL)
drop = DropFolder(Path(sys.argv[1]), Path(sys.argv[2]), "ana")
for minute in (1, 2):
    drop.look(datetime(2026, 3, 4, 8, minute, tzinfo=UTC))
"""
PATIENCE = 60
"""Seconds after which a test gives up waiting for another process."""


class Floor:
    """A plant's book and a folder that others drop files into."""

    def __init__(self, folder: Path) -> None:
        book_of(folder).close()
        self.book, self.folder = folder / "plant.book", folder / "incoming"
        self.folder.mkdir()
        self.now = at("2026-03-04 08:00")
        self.drop = self.restarted()

    def restarted(self) -> DropFolder:
        return DropFolder(self.folder, self.book, "ana")

    def drops(self, name: str, text: str, *, ago: timedelta = timedelta(minutes=1)) -> Path:
        """A file that was changed some time ago."""
        path = self.folder / name
        path.write_text(text, encoding="utf-8")
        self.changes(path, self.now - ago)
        return path

    def changes(self, path: Path, moment: datetime) -> None:
        os.utime(path, (moment.timestamp(), moment.timestamp()))

    def looks(self) -> Left:
        """Looks a minute later."""
        self.now += timedelta(minutes=1)
        return self.drop.look(self.now)

    def settles(self) -> None:
        """Looks until what stands still has been taken."""
        self.looks()
        self.looks()

    def entries(self) -> list[str]:
        with Book.open(self.book) as book:
            return [line for line in written_lines(book)[1:] if " define " not in line]

    def files(self) -> list[str]:
        return sorted(str(path.relative_to(self.folder)) for path in self.folder.rglob("*") if path.is_file())


@pytest.fixture
def floor(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> Floor:
    """A floor whose log is kept from its informations on."""
    caplog.set_level(logging.INFO, "upkeep.service")
    return Floor(tmp_path)


def test_a_good_file_is_in_the_book_and_put_away(floor: Floor, caplog: pytest.LogCaptureFixture) -> None:
    """And the log says so."""
    floor.drops("counts.csv", GOOD)
    floor.settles()
    assert len(floor.entries()) == 2
    assert floor.files() == ["taken/counts.csv"]
    taken = floor.folder / "taken" / "counts.csv"
    assert caplog.messages == [f"counts.csv: counts entered: 2; already known: 0; refused: 0. It is in {taken}."]


def test_what_was_wrong_with_an_earlier_file_of_that_name_stays_to_be_read(floor: Floor) -> None:
    """The file itself was taken away again, to be corrected; the text about it was not."""
    bad = "press,at,count\nP-99,2026-03-02 14:00,1\n"
    floor.drops("counts.csv", bad)
    floor.settles()
    refused = floor.folder / "refused"
    (refused / "counts.csv").unlink()
    told = (refused / "counts.csv.txt").read_text()
    floor.drops("counts.csv", bad.replace("P-99", "P-98"))
    floor.settles()
    assert (refused / "counts.csv.txt").read_text() == told
    assert floor.files() == ["refused/counts-2.csv", "refused/counts-2.csv.txt", "refused/counts.csv.txt"]


def test_each_kind_is_told_by_its_header(floor: Floor) -> None:
    """Whatever the file is called, in letters of any size."""
    floor.drops("a.csv", GOOD)
    floor.drops("b.CSV", "press;at;pieces;minutes\nP-07;2026-03-02 14:00;500;60\n")
    floor.drops("c.csv", "order,pieces,item,press,day\nA-77,30000,DS-031,P-07,2026-03-09\n")
    floor.settles()
    assert [entry.split()[2] for entry in floor.entries()] == ["count", "count", "quantity", "order"]
    assert floor.files() == ["taken/a.csv", "taken/b.CSV", "taken/c.csv"]


def test_a_file_with_a_bad_line_is_put_aside_with_the_reason(floor: Floor) -> None:
    """Its good lines are in the book all the same."""
    floor.drops("counts.csv", MIXED)
    floor.settles()
    assert len(floor.entries()) == 2
    assert floor.files() == ["refused/counts.csv", "refused/counts.csv.txt"]
    first, *problems = (floor.folder / "refused" / "counts.csv.txt").read_text(encoding="utf-8").splitlines()
    assert first == "counts.csv: counts entered: 2; already known: 0; refused: 1."
    assert len(problems) == 1
    assert problems[0].startswith("line 4: There is no press 'P-70' in this book.")


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "the first line does not say what is in the file"),
        (b"when,what\n1,2\n", "the first line does not say what is in the file"),
        (b"press,at,count\nP-07,2026-03-02 06:00,\xff\n", "cannot be read as UTF-8 text"),
    ],
)
def test_a_file_that_is_something_else_is_put_aside(floor: Floor, content: bytes, reason: str) -> None:
    """With what a first line should say."""
    path = floor.folder / "other.csv"
    path.write_bytes(content)
    floor.settles()
    assert floor.files() == ["refused/other.csv", "refused/other.csv.txt"]
    assert reason in (floor.folder / "refused" / "other.csv.txt").read_text(encoding="utf-8")
    assert (floor.folder / "refused" / "other.csv").read_bytes() == content
    assert floor.entries() == []


def test_a_name_used_before_gets_a_number(floor: Floor) -> None:
    """No file put away earlier is ever overwritten."""
    for count in (1000, 1001, 1002):
        floor.drops("counts.csv", f"press,at,count\nP-07,2026-03-02 06:{count % 60:02d},{count}\nP-70,x,1\n")
        floor.settles()
    names = ["counts-2.csv", "counts-2.csv.txt", "counts-3.csv", "counts-3.csv.txt", "counts.csv", "counts.csv.txt"]
    assert floor.files() == [f"refused/{name}" for name in names]
    assert "1002" in (floor.folder / "refused" / "counts-3.csv").read_text(encoding="utf-8")


def test_other_files_are_left_alone(floor: Floor) -> None:
    """Other endings, hidden files, folders."""
    for name in ("counts.txt", "counts.csv.part", ".counts.csv"):
        floor.drops(name, GOOD)
    (floor.folder / "folder.csv").mkdir()
    assert not floor.looks()
    floor.settles()
    assert floor.files() == [".counts.csv", "counts.csv.part", "counts.txt"]
    assert floor.entries() == []


def test_what_is_passed_over_is_told_once(floor: Floor, caplog: pytest.LogCaptureFixture) -> None:
    """Each with why, at the second look; a hidden file and the folders of what was taken are no news."""
    for name in ("counts.txt", ".counts.csv"):
        floor.drops(name, GOOD)
    (floor.folder / "folder.csv").mkdir()
    (floor.folder / "gone.csv").symlink_to(floor.folder / "nowhere")
    os.mkfifo(floor.folder / "pipe.csv")
    for name in ("taken", "refused"):
        (floor.folder / name).mkdir()
    floor.looks()
    assert caplog.messages == []
    for _ in range(3):
        floor.looks()
    told = {
        "counts.txt": "its name does not end in .csv",
        "folder.csv": "it is a folder",
        "gone.csv": "it is a link to nothing",
        "pipe.csv": "it is no file",
    }
    assert caplog.messages == [f"{floor.folder / name} is passed over: {why}." for name, why in told.items()]


# Waiting


def test_a_file_seen_for_the_first_time_waits(floor: Floor) -> None:
    """Its writer may just be resting; the look says that something waits."""
    floor.drops("counts.csv", GOOD)
    assert floor.looks()
    assert floor.files() == ["counts.csv"]
    assert not floor.looks()
    assert floor.files() == ["taken/counts.csv"]


def test_a_file_that_grows_or_changes_waits(floor: Floor) -> None:
    """By its size, by its moment of change, or as another file under the same name."""
    path = floor.drops("counts.csv", GOOD[:40])
    moment = path.stat().st_mtime
    assert floor.looks()
    path.write_text(GOOD, encoding="utf-8")
    os.utime(path, (moment, moment))
    assert floor.looks()
    floor.changes(path, at("2026-03-04 07:58"))
    assert floor.looks()
    other = floor.drops("counts.new", GOOD)
    other.replace(path)
    assert floor.looks()
    assert floor.entries() == []
    assert not floor.looks()
    assert len(floor.entries()) == 2


def test_a_file_changed_just_now_waits(floor: Floor) -> None:
    """Even where it looks as at the look before."""
    path = floor.drops("counts.csv", GOOD)
    floor.looks()
    floor.changes(path, floor.now)
    floor.drop.look(floor.now)
    assert floor.drop.look(floor.now + SETTLED_AFTER - timedelta(seconds=1))
    assert not floor.drop.look(floor.now + SETTLED_AFTER)
    assert floor.files() == ["taken/counts.csv"]


def test_a_file_from_a_clock_far_ahead_is_taken(floor: Floor) -> None:
    """Standing still is enough; nobody waits for years."""
    path = floor.drops("counts.csv", GOOD)
    floor.changes(path, at("2031-01-01 00:00"))
    floor.settles()
    assert floor.files() == ["taken/counts.csv"]


# Never lost


def test_a_service_killed_before_moving_takes_the_file_again(floor: Floor, monkeypatch: pytest.MonkeyPatch) -> None:
    """Which changes nothing in the book."""
    floor.drops("good.csv", GOOD)
    floor.drops("mixed.csv", MIXED)

    def killed(*_: Any) -> None:
        raise KeyboardInterrupt

    for _ in range(2):
        with monkeypatch.context() as patch:
            patch.setattr(os, "replace", killed)
            with pytest.raises(KeyboardInterrupt):
                floor.settles()
        assert [name for name in floor.files() if not name.endswith(".txt")] == ["good.csv", "mixed.csv"]
        floor.drop = floor.restarted()
    floor.settles()
    assert len(floor.entries()) == 2
    assert floor.files() == ["refused/mixed.csv", "refused/mixed.csv.txt", "taken/good.csv"]


@pytest.mark.skipif(os.name == "nt", reason="a process cannot be killed this way there")
def test_a_process_killed_before_moving_has_written_all(floor: Floor) -> None:
    """Killed outright at the very moment at which it would move the file."""
    floor.drops("counts.csv", GOOD)
    with started([sys.executable, "-c", KILLED, floor.folder, floor.book]) as process:
        process.wait(PATIENCE)
    assert process.returncode == -signal.SIGKILL
    assert floor.files() == ["counts.csv"]
    assert len(floor.entries()) == 2
    floor.settles()
    assert floor.files() == ["taken/counts.csv"]
    assert len(floor.entries()) == 2


def test_what_is_added_while_a_file_is_taken_is_taken_too(floor: Floor, monkeypatch: pytest.MonkeyPatch) -> None:
    """The file stays until nothing is added any more."""
    path = floor.drops("counts.csv", GOOD)

    def interrupted(*given: Any) -> object:
        taken = take(*given)
        monkeypatch.setattr("upkeep.service.drops.take", take)
        floor.drops("counts.csv", GOOD + "P-07,2026-03-02 15:00,9100\n")
        return taken

    monkeypatch.setattr("upkeep.service.drops.take", interrupted)
    floor.settles()
    assert path.exists()
    floor.settles()
    assert len(floor.entries()) == 3
    assert floor.files() == ["taken/counts.csv"]


def test_a_book_that_fails_leaves_the_file(
    floor: Floor, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The reason is told once, as a sentence; the file is taken when the book can be written again."""

    def full(self: Book, *_: object) -> None:
        raise BookUnavailable(said("The disk is full."))

    path = floor.drops("counts.csv", GOOD)
    with monkeypatch.context() as patch:
        patch.setattr(Book, "write_fresh", full)
        floor.settles()
        floor.settles()
    assert caplog.messages == [f"{path} could not be taken in. The disk is full. Trying again."]
    assert "Traceback" not in caplog.text
    floor.looks()
    assert floor.files() == ["taken/counts.csv"]
    assert len(floor.entries()) == 2


def test_one_file_that_fails_costs_no_other(
    floor: Floor, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fault of the program is told with its traceback."""

    def broken(book: Book, file: Path, *given: Any) -> object:
        if file.name == "a.csv":
            raise KeyError("marks")
        return take(book, file, *given)

    monkeypatch.setattr("upkeep.service.drops.take", broken)
    floor.drops("a.csv", GOOD)
    floor.drops("b.csv", GOOD)
    floor.settles()
    assert floor.files() == ["a.csv", "taken/b.csv"]
    assert "KeyError: 'marks'. Trying again." in caplog.messages[0]
    assert "Traceback" in caplog.text


def test_a_folder_that_is_gone_is_told_once(floor: Floor, caplog: pytest.LogCaptureFixture) -> None:
    """A share that is not there; what is in it is taken when it comes back."""
    floor.drops("counts.csv", GOOD)
    aside = floor.folder.rename(floor.folder.with_name("aside"))
    assert not floor.looks()
    floor.settles()
    assert len(caplog.messages) == 1
    assert caplog.messages[0].startswith(f"{floor.folder} could not be taken in. {floor.folder} cannot be read")
    aside.rename(floor.folder)
    floor.settles()
    assert floor.files() == ["taken/counts.csv"]


def test_what_an_order_would_run_over_is_told(floor: Floor, caplog: pytest.LogCaptureFixture) -> None:
    """Nobody sits at the terminal to read it, so it is in the log."""
    (floor.folder.parent / "more").mkdir()
    book_of(floor.folder.parent / "more", tasks=[INSPECT]).close()
    floor.drop = DropFolder(floor.folder, floor.folder.parent / "more" / "plant.book", "ana")
    floor.drops("orders.csv", "order,pieces,item,press,day\nA-77,30000,DS-031,P-07,2026-03-09\n")
    floor.settles()
    assert caplog.messages[0].startswith("orders.csv: Note: order A-77 (30,000 pieces) goes 25,000")


# Serving


def test_no_more_files_are_taken_when_it_is_enough(floor: Floor) -> None:
    """Those left wait for the next look; a stop and what is bound to a time come before them."""
    for number in range(4):
        floor.drops(f"{number}.csv", GOOD)
    floor.looks()
    taken = iter([False, False, True])
    assert floor.drop.look(floor.now, lambda: next(taken)) is Left.MORE
    assert floor.files() == ["2.csv", "3.csv", "taken/0.csv", "taken/1.csv"]


def test_a_file_given_up_half_way_is_taken_whole_the_next_time(floor: Floor) -> None:
    """Nothing of it is in the book in between."""
    lines = "".join(f"P-07,2026-03-02 {at // 60:02d}:{at % 60:02d},{1000 + at}\n" for at in range(900))
    floor.drops("counts.csv", f"press,at,count\n{lines}")

    def stops(progress: Progress) -> None:
        if progress.stage == "adding":
            raise GivenUp

    floor.looks()
    with pytest.raises(GivenUp):
        floor.drop.look(floor.now, watch=stops)
    assert floor.entries() == []
    assert floor.files() == ["counts.csv"]
    floor.settles()
    assert len(floor.entries()) == 900


def test_what_is_bound_to_a_time_goes_before_the_folder(floor: Floor, monkeypatch: pytest.MonkeyPatch) -> None:
    """List and backup are planned first; files for which there is no time are planned again at once, behind them."""
    service = Service(
        floor.book, lists=floor.folder / "lists", backups=floor.folder / "backups", drop=floor.drop,
        clock=lambda: floor.now,
    )  # fmt: skip
    alarms = Alarms()
    monkeypatch.setattr(service, "_scheduler", alarms)
    service.look()
    planned = list(alarms.asked)
    assert planned.index("take_dropped at the start") > max(map(planned.index, ("write_list missed", "back_up missed")))
    monkeypatch.setattr(DropFolder, "look", lambda *_: Left.MORE)
    service.take_dropped()
    assert alarms.asked["take_dropped soon"] == floor.now


class Alarms:
    """Stands where the scheduler stands, and keeps what it is asked for."""

    def __init__(self) -> None:
        self.asked: dict[str, Any] = {}

    def add_job(self, run: Any, trigger: Any, args: Any, *, id: str, **when: Any) -> None:
        self.asked[id] = when.get("run_date", trigger)


def test_a_waiting_file_is_looked_at_again_soon(floor: Floor, monkeypatch: pytest.MonkeyPatch) -> None:
    """Not only a minute later; without one the minute is soon enough."""
    lists, backups = floor.folder / "lists", floor.folder / "backups"
    service = Service(floor.book, lists=lists, backups=backups, drop=floor.drop, clock=lambda: floor.now)
    alarms = Alarms()
    monkeypatch.setattr(service, "_scheduler", alarms)
    service.take_dropped()
    assert alarms.asked == {}
    floor.drops("counts.csv", GOOD)
    service.take_dropped()
    assert alarms.asked == {"take_dropped soon": floor.now + LOOK_SOON}


@pytest.mark.parametrize(
    ("words", "code", "reason"),
    [((), 2, "Say with --by in whose name"), (("--by", "nobody"), 1, "There is no person 'nobody' in this book.")],
)
def test_files_are_taken_in_somebodys_name(
    floor: Floor, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], code: int, reason: str
) -> None:
    """A person of the book; otherwise nothing is served."""
    assert run(["serve", "--book", str(floor.book), "--drop", str(floor.folder), *words]) == code
    assert reason in capsys.readouterr().err


def test_a_drop_folder_that_cannot_be_made_is_said(floor: Floor, capsys: pytest.CaptureFixture[str]) -> None:
    """Before anything is served."""
    below = floor.book / "incoming"
    assert run(["serve", "--book", str(floor.book), "--drop", str(below), "--by", "ana"]) == 1
    assert f"{below} cannot be made:" in capsys.readouterr().err


def test_a_file_of_bad_lines_is_given_up_too(floor: Floor) -> None:
    """While its halves are tried one after another, somebody may ask for the end."""
    floor.drops("bad.csv", "press,at,count\n" + "".join(f"P-07,2026-03-02 06:{at:02d},{60 - at}\n" for at in range(60)))
    heard: list[Progress] = []

    def stops(progress: Progress) -> None:
        heard.append(progress)
        if progress.stage == "checking" and progress.done > 10:
            raise GivenUp

    floor.looks()
    with pytest.raises(GivenUp):
        floor.drop.look(floor.now, watch=stops)
    assert floor.files() == ["bad.csv"]
    assert heard[-1].of == 60


@pytest.mark.skipif(os.name == "nt", reason="a process cannot be asked to end there")
def test_the_command_takes_dropped_files(floor: Floor) -> None:
    """As a process of its own: one file was there before it, one comes while it runs."""
    backups = floor.book.parent / "backups"
    floor.drops("first.csv", GOOD)
    words = ["serve", "--book", floor.book, "--drop", floor.folder, "--by", "ana"]
    words += ["--lists", floor.book.parent / "lists", "--backups", backups]
    program = (
        "from freezegun import freeze_time\n"
        "from upkeep.cli.run import run\n"
        "with freeze_time('2026-03-04 08:10', tick=True):\n"
        f"    raise SystemExit(run({list(map(str, words))!r}))"
    )
    with started([sys.executable, "-c", program]) as process:
        try:
            _wait_for(process, backups, "*.book")
            floor.drops("second.csv", MIXED)
            _wait_for(process, floor.folder, "taken/first.csv")
            _wait_for(process, floor.folder, "refused/second.csv")
        finally:
            process.send_signal(signal.SIGTERM)
            _, told = process.communicate(timeout=PATIENCE)
    assert process.returncode == 0, told
    assert "first.csv: counts entered: 2; already known: 0; refused: 0. It is in" in told
    assert "second.csv: counts entered: 0; already known: 2; refused: 1. It is in" in told
    assert "Traceback" not in told
    assert len(floor.entries()) == 2


def _wait_for(process: subprocess.Popen[str], folder: Path, pattern: str) -> None:
    until = time.monotonic() + 2 * PATIENCE
    while not any(folder.glob(pattern)):
        assert process.poll() is None, "the service has ended"
        assert time.monotonic() < until, f"{pattern} never came"
        time.sleep(0.05)

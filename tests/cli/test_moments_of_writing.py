"""Every way into the book: an entry is stamped by a clock asked inside the write, after any wait for others."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import freezegun.api
import pytest
from freezegun import freeze_time

import demo_plant
from tests.commands import Terminal
from tests.plants import at, book_of, task, write
from upkeep.book import Book
from upkeep.service.drops import DropFolder
from upkeep.store.file import BookFile

FILES_OF_THE_DEMO = Path(demo_plant.__file__).parent / "files"
NOW = "2026-03-04 08:00:00"
WAITED = timedelta(seconds=7)
"""How long each write waits here for others."""

HANGING = """
    2026-03-02 06:00 count P-07 5000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 5000 by ana
    2026-03-04 07:59:30 count P-08 100 by ana
    2026-03-04 07:59:40 count P-07 5100 by ana
"""
TASKS = [task("lube", "module", every="3 days"), task("clean", "module", each_shift=True)]
FILES = {
    "counts.csv": "press,count,at\nP-03,5200,2026-03-04 07:50\n",
    "quantities.csv": "press,at,pieces,minutes\nP-07,2026-03-04 07:50,20,30\n",
    "orders.csv": "order,pieces,item,press,day\nA-77,30000,DS-031,P-07,2026-03-09\n",
    "stated.csv": "item,task,done\nM-12,lube,2026-03-01\n",
    "lines.txt": "2026-03-04 07:50 count P-03 100 by ana\n",
}


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A book with files beside it, each of which tells something new."""
    for name, text in FILES.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    with book_of(tmp_path, HANGING, tasks=TASKS) as opened:
        opened.backup(tmp_path / "night.book")
        yield opened


@pytest.fixture(autouse=True)
def busy(monkeypatch: pytest.MonkeyPatch) -> list[datetime]:
    """Others write whenever somebody is about to: the clock goes on until it is their turn.  Gives the moments at which
    it was."""
    writing, turns = BookFile.writing, list[datetime]()

    @contextmanager
    def waited(file: BookFile) -> Iterator[None]:
        with writing(file):
            for clock in freezegun.api.freeze_factories[-1:]:
                clock.tick(WAITED)
                turns.append(datetime.now(UTC))
            yield

    monkeypatch.setattr(BookFile, "writing", waited)
    return turns


LAST = object()
WAYS: dict[str, Callable[[Path], tuple[object, ...]]] = {
    "count": lambda folder: ("count", "P-07", 5110, "--by", "ana"),
    "fit": lambda folder: ("fit", "DS-031", "M-12", "--count", 5110, "--by", "ana"),
    "sign": lambda folder: ("sign", "M-12/lube", "--by", "ana"),
    "count --from": lambda folder: ("count", "--from", folder / "counts.csv", "--by", "ana"),
    "quantity --from": lambda folder: ("quantity", "--from", folder / "quantities.csv", "--by", "ana"),
    "order --from": lambda folder: ("order", "--from", folder / "orders.csv", "--by", "ana"),
    "stated": lambda folder: ("stated", folder / "stated.csv", "--by", "lea"),
    "undo": lambda folder: ("undo", "--by", "ana"),
    "correct": lambda folder: ("correct", LAST, "count P-07 5101", "--because", "misread", "--by", "ana"),
    "enter": lambda folder: ("enter", folder / "lines.txt"),
    "enter --merge": lambda folder: ("enter", "--merge", folder / "lines.txt"),
}
"""What is typed, by the way in; LAST is the number of the last entry."""


@pytest.mark.parametrize("way", WAYS)
def test_what_is_typed_is_stamped_inside_the_write(
    book: Book, busy: list[datetime], tmp_path: Path, capsys: pytest.CaptureFixture[str], way: str
) -> None:
    """Seven seconds later than it was asked for, since others were in."""
    last = book.newest_written(1)[0].entry
    words = (last if word is LAST else word for word in WAYS[way](tmp_path))
    said = Terminal(book.path, capsys).types(NOW, *words)
    assert said.code == 0, said.err
    written = [line for line in book.newest_written(50) if line.entry > last]
    assert written
    assert {line.recorded_at for line in written} <= set(busy)
    assert min(busy) == at(NOW) + WAITED


def test_a_returned_sheet_is_stamped_inside_the_write(
    book: Book, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each row waits for its turn, one after another."""
    printed = "2026-03-04 07:59"
    listed = book.week(at(f"{printed}:59"))
    row = next(row.row for row in listed.rows if row.task == "lube" and row.item == "M-12")
    (tmp_path / "sheet.txt").write_text(f"{row} 2026-03-04 07:50 ana\n", encoding="utf-8")
    head = (
        "--week",
        "2026-W10",
        "--revision",
        listed.revision,
        "--rows",
        listed.letters,
        "--printed",
        printed,
        "--by",
        "lea",
    )
    said = Terminal(book.path, capsys).types(NOW, "sheet", tmp_path / "sheet.txt", *head)
    assert said.code == 0, said.err
    (written,) = book.newest_written(1)
    assert (written.kind, written.recorded_at) == ("sign", at(NOW) + WAITED)


def test_a_dropped_file_is_stamped_inside_the_write(book: Book, tmp_path: Path) -> None:
    """By the clock of the service."""
    folder = tmp_path / "drop"
    folder.mkdir()
    (folder / "counts.csv").write_text(FILES["counts.csv"], encoding="utf-8")
    later = at(NOW) + timedelta(hours=1)
    os.utime(folder / "counts.csv", (at(NOW).timestamp(), at(NOW).timestamp()))
    drop = DropFolder(folder, book.path, "ana")
    with freeze_time(later) as clock:
        for _ in range(2):
            drop.look(lambda: datetime.now(UTC))
        assert clock() != later.replace(tzinfo=None)
    (written,) = book.newest_written(1)
    assert (written.kind, written.recorded_at) == ("count", later + WAITED)


def test_a_restored_book_is_stamped_inside_the_write(
    book: Book, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its note says when it was restored."""
    again = tmp_path / "again.book"
    assert Terminal(again, capsys).types(NOW, "restore", tmp_path / "night.book", "--by", "lea").code == 0
    with Book.open(again) as restored:
        (written,) = restored.newest_written(1)
    assert (written.kind, written.recorded_at) == ("note", at(NOW) + WAITED)


def test_definitions_are_stamped_inside_the_write(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A new book."""
    files = tmp_path / "files"
    shutil.copytree(FILES_OF_THE_DEMO, files)
    terminal = Terminal(tmp_path / "new.book", capsys)
    assert terminal.types(NOW, "new", files, "--by", "lea").code == 0
    with Book.open(tmp_path / "new.book") as made:
        assert {line.recorded_at for line in made.newest_written(1000)} == {at(NOW) + WAITED}


OIL = """
[[task]]
id = "oil"
title = "Oil"
applies_to = "press"
by = ["operator"]
source = "invented"
every = "60 days"
"""
A_MONTH_LATER = "2026-04-04 08:00:00"


@pytest.mark.parametrize(("options", "kinds"), [((), ["define"]), (("--stagger", 10), ["define", "defer"])])
def test_changed_definitions_and_what_they_put_off_are_stamped_inside_their_writes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], options: tuple[object, ...], kinds: list[str]
) -> None:
    """The deferrals wait for a turn of their own, after that of the task."""
    files = tmp_path / "files"
    shutil.copytree(FILES_OF_THE_DEMO, files)
    plant, tasks = files / "plant.toml", files / "tasks.toml"
    plant.write_text(plant.read_text(encoding="utf-8").replace('"codes"', '"names only"'), encoding="utf-8")
    tasks.write_text(f"{tasks.read_text(encoding='utf-8')}{OIL}", encoding="utf-8")
    terminal = Terminal(tmp_path / "new.book", capsys)
    assert terminal.types(NOW, "new", files, "--by", "yara").code == 0
    with Book.open(tmp_path / "new.book") as made:
        last = made.newest_written(1)[0].entry
    tasks.write_text(
        tasks.read_text(encoding="utf-8").replace('every = "60 days"', 'every = "7 days"'), encoding="utf-8"
    )
    said = terminal.types(A_MONTH_LATER, "new", files, *options, "--because", "drier air", "--by", "yara")
    assert said.code == 0, said.err
    with Book.open(tmp_path / "new.book") as made:
        turns = {
            line.kind: line.recorded_at - at(A_MONTH_LATER) for line in made.newest_written(1000) if line.entry > last
        }
    assert turns == {kind: WAITED * turn for turn, kind in enumerate(kinds, 1)}


@pytest.mark.parametrize("words", [("settle", LAST, 5040, "--because", "misread"), ("seen", "P-07")])
def test_what_the_lead_answers_is_stamped_inside_the_write(
    book: Book, capsys: pytest.CaptureFixture[str], words: tuple[object, ...]
) -> None:
    """To a count kept against an earlier one: which is wrong, or that they have seen it."""
    earlier = book.newest_written(1)[0].entry
    kept = f"2026-03-04 07:59:50 count P-07 5050 disputes #{earlier} by ana recorded 2026-03-04 07:59:50"
    (last,) = write(book, kept).entries
    said = Terminal(book.path, capsys).types(NOW, *(earlier if word is LAST else word for word in words), "--by", "lea")
    assert said.code == 0, said.err
    written = [line.recorded_at for line in book.newest_written(50) if line.entry > last]
    assert written
    assert set(written) == {at(NOW) + WAITED}

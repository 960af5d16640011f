"""What commands write to files: never over a book, over other files only when asked, whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

import pytest

from demo_plant.codes import PASSWORD
from tests.commands import Terminal
from tests.plants import CLEAN, at, book_of
from upkeep.book import Book
from upkeep.cli import demo
from upkeep.cli.outputs import put
from upkeep.entries.bookkeeping import Note
from upkeep.errors import Refused

NOW = "2026-03-03 08:00"
TOLD = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 14:00 count P-07 1209410 by ana
"""


@pytest.fixture
def book_path(tmp_path: Path) -> Path:
    """A closed book."""
    with book_of(tmp_path, TOLD, tasks=[CLEAN]) as book:
        return book.path


def lines_of(path: Path) -> Sequence[str]:
    """All entries of a book."""
    with Book.open_copy(path) as book:
        return list(book.export())


@pytest.mark.parametrize("more", [[], ["--replace"]])
def test_a_book_is_never_replaced_by_a_week(
    book_path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], more: list[str]
) -> None:
    """Not the book asked, nor another one, nor through a link, whatever was asked for."""
    other, link = tmp_path / "other.db", tmp_path / "link.pdf"
    other.write_bytes(book_path.read_bytes())
    link.symlink_to(book_path)
    for target in (book_path, other, link):
        before = target.read_bytes()
        said = Terminal(book_path, capsys).types(NOW, "week", "--pdf", target, *more)
        assert (said.code, target.read_bytes()) == (1, before)
        assert "is never replaced. Choose another name." in said.err


def test_what_stands_beside_a_book_is_part_of_it(book_path: Path) -> None:
    """A write-ahead log holds confirmed entries."""
    log = book_path.with_name(f"{book_path.name}-wal")
    log.write_bytes(b"entries")
    with pytest.raises(Refused, match="belongs to one"):
        put(log, b"a page", replacing=True)
    assert log.read_bytes() == b"entries"


def test_another_file_is_replaced_only_when_asked(
    book_path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """And nothing is left beside it."""
    notes, terminal = tmp_path / "notes.txt", Terminal(book_path, capsys)
    notes.write_text("mine", encoding="utf-8")
    said = terminal.types(NOW, "week", "--pdf", notes)
    assert (said.code, notes.read_text(encoding="utf-8")) == (1, "mine")
    assert "replace it with --replace" in said.err
    assert terminal.types(NOW, "week", "--pdf", notes, "--replace").code == 0
    assert notes.read_bytes().startswith(b"%PDF")
    assert [path.name for path in tmp_path.iterdir() if path.name.endswith(".part")] == []


def test_a_file_that_cannot_be_written_whole_leaves_what_was_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on a full disk: the old list stays, and no half of the new one."""
    week = tmp_path / "week.pdf"
    week.write_bytes(b"last week")

    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refused, match="No space left"):
        put(week, b"this week", replacing=True)
    assert week.read_bytes() == b"last week"
    assert [path.name for path in tmp_path.iterdir()] == ["week.pdf"]


def test_what_is_no_file_is_written_to_as_it_stands(tmp_path: Path) -> None:
    """A pipe to a printer stays a pipe."""
    pipe = tmp_path / "printer"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    put(pipe, b"a page", replacing=False)
    assert os.read(reader, 100) == b"a page"
    os.close(reader)
    assert pipe.is_fifo()


@pytest.mark.parametrize(
    "command",
    [
        ["life", "M-12", "--point", "x", "--plot"],
        ["lives", "tab-28", "--plot"],
        ["chart", "DS-031", "crimp-height", "--plot"],
        ["suspect", "1", "--pdf"],
        ["picture", "M-12", "--beside"],
    ],
)
def test_every_command_that_writes_a_file_takes_the_word_for_it(
    book_path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], command: list[str]
) -> None:
    """It may have nothing to draw here; but no command calls the option unknown."""
    said = Terminal(book_path, capsys).types(NOW, *command, tmp_path / "a.png", "--replace")
    assert said.code != 2, said.err


# The demo


def test_a_fresh_demo_takes_the_place_of_a_demo_alone(
    book_path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A plant's book and a text stay as they are."""
    notes, before = tmp_path / "notes.txt", lines_of(book_path)
    notes.write_text("mine", encoding="utf-8")
    for path in (book_path, notes):
        said = Terminal(path, capsys).types(NOW, "demo", "--days", "1", "--fresh")
        assert said.code == 1
        assert "is no book of the demo plant, and --fresh replaces nothing else" in said.err
    assert notes.read_text(encoding="utf-8") == "mine"
    assert lines_of(book_path) == before


def test_a_fresh_demo_replaces_an_earlier_one_and_a_failed_one_leaves_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, quick_hashes: None
) -> None:
    """With a write-ahead log that a killed program has left; and nothing stays beside it."""
    path = tmp_path / "demo.db"
    terminal = Terminal(path, capsys)
    assert terminal.types(NOW, "demo", "--days", "1").code == 0
    first = lines_of(path)
    log = path.with_name(f"{path.name}-wal")
    log.write_bytes(b"of the old book")
    assert terminal.types(NOW, "demo", "--days", "2", "--fresh").code == 0
    second = lines_of(path)
    assert len(second) > len(first)
    monkeypatch.setattr(demo, "now", lambda: at("0001-01-02 00:00"))
    assert terminal.types(NOW, "demo", "--days", "3", "--fresh").code == 1
    assert lines_of(path) == second
    assert {file.name for file in tmp_path.iterdir()} == {"demo.db", "demo.db-keys", "demo.tokens"}
    with Book.open(path) as book:
        note = Note(at=at("2026-03-04 06:00"), by="yara", text="mine")
        book.write([note], note.at, proven=book.naming.prove("yara", PASSWORD, note.at))
        assert book.prove().clean

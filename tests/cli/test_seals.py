"""An older copy of the book, put in its place, is found by the seals that stand outside it."""

from __future__ import annotations

import re
import shutil
from datetime import timedelta
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import CLEAN, at, book_of
from upkeep.book import Book
from upkeep.errors import BookDamaged
from upkeep.scan_codes import seal_code
from upkeep.seals.line import seal_of
from upkeep.service.backups import Backups
from upkeep.service.seals import compare_outside
from upkeep.store.disk.seals_beside import SEALS, SealsBeside

NOW, LATER = "2026-03-02 12:00", "2026-03-02 13:00"
TEXT = """
    2026-03-02 05:00 count P-07 0 by ana
    2026-03-02 05:00 fit M-12 in P-07 at 0 by ana
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A closed book whose plant names a file of seals outside."""
    (tmp_path / "outside").mkdir()
    outside = str(tmp_path / "outside" / "seals.txt")
    with book_of(tmp_path, TEXT, tasks=[CLEAN], keepers=["lea", "tom"], seals_file=outside) as book:
        return book.path


@pytest.fixture
def terminal(path: Path, capsys: pytest.CaptureFixture[str]) -> Terminal:
    return Terminal(path, capsys)


def older_copy(path: Path, terminal: Terminal) -> tuple[Path, str]:
    """A copy of the book as it is, which then goes on; the copy, and the seal on paper of what it became."""
    copy = path.with_name("older")
    shutil.copy(path, copy)
    assert terminal.types(NOW, "hold", "M-12", "--because", "cracked", "--by", "lea").code == 0
    printed = re.search(r"Seal: (.+)", terminal.types(NOW, "seal", "check").out)
    assert printed is not None
    return copy, printed[1]


def put_in_place(copy: Path, path: Path, *, forget: bool) -> None:
    shutil.copy(copy, path)
    if forget:
        Path(f"{path}{SEALS}").unlink()


def test_an_older_copy_is_found_by_the_seals_beside_the_book(path: Path, terminal: Terminal) -> None:
    """The proof of the right book left one; every answer says so, nothing is written and nothing backed up."""
    copy, _ = older_copy(path, terminal)
    assert terminal.types(NOW, "prove").code == 0
    put_in_place(copy, path, forget=False)
    proof = terminal.types(LATER, "prove")
    assert proof.code == 1
    assert "THE BOOK HAS LOST ITS TAIL" in proof.out
    assert "THE BOOK HAS LOST ITS TAIL" in terminal.types(LATER, "board").err
    assert terminal.types(LATER, "hold", "M-44", "--because", "x", "--by", "lea").code == 1
    with Book.open(path) as book, pytest.raises(BookDamaged, match="LOST ITS TAIL"):
        Backups(path.parent / "backups", path, 3).make(book, at(LATER))


def test_a_seal_typed_from_a_paper_finds_it_too_and_is_remembered(path: Path, terminal: Terminal) -> None:
    copy, paper = older_copy(path, terminal)
    assert "The seal fits" in terminal.types(NOW, "seal", "check", *paper.split()).out
    put_in_place(copy, path, forget=True)
    assert terminal.types(LATER, "prove").code == 0  # an older copy is whole in itself
    checked = terminal.types(LATER, "seal", "check", *paper.split())
    assert checked.code == 1
    assert "LOST ITS TAIL" in checked.err
    assert "LOST ITS TAIL" in terminal.types(LATER, "board").err


def test_a_proof_takes_a_seal_with_it(path: Path, terminal: Terminal) -> None:
    copy, paper = older_copy(path, terminal)
    assert "Seals that fit: 1 of 1." in terminal.types(NOW, "prove", "--seal", paper).out
    put_in_place(copy, path, forget=True)
    assert terminal.types(LATER, "prove", "--seal", paper).code == 1


def test_a_copy_that_was_written_on_does_not_fit(path: Path, terminal: Terminal) -> None:
    """As many entries as before, but others."""
    copy, paper = older_copy(path, terminal)
    put_in_place(copy, path, forget=True)
    terminal.types(LATER, "hold", "M-44", "--because", "bent", "--by", "lea")
    assert "THE SEAL DOES NOT FIT" in terminal.types(LATER, "seal", "check", paper).err


def test_the_service_compares_with_the_file_outside(path: Path, terminal: Terminal) -> None:
    """It adds one seal a night there, and finds the older copy by it although nothing stands beside the book."""
    copy, _ = older_copy(path, terminal)
    outside = path.parent / "outside" / "seals.txt"
    with Book.open(path) as book:
        compare_outside(book, at(NOW))
        compare_outside(book, at(LATER))
    assert len(outside.read_text().splitlines()) == 1
    put_in_place(copy, path, forget=True)
    with Book.open(path) as book:
        assert book.unproven is None
        compare_outside(book, at(LATER))
        assert "LOST ITS TAIL" in str(book.unproven)
    assert len(outside.read_text().splitlines()) == 1


def test_a_file_outside_that_is_away_stops_nothing(path: Path, caplog: pytest.LogCaptureFixture) -> None:
    shutil.rmtree(path.parent / "outside")
    with Book.open(path) as book:
        compare_outside(book, at(NOW))
        assert book.unproven is None
    assert "cannot be written" in caplog.text


def test_a_restored_book_says_why_a_seal_does_not_fit(path: Path, terminal: Terminal) -> None:
    """What was written after the backup is lost, a keeper signed for it, and no alarm goes on about it."""
    backup, paper = older_copy(path, terminal)
    terminal.types(NOW, "prove")
    path.unlink()
    restored = terminal.types(LATER, "restore", backup, "--by", "lea")
    assert restored.code == 0, restored.err
    assert terminal.types(LATER, "board").err == ""
    assert terminal.types(LATER, "prove").code == 0
    checked = terminal.types(LATER, "seal", "check", paper)
    assert checked.code == 0
    assert "was sealed before this book was restored from a backup" in checked.out
    terminal.types(LATER, "hold", "M-44", "--because", "bent", "--by", "lea")
    newer = terminal.types(LATER, "seal", "check").out
    assert "The seal fits" in terminal.types(LATER, "seal", "check", re.findall(r"Seal: (.+)", newer)[0]).out


def test_a_seal_of_another_book_alarms_nobody(path: Path, terminal: Terminal) -> None:
    other = path.with_name("other.txt")
    other.write_text(seal_of("6f9619ff-8b86-4d01-b42d-00cf4fc964ff", 900, "ab" * 32, at(NOW)).text + "\n")
    told = terminal.types(NOW, "seal", "check", other)
    assert (told.code, "holds no seal of this book" in told.err) == (1, True)
    assert terminal.types(NOW, "board").err == ""


def test_a_keeper_takes_a_wrong_seal_away_and_the_book_says_so(path: Path, terminal: Terminal) -> None:
    assert terminal.types(NOW, "seal", "check", seal_code(900_000, "ab" * 32)).code == 1
    assert "LOST ITS TAIL" in terminal.types(NOW, "board").err
    forget = ("seal", "forget", 900_000, "--because", "a paper of the other hall")
    assert terminal.types(NOW, *forget, "--by", "ana").code == 1
    assert terminal.types(NOW, *forget, "--by", "lea").code == 0
    assert terminal.types(NOW, "board").err == ""
    assert "is not of this book" in terminal.types(NOW, "history", "--limit", "1").out


def test_many_seals_leave_the_highest_and_the_last(path: Path) -> None:
    beside = SealsBeside(path)
    book = "6f9619ff-8b86-4d01-b42d-00cf4fc964ff"
    for number in [900, *range(1, 100)]:
        beside.add(seal_of(book, number, f"{number:064x}", at(NOW) + timedelta(number)))
    kept = [seal.entry for seal in beside.all()]
    assert kept[0] == 900
    assert kept[-1] == 99
    assert len(kept) < 50

"""A backup made the book again: the gap is told, the restart is visible, and what was lost is ready to be entered."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path

import pytest

from tests.commands import Said, Terminal
from tests.plants import CLEAN, book_of, strokes, task, write, write_each, written_lines
from upkeep.book import Book

TASKS = [CLEAN, task("lube", "module", every="7 days", early_days=7), task("check", "module", after=["fitting"])]
BEFORE = """
    2026-03-03 06:00 count P-07 1000 by ana
    2026-03-03 06:00 fit M-12 in P-07 at 1000 by ana
    2026-03-03 08:00 sign M-12/clean for 2026-03-03/early by ana
"""
AFTER = """
    2026-03-03 14:00 count P-07 4000 by ben
    2026-03-03 15:00 sign M-12/lube for 2026-03-08 by tom recorded 2026-03-03 16:00
    2026-03-04 06:00 count P-07 9900 by ben
    2026-03-04 06:10 count P-07 9090 by ben corrects #{first_of_the_4th} because "figures swapped"
    2026-03-04 07:00 fit M-44 in P-08 by ana via screen station "Hall A" proof code
    2026-03-04 07:05 sign M-44/check for fitting.{fitting} by ana
    2026-03-04 07:10 fault M-12 "noise" stopped by ben
"""
THURSDAY = "2026-03-05 09:00:00"


class Plant:
    """A book, its backup of Tuesday and a terminal at which it is restored."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder, self._capsys = folder, capsys
        self.lost = book_of(folder, BEFORE, tasks=TASKS)
        self.backup = folder / "tuesday.book"
        self.lost.backup(self.backup)
        self.last = self.lost.newest_written(1)[0].entry
        write_each(self.lost, AFTER.format(first_of_the_4th=self.last + 3, fitting=self.last + 5))
        self.again = folder / "again.book"

    def types(self, *words: object) -> Said:
        """Types a command on Thursday."""
        return Terminal(self.again, self._capsys).types(THURSDAY, *words)

    def restored(self, newer: Path) -> Said:
        """Restores the backup with a newer file beside it."""
        return self.types("restore", self.backup, "--newer", newer, "--by", "lea")

    def enters(self, text: str) -> Said:
        """Enters lines again."""
        (self.folder / "again.txt").write_text(text, encoding="utf-8")
        return self.types("enter", self.folder / "again.txt")


@pytest.fixture
def plant(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Plant:
    """A book of Thursday whose backup is of Tuesday."""
    return Plant(tmp_path, capsys)


def test_the_gap_is_told(plant: Plant) -> None:
    """From the backup's last entry, 2026-03-03 08:00, until now."""
    said = plant.types("restore", plant.backup, "--by", "lea")
    assert said.code == 0, said.err
    assert f"again.book is restored up to #{plant.last}, written 2026-03-03 08:00." in said.out
    assert "The gap runs from 2026-03-03 08:00 to 2026-03-05 09:00, 2 days." in said.out


def test_the_restart_is_the_first_entry_after_the_backup(plant: Plant) -> None:
    """A note, signed by whoever restored it; the chain goes on from the backup's last link."""
    plant.types("restore", plant.backup, "--by", "lea")
    with Book.open(plant.again) as book, Book.open_copy(plant.backup) as backup:
        (note,) = book.written_after(plant.last, backup.prove().hash)
        assert book.history(limit=1)[0].text == (
            f'2026-03-05 09:00 note "restored from tuesday.book, which ends with #{plant.last} of 2026-03-03 08:00" '
            "restored by lea"
        )
        assert note.id == plant.last + 1
        assert book.prove().clean


def test_what_came_after_the_backup_is_entered_again(plant: Plant) -> None:
    """Counts, sign-offs and the rest, in order; the restored book then says what the lost one said."""
    said = plant.restored(plant.lost.path)
    assert said.code == 0, said.err
    assert "Entries written after the backup: 7." in said.err
    entered = plant.enters(said.out)
    assert entered.code == 0, entered.err
    with Book.open(plant.again) as book:
        told = [line.split(" ", 2)[2] for line in written_lines(book)][plant.last + 2 :]
        lost = [line.split(" ", 2)[2] for line in written_lines(plant.lost)][plant.last + 1 :]
        moved = {f"#{plant.last + 3}": f"#{plant.last + 4}", f"fitting.{plant.last + 5}": f"fitting.{plant.last + 6}"}
        for old, new in moved.items():
            lost = [line.replace(old, new) for line in lost]
        assert told == lost
        assert strokes(book, "P-07", "2026-03-05 09:00") == strokes(plant.lost, "P-07", "2026-03-05 09:00")
        assert book.prove().clean


def test_what_is_entered_again_gets_salts_of_its_own(plant: Plant) -> None:
    """The salts of the lost entries may be known outside, from an export or a page; nobody types them."""
    said = plant.restored(plant.lost.path)
    assert " salt " not in said.out
    assert plant.enters(said.out).code == 0
    with Book.open(plant.again) as book:
        again = [line.rpartition(" salt ")[2] for line in book.export()]
        lost = [line.rpartition(" salt ")[2] for line in plant.lost.export()]
    assert again[: plant.last + 1] == lost[: plant.last + 1]
    assert len(set(again)) == len(again) == len(lost) + 1
    assert set(again[plant.last + 1 :]) & set(lost) == set()


def test_each_line_keeps_the_moment_at_which_it_was_written(plant: Plant) -> None:
    """The lubrication told an hour late is still told an hour late."""
    said = plant.restored(plant.lost.path)
    assert "2026-03-03 15:00 sign M-12/lube for 2026-03-08 by tom recorded 2026-03-03 16:00\n" in said.out


def test_the_text_of_an_export_serves_as_well(plant: Plant) -> None:
    """What was exported on Thursday holds what the backup of Tuesday lacks."""
    export = plant.folder / "export.txt"
    lines = ["# Test plant; moments are local time in UTC", *plant.lost.export()]
    export.write_text("\n".join(lines) + "\n", encoding="utf-8")
    by_text = plant.restored(export)
    plant.again.unlink()
    by_book = plant.restored(plant.lost.path)
    assert by_text.code == 0, by_text.err
    assert by_text.out == by_book.out


def test_a_damaged_book_gives_what_the_chain_still_proves(plant: Plant) -> None:
    """Somebody changed a count of Wednesday behind the program's back: what stands before it is listed, no more."""
    damage(plant.lost.path, plant.last + 3)
    said = plant.restored(plant.lost.path)
    assert said.code == 0
    assert (
        f"is damaged after entry #{plant.last + 2}; what was written after that has to be found on paper." in said.err
    )
    assert len([line for line in said.out.splitlines() if not line.startswith("#")]) == 2


def test_nothing_is_restored_where_the_newer_file_is_another_book(plant: Plant, tmp_path: Path) -> None:
    """The sentence says so, and that restoring without it is possible."""
    (tmp_path / "other").mkdir()
    other = book_of(tmp_path / "other", BEFORE + "    2026-03-03 14:00 count P-07 4000 by ben", tasks=[CLEAN])
    write(other, "2026-03-03 15:00 count P-07 5000 by ben")
    write(other, "2026-03-03 16:00 count P-07 6000 by ben")
    write(other, "2026-03-03 17:00 count P-07 7000 by ben")
    said = plant.restored(other.path)
    assert said.code == 1
    assert "does not follow from this backup: the file is damaged there, or is a different book." in said.err
    assert not plant.again.exists()
    export = tmp_path / "other.txt"
    export.write_text("\n".join(other.export()), encoding="utf-8")
    said = plant.restored(export)
    assert (said.code, plant.again.exists()) == (1, False)
    assert "is not a later state of this backup: line" in said.err


def test_a_newer_file_that_holds_no_more_says_so(plant: Plant) -> None:
    """The backup itself is the newest there is."""
    said = plant.restored(plant.backup)
    assert (said.code, said.out) == (0, "")
    assert "The newer file holds nothing written after the backup." in said.err


def test_who_restores_is_somebody_the_book_knows(plant: Plant) -> None:
    """The note bears a name; without one nothing is restored, and nothing is left lying about."""
    said = plant.types("restore", plant.backup, "--by", "nobody")
    assert said.code == 1
    assert "There is no person 'nobody' in this book." in said.err
    assert [path.name for path in plant.folder.iterdir() if "again" in path.name] == []


def test_restoring_never_overwrites_a_book(plant: Plant) -> None:
    """A file of that name is moved aside by a person, not by the program."""
    plant.again.write_text("here", encoding="utf-8")
    said = plant.types("restore", plant.backup, "--by", "lea")
    assert (said.code, plant.again.read_text(encoding="utf-8")) == (1, "here")


@pytest.mark.parametrize("ending", ["-wal", "-shm", "-journal"])
def test_what_was_left_beside_a_book_is_moved_aside_first(plant: Plant, ending: str) -> None:
    """A log of confirmed entries would be played over the restored book and damage it."""
    left = Path(f"{plant.again}{ending}")
    left.write_bytes(b"entries")
    said = plant.types("restore", plant.backup, "--by", "lea")
    assert (said.code, left.read_bytes()) == (1, b"entries")
    assert f"Already there: {left}" in said.err
    assert not plant.again.exists()


def test_the_restored_book_is_proven_in_its_place(plant: Plant, monkeypatch: pytest.MonkeyPatch) -> None:
    """What went wrong in giving it its name is found there, and no such book is left."""
    replace = os.replace

    def with_a_flaw(source: Path, target: Path) -> None:
        replace(source, target)
        if Path(target) == plant.again:
            damage(plant.again, 5)

    monkeypatch.setattr("upkeep.cli.keeping.os.replace", with_a_flaw)
    said = plant.types("restore", plant.backup, "--by", "lea")
    assert said.code == 1
    assert "does not prove clean: Entry #5" in said.err
    assert [path.name for path in plant.folder.iterdir() if "again" in path.name] == []


def test_restoring_is_the_right_of_a_keeper(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Of the leads, too, only one who is named as keeper; when all keepers have left, any lead."""
    with book_of(tmp_path, BEFORE, tasks=TASKS, keepers=["tom", "ana"]) as book:
        book.backup(tmp_path / "kept.book")
    terminal = Terminal(tmp_path / "again.book", capsys)
    refused = terminal.types(THURSDAY, "restore", tmp_path / "kept.book", "--by", "lea")
    assert refused.code == 1
    assert "Only a keeper of this book may restore it: Tom or Ana." in refused.err
    assert terminal.types(THURSDAY, "restore", tmp_path / "kept.book", "--by", "tom").code == 0


def test_without_a_keeper_the_lead_restores(plant: Plant) -> None:
    """And nobody else."""
    refused = plant.types("restore", plant.backup, "--by", "ana")
    assert refused.code == 1
    assert "has no keeper; then the maintenance lead alone may restore it" in refused.err
    assert plant.types("restore", plant.backup, "--by", "lea").code == 0


def damage(path: Path, entry: int) -> None:
    """Changes an entry in the file the way no program of ours does."""
    connection = sqlite3.connect(path)
    connection.execute("DROP TRIGGER entries_never_change")
    connection.execute("UPDATE entries SET words = 'count P-07 9001' WHERE id = ?", (entry,))
    connection.commit()
    connection.close()

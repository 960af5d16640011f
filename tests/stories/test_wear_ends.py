"""Parts that leave for ever, and the pictures kept of them."""

from __future__ import annotations

import hashlib
import json
from datetime import date
from pathlib import Path

import pytest
from PIL import Image

from tests.commands import Terminal
from tests.plants import at, book_of, line_at, number_of, task, why_of, write, write_each
from upkeep.errors import Refused
from upkeep.wording.holds import hold_text
from upkeep.wording.sentences import ENGLISH

FITTED = """
    2026-03-02 06:00 count P-07 0 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 0 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
    2026-03-03 14:00 count P-07 30000 by ana
"""
GONE = FITTED + "2026-03-03 14:00 unfit CP-a by ana\n2026-03-03 14:30 retire CP-a worn by lea"


def test_what_left_for_ever_is_not_fitted_and_not_released(tmp_path: Path) -> None:
    """Whatever reason is given; the sentence names the entry to strike if it never left."""
    with book_of(tmp_path, GONE) as book:
        assert hold_text(book.holds()[0].reason, ENGLISH) == "gone for good: worn"
        for line in ('fit CP-a in DS-031 by ana because "it hangs there"', 'release CP-a by lea because "good again"'):
            with pytest.raises(Refused, match=r"CP-a is gone for good \(worn, 2026-03-03 14:30, #\d+\)"):
                write(book, f"2026-03-04 06:00 {line}")
        assert book.prove().clean


LOOK = task("look", "conductor punch", rule="FREQ=DAILY", start="2026-03-01")


def test_nothing_is_asked_of_what_left_for_ever(tmp_path: Path) -> None:
    """Its lines are not required and say why; what would have come due later is not missed in the figures."""
    with book_of(tmp_path, GONE + "\n2026-03-12 06:00 count P-07 30000 by ana", tasks=[LOOK]) as book:
        line = line_at(book, "CP-a/look", "2026-03-12 08:00")
        assert (line.state, why_of(book, line).startswith("Not required: gone for good: worn")) == (
            "not required",
            True,
        )
        assert line_at(book, "CP-b/look", "2026-03-12 08:00").state == "overdue"
        assert line_at(book, "CP-a/look", "2026-03-03 08:00").state != "not required"
        late = book.figures(at("2026-03-12 08:00"), first=date(2026, 3, 5), last=date(2026, 3, 11)).late
        assert {one.line for one in late} == {"CP-b/look"}
        assert book.prove().clean


def test_a_fitting_from_before_it_left_is_taken_though_told_late(tmp_path: Path) -> None:
    """And the struck end of a part that never left lets it be fitted again."""
    with book_of(tmp_path, FITTED + "2026-03-03 14:00 unfit CP-a by ana") as book:
        number = number_of(write(book, "2026-03-05 14:30 retire CP-a worn by lea"))
        write_each(
            book,
            """
            2026-03-04 06:00 fit CP-a in DS-031 by ana recorded 2026-03-05 15:00
            2026-03-04 07:00 unfit CP-a by ana recorded 2026-03-05 15:01
            """,
        )
        write(book, f'2026-03-06 06:00 strike #{number} by lea because "another punch"')
        write(book, "2026-03-06 07:00 fit CP-a in DS-031 by ana")
        assert book.prove().clean


def test_an_end_is_told_once_and_after_the_last_fitting(tmp_path: Path) -> None:
    """A part that still sits somewhere is to be taken out."""
    with book_of(tmp_path, FITTED) as book:
        with pytest.raises(Refused, match="was fitted again 2026-03-02 06:00"):
            write(book, "2026-03-01 06:00 retire CP-a worn by lea")
        written = write(book, "2026-03-03 14:30 retire CP-a broken by lea")
        assert tuple(map(str, written.notes)) == ("CP-a is still in DS-031: take it out first ('unfit').",)
        with pytest.raises(Refused, match="already left for good"):
            write(book, "2026-03-03 15:00 retire CP-a worn by lea")
        number = number_of(written)
        write(book, f'2026-03-03 14:30 retire CP-a worn by lea corrects #{number} because "not broken"')
        assert str(book.wear(book.zone.read("2026-03-04 06:00")).item("CP-a").gone).startswith("worn, 2026-03-03 14:30")


def drawn(file: Path) -> Path:
    """A picture, told apart from others by its name."""
    Image.new("RGB", (8, 8), (len(file.name) * 20, ord(file.name[0]), 0)).save(file)
    return file


def test_a_picture_is_kept_with_its_checksum(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Taken by the command from the file; a name in the book's folder stays right where the folder is moved."""
    book_of(tmp_path).close()
    terminal = Terminal(tmp_path / "plant.book", capsys)
    photo = tmp_path / "photos" / "new.jpg"
    photo.parent.mkdir()
    drawn(photo)
    said = terminal.types("2026-03-02 08:00", "picture", "CP-a", photo, "--as-new", "--by", "tom")
    assert said.code == 0
    found = json.loads(terminal.types("2026-03-02 09:00", "picture", "--check", "--json").out)
    assert [(one["file"], one["sha256"], one["as_new"], one["trouble"]) for one in found] == [
        ("photos/new.jpg", hashlib.sha256(photo.read_bytes()).hexdigest(), True, "")
    ]


def test_a_picture_that_was_altered_or_is_missing_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By the look at all of them, and on the page of the item; what is written stays."""
    book_of(tmp_path).close()
    terminal = Terminal(tmp_path / "plant.book", capsys)
    photo = drawn(tmp_path / "a.jpg")
    assert terminal.types("2026-03-02 08:00", "picture", "CP-a", photo, "--by", "tom").code == 0
    photo.unlink()
    assert "unchanged" in terminal.types("2026-03-02 09:00", "picture", "CP-a", "--check").out
    (kept,) = (tmp_path / "pictures").iterdir()
    kept.write_bytes(b"another punch")
    looked = terminal.types("2026-03-02 09:00", "picture", "CP-a", "--check")
    assert ("ALTERED" in looked.out, looked.code) == (True, 1), "a program that only looks at the code hears it, too"
    kept.unlink()
    assert "MISSING" in terminal.types("2026-03-02 09:00", "life", "CP-a").out
    proven = terminal.types("2026-03-02 09:00", "prove")
    assert (proven.code, "Note: Picture a.jpg" in proven.err, "MISSING" in proven.err) == (0, True, True)
    (trouble,) = json.loads(terminal.types("2026-03-02 09:00", "prove", "--json").out)["pictures"]
    assert "MISSING" in trouble


def test_pictures_go_with_every_backup_and_come_back(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In a folder beside it, under their checksums; readable by their owner alone; checked when they are copied."""
    book_of(tmp_path).close()
    terminal = Terminal(tmp_path / "plant.book", capsys)
    for name in ("a.jpg", "b.png"):
        assert terminal.types("2026-03-02 08:00", "picture", "CP-a", drawn(tmp_path / name), "--by", "tom").code == 0
    kept = {path.name: path.read_bytes() for path in (tmp_path / "pictures").iterdir()}
    assert {name: hashlib.sha256(content).hexdigest() for name, content in kept.items()} == {
        name: name.partition(".")[0] for name in kept
    }
    assert {path.stat().st_mode & 0o077 for path in (tmp_path / "pictures").iterdir()} == {0}
    away, back = tmp_path / "away", tmp_path / "back"
    back.mkdir()
    assert terminal.types("2026-03-02 09:00", "backup", away / "night.book").code == 0
    assert {path.name: path.read_bytes() for path in (away / "pictures").iterdir()} == kept
    other = Terminal(back / "plant.book", capsys)
    assert other.types("2026-03-02 10:00", "restore", away / "night.book", "--by", "lea").code == 0
    assert {path.name: path.read_bytes() for path in (back / "pictures").iterdir()} == kept
    assert "MISSING" not in other.types("2026-03-02 11:00", "picture", "--check").out
    sorted((away / "pictures").iterdir())[0].unlink()
    (back / "plant.book").unlink()
    told = other.types("2026-03-02 12:00", "restore", away / "night.book", "--by", "lea")
    assert (told.code, "MISSING" in told.err) == (0, True)


def test_what_is_no_picture_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By what is in it, whatever it is called; nothing is kept of it."""
    book_of(tmp_path).close()
    terminal = Terminal(tmp_path / "plant.book", capsys)
    (tmp_path / "a.jpg").write_bytes(b"a punch")
    said = terminal.types("2026-03-02 08:00", "picture", "CP-a", tmp_path / "a.jpg", "--by", "tom")
    assert (said.code, "cannot be read as a picture" in said.err) == (1, True)
    assert not (tmp_path / "pictures").exists()


def test_a_picture_belongs_to_a_fault_or_a_check(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Of the same item, and of nothing else."""
    with book_of(tmp_path) as book:
        write(book, '2026-03-02 06:00 fault CP-a "chipped" by ana')
        fault = book.newest_written(1)[0].entry
        write(book, '2026-03-02 06:30 remark CP-a "odd" by ana')
    terminal = Terminal(tmp_path / "plant.book", capsys)
    words = ("picture", "CP-a", drawn(tmp_path / "a.png"), "--by", "tom", "--of")
    assert terminal.types("2026-03-02 08:00", *words, fault).code == 0
    assert f"picture of #{fault}" in terminal.types("2026-03-02 09:00", "life", "CP-a").out
    assert "belongs to a sign-off, a check or a fault" in terminal.types("2026-03-02 08:00", *words, fault + 1).err
    other = terminal.types("2026-03-02 08:00", "picture", "CP-b", tmp_path / "a.png", "--by", "tom", "--of", fault)
    assert f"#{fault} is about CP-a, not about CP-b." in other.err
    assert terminal.types("2026-03-02 09:00", "prove").code == 0


def test_a_millimetre_is_as_long_on_both_pictures(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where both scales are known: 3 mm are 30 points at 10 a millimetre, and 60 at 20; drawn, they are alike."""
    book_of(tmp_path).close()
    terminal = Terminal(tmp_path / "plant.book", capsys)
    for name, points, *more in (("new.png", 10, "--as-new"), ("now.png", 20)):
        image = Image.new("RGB", (points * 8, points * 4), "white")
        image.paste("red", (points, points, points * 4, points * 2))
        image.save(tmp_path / name)
        words = ("picture", "CP-a", tmp_path / name, "--scale", points, *more, "--by", "tom")
        assert terminal.types("2026-03-02 08:00", *words).code == 0
    both = tmp_path / "both.png"
    assert terminal.types("2026-03-02 09:00", "picture", "CP-a", "--beside", both).code == 0
    with Image.open(both) as sheet:
        middle = sheet.height - 20 - 40 + 15
        red = [x for x in range(sheet.width) if sheet.getpixel((x, middle)) == (255, 0, 0)]
    halves = [x for x in red if x < sheet.width // 2], [x for x in red if x >= sheet.width // 2]
    assert [abs(len(half) - 30) <= 2 for half in halves] == [True, True]
    assert "more than 0" in terminal.types("2026-03-02 08:00", *words[:3], "--scale", -1, "--by", "tom").err


def test_two_pictures_stand_side_by_side_at_one_scale(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As new and now: 30 points wide on one are as wide on the other; without one of them it is said."""
    book_of(tmp_path).close()
    terminal = Terminal(tmp_path / "plant.book", capsys)
    both = tmp_path / "both.png"
    none = terminal.types("2026-03-02 07:00", "picture", "CP-a", "--beside", both)
    assert (none.code, "There is no picture of this item in this book." in none.err) == (1, True)
    for name, wide, *more in (("new.png", 60, "--as-new"), ("now.png", 90)):
        image = Image.new("RGB", (wide, 40), "white")
        image.paste("red", (10, 10, 40, 20))
        image.save(tmp_path / name)
        assert terminal.types("2026-03-02 08:00", "picture", "CP-a", tmp_path / name, *more, "--by", "tom").code == 0
    assert terminal.types("2026-03-02 09:00", "picture", "CP-a", "--beside", both).code == 0
    with Image.open(both) as sheet:
        red = [[sheet.getpixel((x, y)) for x in range(sheet.width)].count((255, 0, 0)) for y in range(sheet.height)]
    assert sorted(red) == [0] * (sheet.height - 10) + [60] * 10
    for kept in (tmp_path / "pictures").iterdir():
        kept.write_text("no picture", encoding="utf-8")
    again = ("picture", "CP-a", "--beside", both, "--replace")
    assert "cannot be read as a picture" in terminal.types("2026-03-02 10:00", *again).err


def test_a_picture_is_asked_for_whole(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Item and file and who, or a look; a checksum that is none is refused."""
    with book_of(tmp_path) as book, pytest.raises(Refused, match="64 characters"):
        write(book, '2026-03-02 06:00 picture CP-a "a.jpg" sha256 abc by tom')
    terminal = Terminal(tmp_path / "plant.book", capsys)
    assert terminal.types("2026-03-02 09:00", "picture", "CP-a").code == 2
    assert terminal.types("2026-03-02 09:00", "picture", "--check").out == "No pictures are kept.\n"
    said = terminal.types("2026-03-02 09:00", "retire", "CP-a", "worn", "--by", "tom")
    assert said.out.startswith("Written as #")

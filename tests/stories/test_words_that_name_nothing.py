"""A slip of the pen in a question is refused: it is never answered with a board on which nothing is due."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from demo_plant.environment import ROOT
from tests.commands import Terminal
from tests.plants import CLEAN, at, book_of

MOMENT = "2026-03-02 12:00"


@pytest.mark.parametrize(
    ("words", "refused"),
    [
        ("board --place P-99", "There is no press or place 'P-99' in this book."),
        ("board --area hall", "There is no area 'hall' in this book. Its areas: "),
        ("board --item M-99", "There is no item 'M-99' in this book."),
        ("board --role technician", "There is no role 'technician' in this book. Its roles: operator, "),
        ("week --area hall", "There is no area 'hall' in this book. Its areas: "),
        ("figures --area hall", "There is no area 'hall' in this book. Its areas: "),
        ("history M-99", "There is no item 'M-99' in this book."),
        ("round P-99", "There is no press or place 'P-99' in this book."),
    ],
)
def test_a_word_that_names_nothing_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: str, refused: str
) -> None:
    """With what was perhaps meant, or what there is."""
    book_of(tmp_path, tasks=[CLEAN]).close()
    said = Terminal(tmp_path / "plant.book", capsys).types(MOMENT, *words.split())
    assert (said.code, said.out) == (1, "")
    assert said.err.startswith(refused)


@pytest.mark.parametrize("words", ["board --place P-07", "board --item M-12", "board --role operator", "history M-12"])
def test_a_word_that_names_something_is_answered(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: str
) -> None:
    """Also where nothing is due there."""
    book_of(tmp_path, tasks=[CLEAN]).close()
    said = Terminal(tmp_path / "plant.book", capsys).types(MOMENT, *words.split())
    assert (said.code, said.err) == (0, "")


def test_a_new_book_says_what_to_enter_first(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Somebody who has just loaded five files is told the three kinds of entry a plant begins with."""
    terminal = Terminal(tmp_path / "new.book", capsys)
    made = terminal.types(MOMENT, "new", ROOT / "demo_plant" / "files", "--by", "yara")
    assert made.code == 0
    assert all(word in made.out for word in ("What now", "strokebook fit", "strokebook count", "strokebook stated"))
    assert "What now" not in terminal.types(MOMENT, "new", ROOT / "demo_plant" / "files", "--by", "yara").out


@pytest.mark.parametrize(
    ("words", "refused"),
    [
        ("board --place M-12", "There is no press or place 'M-12' in this book. M-12 is a module. Name the press or"),
        ("round DS-031", "There is no press or place 'DS-031' in this book. DS-031 is a die set. Name the press or"),
        ("fault M-12 99 --by ben", "'99' is not a symptom. Give its number from the list, 1 to "),
        ("count P-07 1.204 --by ben", "'1.204' is not a number; write it like 4812 or 4,812."),
        ("faults --item P-99", "There is no item 'P-99' in this book."),
    ],
)
def test_a_word_of_another_kind_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: str, refused: str
) -> None:
    """An item is no place, a number that the list does not have no symptom."""
    book_of(tmp_path, tasks=[CLEAN]).close()
    said = Terminal(tmp_path / "plant.book", capsys).types(MOMENT, *words.split())
    assert (said.code > 0, said.out, refused in said.err) == (True, "", True)


@pytest.mark.parametrize("figure", ["1,210,000", "1 210 000", "1.210.000", "1210000"])
def test_a_count_is_taken_as_people_write_it(tmp_path: Path, capsys: pytest.CaptureFixture[str], figure: str) -> None:
    """In the shell and from a file."""
    book_of(tmp_path).close()
    terminal, told = Terminal(tmp_path / "plant.book", capsys), tmp_path / "counts.csv"
    assert terminal.types(MOMENT, "count", "P-07", figure, "--by", "ana").code == 0
    told.write_text(f"press;at;count\nP-08;2026-03-02 11:00;{figure}\n", encoding="utf-8")
    assert "counts entered: 1;" in terminal.types(MOMENT, "count", "--from", told, "--by", "ana").out
    assert terminal.types(MOMENT, "history").out.count(" 1210000 by ana") == 2


def test_faults_of_a_press_are_those_of_what_hung_there(tmp_path: Path) -> None:
    """Not of what it did before and after; a press that had another module then is not told of them."""
    text = """
        2026-03-02 06:00 count P-07 10 by ana
        2026-03-02 06:00 fault DS-031 "in the rack" by ben
        2026-03-02 07:00 fit M-12 in P-07 at 10 by ana
        2026-03-02 07:00 fit DS-031 in M-12 by ana
        2026-03-02 07:10 fault DS-031 "burr" by ben
        2026-03-02 07:20 fault P-07 "loud" by ben
        2026-03-02 08:00 unfit DS-031 by ana
        2026-03-02 08:10 fault DS-031 "dropped" by ben
    """
    with book_of(tmp_path, text) as book:
        views = book.faults(at("2026-03-02 09:00"))
        assert [fault.symptom for fault in views.listing("P-07").faults] == ["loud", "burr"]
        assert [fault.symptom for fault in views.listing("P-07", only_open=True).faults] == ["loud", "burr"]
        assert views.listing("P-08").faults == ()


def test_a_row_that_vanished_from_a_file_gets_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What stood in it stays in force, and whoever took it out learns how it ends."""
    terminal, folder = Terminal(tmp_path / "new.book", capsys), tmp_path / "files"
    shutil.copytree(ROOT / "demo_plant" / "files", folder)
    plant = folder / "plant.toml"
    plant.write_text(plant.read_text(encoding="utf-8").replace('"codes"', '"names only"'), encoding="utf-8")
    terminal.types(MOMENT, "new", folder, "--by", "yara")
    places = (folder / "places.csv").read_text(encoding="utf-8")
    (folder / "places.csv").write_text(f"{places.rstrip()}\nlent,Lent to another plant,Outside,99\n", encoding="utf-8")
    terminal.types(MOMENT, "new", folder, "--because", "press lent", "--by", "yara")
    (folder / "places.csv").write_text(places, encoding="utf-8")
    again = terminal.types(MOMENT, "new", folder, "--by", "yara")
    assert "In the book and no longer in the files: place lent. Taking a row out of a file ends nothing." in again.out

"""The sheets a plant has go into a book once all is right and the lead says so; each wrong thing has its place told."""

from __future__ import annotations

import shutil
import sys
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.commands import Said, Terminal
from tests.pseudo_terminal import PseudoTerminal
from tests.sources.first_load.plant_sheets import ANSWERS, GOOD, PLANT, WRONG, write_folder, write_workbook
from upkeep.book import Book

MOMENT = "2025-12-01 08:00:00"
HERE = Path(__file__).parent


class Lead:
    """The maintenance lead on the first afternoon, in a folder of her own."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder, self.path = folder, folder / "plant.db"
        (folder / "plant.toml").write_text(PLANT, encoding="utf-8")
        self._terminal = Terminal(self.path, capsys)

    def answers(self, sheets: Path, text: str = ANSWERS) -> None:
        """Writes her answers beside the sheets."""
        name = "strokebook-sheets.toml"
        file = sheets / name if sheets.is_dir() else sheets.with_name(f"{sheets.stem}.{name}")
        file.write_text(text, encoding="utf-8")

    def loads(self, sheets: Path, *words: str) -> Said:
        """Loads sheets, with nobody at a terminal."""
        return self._terminal.types(MOMENT, "new", "--from", sheets, "--by", "lea", *words)

    def types(self, *words: str) -> Said:
        """Another command on her book."""
        return self._terminal.types(MOMENT, *words)


@pytest.fixture
def lead(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Lead:
    """The lead."""
    return Lead(tmp_path, capsys)


def flat(text: str) -> str:
    """Text without its line breaks."""
    return " ".join(text.split())


WRONG_PLACES = (
    "sheet Presses, row 2, column Counter digits (D): found '#DIV/0!'",
    "sheet Presses, row 3, column Strokes an hour (E): found 'fast'",
    "sheet Modules, row 2, column Strokes so far (D): found '1.209k'; meant is the whole number, written out",
    "sheet Modules, row 3, column Strokes so far (D): found '1209.5'",
    "sheet Modules, row 4, column Strokes so far (D): found '#REF!'",
    "sheet Modules, row 5, column Strokes so far (D): found '12,34,567'",
    "sheet Modules, row 5, column Module (A): found 'M-13' again",
    "sheet Staff, row 4, column Role (B): found 'boss'",
    "sheet Staff, row 4, column Name (A): found 'Lea Bär', as lea is called",
    "sheet Tasks, row 2, column How often (C): found 'now and then'",
    "sheet Tasks, row 3, column On (B): found 'flywheel'",
    "sheet Last done, row 2, column Done (C): found '31.02.2025'",
    "sheet Last done, row 3, column Tool (A): found 'M-99'",
    "sheet Last done, row 4, column Task (B): found oil-the-slides on P-01, a press",
    "sheet Last done, row 5, column Done (C): found 2031-03-01; meant is a day that has come",
    "sheet Last done, row 6, column Done (C): found '17'",
    "sheet Last done, row 6, column Task (B): found 'Grind'",
    "sheet Presses, row 3, column Press (A): 'P 02' is read as 'P-02'",
    "is M-12 the same thing as M-012?",
)


def loaded(lead: Lead) -> Path:
    """The folder of sheets that are loaded, with the answers to what they left open."""
    sheets = write_folder(lead.folder / "sheets", GOOD)
    shutil.copy(lead.folder / "plant.toml", sheets)
    lead.answers(sheets)
    assert lead.loads(sheets, "--yes").code == 0
    return sheets


@pytest.mark.parametrize("written_by", ["the library", "an office suite"])
def test_each_wrong_thing_is_told_with_its_sheet_row_and_column(lead: Lead, written_by: str) -> None:
    """All of it in one report, and nothing is made."""
    sheets = lead.folder / "wrong.xlsx"
    if written_by == "the library":
        write_workbook(sheets, WRONG)
    else:
        shutil.copy(HERE / "from_an_office_wrong.xlsx", sheets)
    said = lead.loads(sheets, "--yes")
    told = flat(said.out)
    assert said.code == 1
    assert [place for place in WRONG_PLACES if place not in told] == []
    assert not list(lead.folder.glob("*.db*"))
    assert not list(lead.folder.glob(".plant*"))
    assert "Nothing was loaded" in said.err


@pytest.mark.parametrize("written_by", ["the library", "the library, days from 1904", "an office suite", "a folder"])
def test_what_is_right_is_loaded_once(lead: Lead, written_by: str) -> None:
    """After a yes; a second time nothing changes, and a changed row changes what it says."""
    sheets = lead.folder / "tooling.xlsx"
    if written_by == "an office suite":
        shutil.copy(HERE / "from_an_office.xlsx", sheets)
    elif written_by == "a folder":
        sheets = write_folder(lead.folder / "sheets", GOOD)
        shutil.copy(lead.folder / "plant.toml", sheets)
    else:
        write_workbook(sheets, GOOD, from_1904="1904" in written_by)
    lead.answers(sheets)
    looked = lead.loads(sheets)
    assert (looked.code, lead.path.exists()) == (0, False)
    assert "Whoever says so loads it" in looked.out
    said = lead.loads(sheets, "--yes")
    assert said.code == 0, said.err
    with Book.open(lead.path) as book:
        items = {item.id: item for item in book.items()}
        assert set(items) == {"P-01", "P-02", "M-012", "M-13", "M-14", "DS-001", "DS-002", "DS-003"}
        assert (items["M-14"].title, items["M-13"].place) == ("Módulo 14 (Prüfling)", "Rack-1")
        assert str(items["DS-002"].since) == ("2023-05-03" if "1904" in written_by else "2019-05-02")
        assert [entry.strokes for _, entry in book.strokes_before("M-012")] == [1_209_500]
        assert book.stated() == {
            ("M-012", "oil-the-slides"): "2025-04-03",
            ("M-13", "oil-the-slides"): "2025-04-13",
            ("DS-001", "look-at-the-die-set"): "2025-02-01",
        }
        assert book.prove().clean
        last = book.newest_written(1)[0].entry
    again = lead.loads(sheets, "--yes")
    assert "already says all of this" in again.out
    with Book.open(lead.path) as book:
        assert book.newest_written(1)[0].entry == last


def test_a_changed_row_changes_what_it_says_and_doubles_nothing(lead: Lead) -> None:
    """With a reason, as every change; strokes told before are corrected."""
    sheets = loaded(lead)
    modules = sheets / "Modules.csv"
    modules.write_text(modules.read_text().replace("1209.5k", "1210k").replace("Module 13", "Module 13, side feed"))
    refused = lead.loads(sheets, "--yes")
    assert refused.code == 1
    assert "--because" in refused.err
    assert lead.loads(sheets, "--yes", "--because", "typing errors").code == 0
    with Book.open(lead.path) as book:
        assert book.known.item("M-13").title == "Module 13, side feed"
        assert [entry.strokes for _, entry in book.strokes_before("M-012")] == [1_210_000]
        assert len(list(book.items())) == 8
        assert book.prove().clean


@pytest.mark.parametrize(("encoding", "mark"), [("utf-8-sig", ","), ("utf-16", "\t"), ("cp1252", ";")])
def test_texts_are_read_in_the_encodings_spreadsheets_write(lead: Lead, encoding: str, mark: str) -> None:
    """Umlauts and accents come out as they went in, whatever stands between the cells."""
    good = {name: [[str(c).replace(",", ".") if c else c for c in row] for row in rows] for name, rows in GOOD.items()}
    sheets = write_folder(lead.folder / "sheets", good, encoding, mark)
    shutil.copy(lead.folder / "plant.toml", sheets)
    lead.answers(sheets)
    said = lead.loads(sheets, "--yes")
    assert said.code == 0, said.out + said.err
    with Book.open(lead.path) as book:
        assert book.known.person("lea").name == "Lea Bär"
        assert book.known.item("M-14").title == "Módulo 14 (Prüfling)"


def test_days_are_asked_for_once_with_the_rows_that_can_be_read_in_two_ways(lead: Lead) -> None:
    """And where the answer is kept is said."""
    sheets = write_workbook(lead.folder / "tooling.xlsx", GOOD)
    told = flat(lead.loads(sheets).out)
    assert told.count("In which order are days written") == 1
    assert "sheet Last done, row 2, column Done (C): 03/04/2025 is 2025-04-03 (dmy) or 2025-03-04 (mdy)" in told
    assert "sheet Last done, row 3, column Done (C): 13.04.2025 can only be dmy" in told
    assert "tooling.strokebook-sheets.toml" in told


def test_two_spellings_are_one_thing_or_two_as_the_lead_says(lead: Lead) -> None:
    """M-12 and M-012: asked once, and both answers hold."""
    modules = [["Module", "Description"], ["M-012", "Twelve"], ["M-12", "Another"]]
    sheets = write_folder(lead.folder / "sheets", {**GOOD, "Modules": modules, "Last done": [["Tool", "Task", "Done"]]})
    shutil.copy(lead.folder / "plant.toml", sheets)
    lead.answers(sheets)
    assert "is M-12 the same thing as M-012?" in flat(lead.loads(sheets).out)
    lead.answers(sheets, ANSWERS + '[same]\n"M-12" = "M-012"\n')
    assert "found 'M-012' again" in flat(lead.loads(sheets).out)
    lead.answers(sheets, ANSWERS + '[same]\n"M-12" = "M-12"\n')
    assert lead.loads(sheets, "--yes").code == 0
    with Book.open(lead.path) as book:
        assert {"M-012", "M-12"} <= {item.id for item in book.items()}


def test_a_heading_nobody_knows_is_asked_where_it_is_needed(lead: Lead) -> None:
    """Which column holds the id is asked; what it is can be told in the file of answers."""
    sheets = write_folder(lead.folder / "sheets", {**GOOD, "Modules": [["Ding", "Description"], ["M-13", "Thirteen"],
                                                                       ["M-012", "Twelve"]]})  # fmt: skip
    shutil.copy(lead.folder / "plant.toml", sheets)
    lead.answers(sheets)
    assert "which column is id?" in flat(lead.loads(sheets).out)
    lead.answers(sheets, ANSWERS + '[columns.Modules]\n"Ding" = "id"\n')
    assert lead.loads(sheets, "--yes").code == 0


def test_an_id_that_stood_for_something_else_is_refused(lead: Lead) -> None:
    """Also when that was scrapped: an id is used once."""
    sheets = loaded(lead)
    dies = sheets / "Dies.csv"
    dies.write_text(dies.read_text() + "\r\nM-13;A set;ring 4;Rack 2;;")
    told = flat(lead.loads(sheets, "--yes").out)
    assert "sheet Dies, row 5, column Tool (A): found" in told


@pytest.mark.parametrize("bad", [b"", b"no workbook at all", b"PK\x03\x04 torn"])
def test_what_is_no_workbook_is_a_sentence(lead: Lead, bad: bytes) -> None:
    """Never a traceback."""
    sheets = lead.folder / "tooling.xlsx"
    sheets.write_bytes(bad)
    said = lead.loads(sheets, "--yes")
    assert said.code == 1
    assert "cannot be read" in said.err


GUIDE = "import sys; from upkeep.cli import main; sys.argv = ['strokebook', *sys.argv[1:]]; sys.exit(main())"


def led_through(path: Path, *steps: tuple[str, str]) -> tuple[int | None, str]:
    """The guide at a terminal of its own: each question waited for and answered; its exit code and all it said."""
    words = ("new", "--guide", "--by", "lea", "--book", str(path))
    with closing(PseudoTerminal(GUIDE, *words, rows=40, columns=100)) as program:
        for question, answer in steps:
            program.shows(question)
            program.types(answer)
        return program.ended()


@pytest.mark.skipif(sys.platform == "win32", reason="there are no pseudo terminals")
def test_the_guide_can_be_left_and_taken_up_again(lead: Lead) -> None:
    """A slip is asked again; what was answered is in the book, and the second call asks for the rest alone."""
    sheets = write_workbook(lead.folder / "tooling.xlsx", GOOD)
    lead.answers(sheets)
    code, said = led_through(
        lead.path, ("Where are they", f"{sheets}\r"), ("Load all of this?", "y\r"), ("P-01, Bench press 1:", "many\r"),
        ("is not a number", "1,204,300\r"), ("P-02, Bench press 2:", "\x04"),
    )  # fmt: skip
    assert (code, "everything that was confirmed is in the book" in flat(said)) == (1, True)
    code, said = led_through(
        lead.path, ("P-02, Bench press 2: the counter", "\r"), ("P-01, Bench press 1: the module", "M-012\r"),
        ("P-02, Bench press 2: the module", "\r"), ("M-012, Module 12: the die set", "DS-001\r"),
        ("no history. Plan", "y\r"), ("That was the first hour.", ""),
    )  # fmt: skip
    assert (code, "Traceback" in said) == (0, False)
    with Book.open(lead.path) as book:
        assert len(list(book.entries_of("P-01", "count"))) == 1
        assert not list(book.entries_of("P-02", "count"))
        assert {row.item: row.inside for row in book.where(datetime.now(UTC)).rows}["DS-001"] == "M-012"
        assert book.prove().clean

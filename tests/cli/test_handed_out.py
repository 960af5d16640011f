"""What is handed out: the archive of a year, names of leavers by the rule of the plant, answers as tables."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from tests.commands import Terminal
from tests.plants import CLEAN, book_of, person, write
from upkeep.cli.tabling import csv_text, tables

NOW = "2026-06-01 12:00"
TEXT = """
    2026-03-02 05:00 count P-07 0 by zachary
    2026-03-02 05:00 fit M-12 in P-07 at P-07 0 by ana
    2026-03-02 06:00 hold M-12 by zachary because "Zachary Oldcastle saw a burr"
    2026-03-02 06:10 count P-07 900 by ana
"""


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book in which somebody left, of a plant that withholds the names of leavers after 30 days."""
    folder = tmp_path_factory.mktemp("left")
    gone = person("zachary", "Zachary Oldcastle", "operator", until="2026-03-02")
    with book_of(folder, TEXT, tasks=[CLEAN], more=[gone], leavers_withheld_after=30) as book:
        write(book, "2026-05-04 05:00 count P-07 12000 by ana")
        return book.path


def verified(folder: Path) -> str:
    command = [sys.executable, "-I", "-S", str(folder / "verify.py"), str(folder)]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, check=True).stdout


def everything(folder: Path) -> str:
    """All that can be read in a folder, pages of PDF with it."""
    texts = [
        file.read_text() for file in folder.iterdir() if file.suffix in (".txt", ".csv", ".json", ".jsonl", ".html")
    ]
    pages = [page.extract_text() for file in folder.glob("*.pdf") for page in PdfReader(file).pages]
    return "\n".join(texts + pages)


def test_an_archive_holds_the_year_withholds_who_left_and_proves_itself(
    path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = Terminal(path, capsys).types(NOW, "archive", tmp_path / "archive", "--year", "2026")
    assert told.code == 0, told.err
    names = {file.name for file in (tmp_path / "archive").iterdir()}
    assert {"entries-2026.txt", "entries-2026.csv", "entries-2026-03.pdf", "entries-2026-05.pdf"} <= names
    found = everything(tmp_path / "archive")
    assert "count P-07 12000" in found
    assert "(operator)" in found
    assert "zachary" not in found.lower()
    assert "RIGHT" in verified(tmp_path / "archive")


def test_evidence_withholds_who_left_in_every_file(
    path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = Terminal(path, capsys).types(NOW, "evidence", tmp_path / "evidence")
    assert told.code == 0, told.err
    assert "zachary" not in everything(tmp_path / "evidence").lower()
    assert "RIGHT" in verified(tmp_path / "evidence")


def test_a_year_without_entries_is_refused(path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = Terminal(path, capsys).types(NOW, "archive", tmp_path / "archive", "--year", "2020")
    assert (told.code, (tmp_path / "archive").exists()) == (1, False)


def test_an_answer_is_given_as_a_table_too(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    terminal = Terminal(path, capsys)
    rows = list(csv.DictReader(io.StringIO(terminal.types(NOW, "history", "--csv").out)))
    answers = json.loads(terminal.types(NOW, "history", "--json").out)
    assert [row["text"] for row in rows] == [answer["text"] for answer in answers]
    assert set(rows[0]) == set(answers[0])


words = st.text("abc -=+@", min_size=1, max_size=9)
objects = st.fixed_dictionaries({"a": words, "b": st.integers(), "c": st.fixed_dictionaries({"x": words})})


@given(st.lists(objects, min_size=1, max_size=5))
def test_every_value_of_an_answer_stands_in_its_table(answers: list[dict[str, object]]) -> None:
    """In the row of its object, under its name; what a spreadsheet would take for a formula is text."""
    rows = list(csv.DictReader(io.StringIO(csv_text(tables(answers)[""]))))
    for row, answer in zip(rows, answers, strict=True):
        inner = answer["c"]
        assert isinstance(inner, dict)
        assert (row["a"].removeprefix("'"), row["b"], row["c.x"].removeprefix("'")) == (
            answer["a"], str(answer["b"]), inner["x"],
        )  # fmt: skip
        assert not row["a"].startswith(("=", "+", "-", "@"))

"""The manager's page: ten things on one sheet, the same in text and PDF, each recomputed from what was entered."""

from __future__ import annotations

import json
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.commands import Terminal
from tests.papers.weeks import FRAME
from tests.plants import INSPECT, at, book_of, lines_of, number_of, task, write
from tests.stories.test_figures_from_the_export import BOOK, GREASE
from upkeep.book import Book
from upkeep.papers.figures.manager_pdf import manager_pdf
from upkeep.papers.figures.manager_rows import manager_rows
from upkeep.views.overview.indicators import LineOver
from upkeep.views.overview.manager import ManagerPage, Topic
from upkeep.wording.sentences import ENGLISH, text

MONDAY = "2026-03-16 06:30"
CHECK = task("gauge-check", "gauge", every="30 days", by=["operator", "maintenance technician"])
GUARD = task("guard", "press", every="7 days", statutory=True, minutes=5)

DEFERRED = '2026-03-10 10:00 defer M-12/grease for 2026-03-08 to 2026-03-20 risk "dry slide" by lea because "no grease"'


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("monday")
    with book_of(folder, "", tasks=[GREASE, INSPECT, CHECK, GUARD]) as book:
        numbers: dict[str, int] = {}
        for line in lines_of(BOOK):
            if line[:10] <= "2026-03-15":
                written = number_of(write(book, line.format(**numbers)))
                if " fault " in line:
                    numbers["second" if numbers else "first"] = written
        write(book, DEFERRED)
    return folder / "plant.book"


@pytest.fixture(scope="module")
def page(plant: Path) -> ManagerPage:
    with Book.open(plant) as book:
        return book.manager_page(at(MONDAY))


def test_the_ten_stand_on_the_page_with_their_bases(page: ManagerPage) -> None:
    """Counted by hand from the lines above: what law asks for of three presses is late, a fault is open and stopped."""
    assert (page.week, page.weeks[-1], len(page.weeks)) == ("2026-W11", "2026-W11", 8)
    assert [row.number for row in manager_rows(page)] == list(range(1, 11))
    assert (page.statutory.lines, len(page.statutory.late)) == (3, 3)
    assert (page.faults.week, page.faults.open) == (0, 1)
    assert page.trend[Topic.FAULTS] == (None,) * 5 + (0, 2, 0)  # the second one was on Saturday of the week before
    assert page.faults.between.faults == 2
    assert page.faults.between.strokes == 870_000
    assert [(one.line, one.by, one.risk) for one in page.changes.deferrals] == [("M-12/grease", "Lea", "dry slide")]
    assert page.trend[Topic.CHANGES][-1] == 1
    assert (page.counts.oldest, page.counts.never) == ("P-07", ("P-03", "P-08"))
    assert page.gauges.number == 1
    said = [text(row.decide, ENGLISH) for row in manager_rows(page) if row.decide is not None]
    assert any(one.startswith("Who does what law or safety asks for, today: P-03/guard") for one in said)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_it_is_one_sheet_and_says_what_the_text_says(
    plant: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], paper: str
) -> None:
    shell = Terminal(plant, capsys)
    told = shell.types(MONDAY, "manager", "--by", "lea")
    assert (told.code, told.err) == (0, "")
    assert shell.types(MONDAY, "manager", "--by", "lea", "--pdf", tmp_path / "m.pdf", "--paper", paper).code == 0
    (sheet,) = PdfReader(BytesIO((tmp_path / "m.pdf").read_bytes())).pages
    drawn = " ".join(sheet.extract_text().split())
    for part in ("Late by law or for safety", "3 of 3 lines; it must be 0", "To decide", "Seal: ", "dry slide"):
        assert part in drawn
        assert part in " ".join(told.out.split())
    items = json.loads(shell.types(MONDAY, "manager", "--json").out)["items"]
    assert [item["number"] for item in items] == list(range(1, 11))
    for item in items:
        assert " ".join(item["figure"].split()) in drawn
        assert item["definition"].rstrip(".") in drawn


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_bad_week_is_one_sheet_too(page: ManagerPage, paper: str) -> None:
    """Five overdue lines with long names, every gauge out, forty deferrals: fewer lines behind each figure."""
    over = tuple(LineOver(f"P-{n:02d}/a-task-with-a-name", "t", "a far place", True, None, 9_000) for n in range(40))
    deferral = page.changes.deferrals[0]
    bad = replace(
        page,
        statutory=replace(page.statutory, late=over),
        stops=replace(page.stops, past=over),
        overdue=replace(page.overdue, oldest=over[:5]),
        changes=replace(page.changes, deferrals=(deferral,) * 40),
    )
    assert len(PdfReader(BytesIO(manager_pdf(bad, FRAME, ENGLISH, paper))).pages) == 1
    words = PdfReader(BytesIO(manager_pdf(bad, FRAME, ENGLISH, paper))).pages[0].extract_text()
    assert "P-39/a-task" in words.replace("\n", "")
    assert "[10] The press in use" in words


def test_before_a_whole_week_has_passed_it_says_from_when_there_is_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with book_of(tmp_path, "", begins="2026-03-04 00:00"):
        pass
    told = Terminal(tmp_path / "plant.book", capsys).types("2026-03-06 08:00", "manager")
    assert told.code == 1
    assert "it is made from Monday on" in told.err

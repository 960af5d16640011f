"""Sheets and cards that are printed: what they say, text and PDF alike, and their codes read back."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.commands import Terminal
from tests.papers.codes_read import codes_of
from tests.plants import book_of, number_of, write
from tests.stories.test_suspect_product import FAILED, MORE, MORNING, MOVED
from upkeep.papers.cards.badge_card import SIZE, badge_pdf
from upkeep.papers.cards.labels import ROLL, label_cells, labels_pdf, labels_text
from upkeep.plant.model import Item, Kind
from upkeep.scan_codes import Scannable, read_code
from upkeep.wording.sentences import ENGLISH

NOW = "2026-03-02 15:00"
PAPERS = {
    "set-up DS-031": (
        "SET-UP SHEET",
        "Settings of last time",
        "Guards closed and first piece good",
        "Released by: name",
    ),
    "life-tag DS-031": ("LIFE TAG", "since new (in this book)", "Received back on", "must not run"),
    "station-card P-07": ("STATION CARD P-07", "In every shift, in this order", "procedure decide"),
    "hold-list {failed}": ("HOLD LIST", "By disposition", "Told (customer", "All of it has its disposition: name"),
    "restart": ("RESTART LIST", "Count to read: ____________ (last", "May run: name", "No press runs before"),
    "handover": ("Given, told face to face: name", "Accepted, seen together: name"),
    "wall": ("WALL BOARD",),
}


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, int]:
    folder = tmp_path_factory.mktemp("papers")
    with book_of(folder, MORNING + MOVED, more=MORE) as book:
        return folder, number_of(write(book, FAILED))


@pytest.mark.parametrize("paper", PAPERS)
def test_a_paper_says_the_same_as_text_and_as_pdf(
    plant: tuple[Path, int], tmp_path: Path, capsys: pytest.CaptureFixture[str], paper: str
) -> None:
    """Every word, in order; both with the head of papers; codes are read back from the PDF."""
    shell = Terminal(plant[0] / "plant.book", capsys)
    words = ["paper", *paper.format(failed=plant[1]).split(), "--by", "ana"]
    told = shell.types(NOW, *words)
    assert (told.code, told.err) == (0, "")
    text = " ".join(told.out.split())
    for part in (*PAPERS[paper], "Printed 2026-03-02 15:00 by", "Seal: ", "Names are given, not proven."):
        assert part in text
    assert all(len(line) <= 80 for line in told.out.splitlines())
    assert shell.types(NOW, *words, "--pdf", tmp_path / "paper.pdf", "--paper", "Letter").code == 0
    document = (tmp_path / "paper.pdf").read_bytes()
    drawn = "".join(page.extract_text() for page in PdfReader(BytesIO(document)).pages)
    for word in set(text.replace("=", "").split()):
        assert word in "".join(drawn.split()), word
    read = [read_code(code) for code in codes_of(document)[0]]
    kinds = [code.kind for code in read if code is not None]
    about_item = paper.split()[0] in ("set-up", "life-tag", "station-card")
    assert sorted(kinds) == ([Scannable.ITEM] if about_item else []) + [Scannable.SEAL]


def test_a_paper_about_nothing_is_refused(plant: tuple[Path, int], capsys: pytest.CaptureFixture[str]) -> None:
    """With what to do; an item that is none, with near misses."""
    shell = Terminal(plant[0] / "plant.book", capsys)
    assert (shell.types(NOW, "paper", "life-tag")).code == 2
    missed = shell.types(NOW, "paper", "life-tag", "DS-O31")
    assert missed.code == 1
    assert "DS-031" in missed.err


ITEMS = [
    Item("P-07", Kind.PRESS, "Bench press, 20 kN"),
    Item("DS-031", Kind.DIE_SET, "Tab 6.3 with a title that is rather long", owner="Cable works North"),
    Item("A" * 32, Kind.GAUGE, "Micrometer"),
]


@pytest.mark.parametrize("roll", [True, False])
def test_the_code_of_every_label_is_read_back(roll: bool) -> None:
    """On a roll one a page, on sheets 24 a page; a gauge is scanned as one."""
    labels = label_cells(ITEMS * 9, ENGLISH)
    document = labels_pdf(labels, roll=roll)
    pages = PdfReader(BytesIO(document)).pages
    assert len(pages) == (27 if roll else 2)
    read = [code for page in codes_of(document) for code in page]
    assert sorted(read) == sorted(label.code for label in labels)
    assert [code.kind for code in map(read_code, read[:3]) if code] != []
    if roll:
        assert (float(pages[0].mediabox.width), float(pages[0].mediabox.height)) == pytest.approx(ROLL, abs=0.01)
    drawn = "".join("".join(page.extract_text().split()) for page in pages)
    for label in labels:
        assert "".join("".join(label.lines).split()) in drawn
        assert label.code in labels_text(labels)


def test_a_badge_has_its_number_as_a_code_and_nowhere_in_letters() -> None:
    """The size of a card; who it belongs to in words."""
    document = badge_pdf("Crimp shop South", "Ana Öström", "ana", "K3XD0M9T4C7RW2HQ", ENGLISH)
    (page,) = PdfReader(BytesIO(document)).pages
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(SIZE, abs=0.01)
    words = " ".join(page.extract_text().split())
    assert "Ana Öström" in words
    assert "K3XD" not in words
    ((code,),) = codes_of(document)
    found = read_code(code)
    assert found is not None
    assert (found.kind, found.text) == (Scannable.BADGE, "K3XD0M9T4C7RW2HQ")

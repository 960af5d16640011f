"""Every paper with names on it says how far they can be relied on."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.commands import Terminal
from tests.plants import book_of, number_of, write
from tests.stories.test_suspect_product import FAILED, MORE, MORNING, MOVED
from upkeep.plant.values.facts import SignedWith
from upkeep.wording.naming import names_said
from upkeep.wording.sentences import ENGLISH, text

GIVEN = "Names are given, not proven."
NOW = "2026-03-02 15:00"
PAGES = ["history", "week", "figures", "rights", "suspect {failed}", "faults {fault}", "gauge G-1", "first-off DS-031"]
NUMBERS: dict[str, int] = {}
"""Of the entries that pages are asked for by number."""


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Terminal:
    """A failed check and a fault, in a plant that takes names as they are given."""
    with book_of(tmp_path, MORNING + MOVED, more=MORE) as book:
        NUMBERS["failed"] = number_of(write(book, FAILED))
        NUMBERS["fault"] = number_of(write(book, '2026-03-02 14:30 fault M-12 "burr" by ben'))
    return Terminal(tmp_path / "plant.book", capsys)


@pytest.mark.parametrize("page", PAGES)
def test_a_page_says_that_names_are_not_proven(shell: Terminal, page: str) -> None:
    """Once, whatever it is about."""
    told = shell.types(NOW, *page.format(**NUMBERS).split())
    assert (told.code, " ".join(told.out.split()).count(GIVEN)) == (0, 1)


@pytest.mark.parametrize("page", ["week", "suspect {failed}"])
def test_a_pdf_says_so_too(shell: Terminal, tmp_path: Path, page: str) -> None:
    """The very sentence of the page of text."""
    told = shell.types(NOW, *page.format(**NUMBERS).split(), "--pdf", tmp_path / "page.pdf")
    assert told.code == 0
    drawn = " ".join(word for page in PdfReader(tmp_path / "page.pdf").pages for word in page.extract_text().split())
    assert GIVEN in drawn


def test_a_plant_that_goes_by_codes_says_how_names_are_proven() -> None:
    """And no longer that they are not."""
    said = {way: text(names_said(way), ENGLISH) for way in SignedWith}
    assert said[SignedWith.NAMES_ONLY] == GIVEN
    assert "proven by code" in said[SignedWith.CODES]

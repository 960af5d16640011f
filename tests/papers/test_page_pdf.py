"""A page of text as a PDF: everything is on it, in order, with page x of y."""

from __future__ import annotations

from io import BytesIO

import pytest
from pypdf import PdfReader

from tests.papers.weeks import FRAME
from upkeep.errors import Unreadable
from upkeep.papers.frame.page_pdf import page_pdf
from upkeep.wording.sentences import ENGLISH

TEXT = "HOLD LIST #12\n\nFound by Ana\n  1 P-07\n     2,650 strokes\n"


def words(document: bytes) -> list[str]:
    """What each sheet says."""
    return [page.extract_text() for page in PdfReader(BytesIO(document)).pages]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_all_lines_stand_on_the_sheet_with_what_was_printed_when(paper: str) -> None:
    """Title, lines, number of the sheet, foot."""
    (sheet,) = words(page_pdf(TEXT, FRAME, ENGLISH, paper))
    head = ("Printed 2026-03-02 15:00 by Lea", "Never read: P-09", "page 1 of 1")
    for part in ("HOLD LIST #12", "Found by Ana", "1 P-07", "2,650 strokes", *head):
        assert part in sheet


def test_a_long_text_goes_on_overleaf_and_nothing_is_lost() -> None:
    """Every line once, in order; a line too wide is wrapped."""
    text = "\n".join(["TITLE", *(f"line {number} " + "word " * 30 for number in range(200))])
    sheets = words(page_pdf(text, FRAME, ENGLISH))
    assert len(sheets) > 3
    assert f"page 2 of {len(sheets)}" in sheets[1]
    found = [int(piece.split()[0]) for piece in "\n".join(sheets).split("line ")[1:]]
    assert found == list(range(200))


def test_a_long_title_leaves_the_number_of_the_page_its_room() -> None:
    """It goes on in rows of its own; where both stand is read from the sheet."""
    title = "HANDOVER: jobs, locks, what the last shift left " * 3
    (page,) = PdfReader(BytesIO(page_pdf(f"{title.strip()}\n\nrow", FRAME, ENGLISH))).pages
    found: list[tuple[float, float, str]] = []
    page.extract_text(visitor_text=lambda text, _, at, *more: found.append((at[5], at[4], text.strip())))
    titles = [(down, text) for down, _, text in found if text and text in title]
    assert len(titles) >= 3
    assert " ".join(text for _, text in titles) == title.strip()
    (number,) = (left for _, left, text in found if text == "page 1 of 1")
    assert number > 500


def test_the_same_text_gives_the_same_bytes_and_another_paper_is_refused() -> None:
    """So that a printed page can be compared."""
    assert page_pdf(TEXT, FRAME, ENGLISH) == page_pdf(TEXT, FRAME, ENGLISH)
    with pytest.raises(Unreadable, match="is not a paper size"):
        page_pdf(TEXT, FRAME, ENGLISH, "A3")

"""What every paper says of itself, as text, as PDF and as a code."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from tests.papers.codes_read import codes_of
from tests.papers.weeks import FRAME, PRINTED, WEEKS
from upkeep.entries.origin import Proof
from upkeep.papers.frame.code_bars import code_bars
from upkeep.papers.frame.frame_rows import frame_cells
from upkeep.papers.frame.framed_text import LINES, framed_text
from upkeep.papers.frame.page_pdf import page_pdf
from upkeep.papers.week.week_pdf import week_pdf
from upkeep.scan_codes import read_code, seal_code, seal_text
from upkeep.views.printed import Printed
from upkeep.wording.sentences import ENGLISH

PAGE = "HOLD LIST #12\n\nFound by Ana\n" + "  1 P-07\n" * 100
SEAL = str(seal_code(PRINTED.seal.entry, PRINTED.seal.link))


def lines(printed: Printed) -> str:
    return " ".join(frame_cells(printed, ENGLISH).lines)


def test_a_paper_says_whose_it_is_who_printed_it_and_what_it_counts_by() -> None:
    """Plant, moment, name and how that was proven, revision, the oldest count, presses never read, the seal."""
    assert lines(PRINTED) == (
        "Plant: Crimp shop South. Printed 2026-03-02 15:00 by Lea (name proven by code), revision 18,422. Counts as of "
        "(oldest): P-07, 2026-02-27 21:50. Never read: P-09. Seal: "
    ) + seal_text(18422, PRINTED.seal.link)
    assert lines(replace(PRINTED, by="the service", proof=None, never_read=())).startswith(
        "Plant: Crimp shop South. Printed 2026-03-02 15:00 by the service, revision 18,422. Counts"
    )
    assert "no press has been read" in lines(replace(PRINTED, counts_as_of=None, oldest_press=None))


@pytest.mark.parametrize("proof", Proof)
def test_each_proof_of_a_name_is_said(proof: Proof) -> None:
    """In words, behind the name."""
    assert "by Lea (" in lines(replace(PRINTED, proof=proof))


def test_every_sheet_has_the_head_as_text_and_as_pdf() -> None:
    """Line by line, with its number among how many; the code of the seal is read back from each sheet."""
    text, document = framed_text(PAGE, FRAME, ENGLISH), page_pdf(PAGE, FRAME, ENGLISH)
    sheets = [page.extract_text() for page in PdfReader(BytesIO(document)).pages]
    for pages in (text.split("\f"), sheets):
        assert len(pages) > 1
        for number, page in enumerate(pages, 1):
            words = " ".join(page.split())
            assert f"page {number} of {len(pages)}" in words
            assert all(line in words for line in FRAME.lines)
        assert sum(page.count("1 P-07") for page in pages) == 100
    assert all(len(page.splitlines()) <= LINES for page in text.split("\f"))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_code_of_the_seal_is_read_back_from_every_sheet(paper: str) -> None:
    """In black and white with noise, and it is the seal that stands beside it in letters."""
    for document in (page_pdf(PAGE, FRAME, ENGLISH, paper), week_pdf(WEEKS["week_two_pages"], ENGLISH, paper)):
        for codes in codes_of(document):
            assert SEAL in codes
    assert read_code(SEAL) == seal_code(PRINTED.seal.entry, PRINTED.seal.link)


@given(st.text("ABCXYZ0189*.-_az", min_size=1, max_size=60))
def test_bars_fill_a_square_and_do_not_overlap(words: str) -> None:
    """A side has 21 modules and four more for each version (ISO/IEC 18004:2015, 5.1; from memory)."""
    bars, count = code_bars(words)
    dark = [(row, column + place) for row, column, length in bars for place in range(length)]
    assert (count - 21) % 4 == 0
    assert len(dark) == len(set(dark))
    assert all(0 <= row < count and 0 <= column < count for row, column in dark)

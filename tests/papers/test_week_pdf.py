"""The weekly due list as a PDF."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from tests.papers.weeks import MIXED, WEEKS, row, week
from upkeep.errors import Unreadable
from upkeep.papers.frame.pen import PAPERS
from upkeep.papers.letters import faces
from upkeep.papers.week.week_pdf import week_pdf
from upkeep.papers.week.week_rows import week_cells
from upkeep.papers.week.week_text import week_text
from upkeep.wording.sentences import ENGLISH

COLOUR = re.compile(rb"(?<![\w/])(rg|RG|k|K|cs|CS|sc|SC|scn|SCN|sh|gs|Do)(?!\w)")


def read(document: bytes) -> PdfReader:
    return PdfReader(BytesIO(document))


def squeezed(text: str) -> str:
    """The text without spaces and breaks: wrapping moves those."""
    return "".join(text.split())


def text_of(document: bytes) -> str:
    return squeezed(" ".join(page.extract_text() for page in read(document).pages))


def test_text_and_pdf_say_the_same() -> None:
    """Each cell, the heading and the legend stand in both."""
    listed = week(MIXED)
    cells = week_cells(listed, ENGLISH)
    parts = [
        cells.title,
        cells.days,
        *cells.heading,
        cells.closing,
        *(part for one in cells.rows for part in one.hands),
    ]
    parts += [text for one in cells.rows for text in (one.number, one.due[0], one.due[-1])]
    pdf = text_of(week_pdf(listed, ENGLISH))
    text = squeezed(week_text(listed, ENGLISH))
    for part in parts:
        assert squeezed(part) in pdf
    for one in cells.rows:
        for cell in one.cells:
            assert squeezed("".join(cell)) in pdf
            assert all(word in text for words in cell for word in words.split())
    assert squeezed(cells.legend) in pdf
    assert squeezed(cells.legend) in text


def test_letters_of_europe_can_be_read_back() -> None:
    """Names and texts keep their letters, Latin with every mark, Cyrillic and Greek."""
    spoken = "Zażółć gęślą jaźń, příliš žluťoučký kůň, árvíztűrő tükörfúrógép, știință, Öl prüfen, Đorđe"
    further = "Змазати прес, Смажи пресата, Ђорђе, Καθαρίστε την πρέσα, 0.5 µm ≤ 2 Ω"
    listed = week([row(1, title=spoken), row(2, title=further)], plant="Zakład Południe", printed_by="Żaneta Öström")
    pdf = text_of(week_pdf(listed, ENGLISH))
    assert squeezed(spoken) in pdf
    assert squeezed(further) in pdf
    assert "ZakładPołudnie" in pdf
    assert "ŻanetaÖström" in pdf
    assert "[U+" not in pdf


def test_a_letter_that_cannot_be_printed_is_named() -> None:
    """By its number, with a note; the text pages have the letter itself."""
    listed = week([row(1, title="清掃 נקה")])
    pdf = text_of(week_pdf(listed, ENGLISH))
    assert "[U+6E05][U+6383]" in pdf
    assert "standsforacharacterthatcannotbeprintedhere" in pdf
    assert "清掃 נקה" in week_text(listed, ENGLISH)


def test_letters_that_run_to_the_left_or_join_are_named_though_the_face_has_them() -> None:
    """Set one after the other from the left they would be another text."""
    assert [faces()[0].shown(letter) for letter in "נقआ"] == ["[U+05E0]", "[U+0642]", "[U+0906]"]


def test_markup_in_a_text_is_shown_as_written() -> None:
    """Text from people is never markup."""
    assert "<b>Clean</b>&oil" in text_of(week_pdf(WEEKS["week_mixed"], ENGLISH))


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_have_the_size_of_the_paper(paper: str) -> None:
    """Upright, in points."""
    for page in read(week_pdf(week(MIXED), ENGLISH, paper)).pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(PAPERS[paper])


def test_another_paper_is_refused() -> None:
    """With the papers there are."""
    with pytest.raises(Unreadable, match="A4 or Letter"):
        week_pdf(week(MIXED), ENGLISH, "A5")


@pytest.mark.parametrize("paper", PAPERS)
def test_at_least_25_short_rows_stand_on_a_page(paper: str) -> None:
    """And all 200 on as few pages as that takes, each page with its number."""
    listed = week(row(n) for n in range(1, 201))
    cells = week_cells(listed, ENGLISH)
    pages = [page.extract_text() for page in read(week_pdf(listed, ENGLISH, paper)).pages]
    assert pages[0].count("Clean the module") >= 25
    assert sum(page.count("Clean the module") for page in pages) == 200
    for number, page in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in page
        assert cells.closing in page
        assert all(box in page for box in cells.boxes)


def test_only_black_is_used() -> None:
    """No operator that sets a colour, a shading or a picture; black is what a page begins with."""
    for page in read(week_pdf(week(MIXED), ENGLISH)).pages:
        contents = page.get_contents()
        assert contents is not None
        drawn = re.sub(rb"\((?:\\.|[^\\)])*\)", b"()", contents.get_data())
        assert b"Tj" in drawn
        assert COLOUR.findall(drawn) == []


def test_text_is_ten_points_and_row_numbers_are_larger() -> None:
    """As set by the font operators of a page."""
    contents = read(week_pdf(week(MIXED), ENGLISH)).pages[0].get_contents()
    assert contents is not None
    sizes = re.findall(rb"/F\S+ (\S+) Tf", contents.get_data())
    assert sizes.count(b"10") > sizes.count(b"8")
    assert sizes.count(b"15") == 1 + len(MIXED)


def test_the_same_list_gives_the_same_bytes() -> None:
    """So that a reprint can be told from a change."""
    assert week_pdf(week(MIXED), ENGLISH) == week_pdf(week(MIXED), ENGLISH)
    assert week_pdf(week(MIXED), ENGLISH) != week_pdf(week(MIXED, revision=18423), ENGLISH)


def test_a_text_longer_than_a_page_goes_on_overleaf() -> None:
    """Nothing of it is lost."""
    words = [f"w{number}" for number in range(1500)]
    document = week_pdf(week([row(1, title=" ".join(words))]), ENGLISH)
    assert len(read(document).pages) > 1
    found = re.findall(r"\bw\d+\b", " ".join(page.extract_text() for page in read(document).pages))
    assert found == words


def test_an_empty_week_says_so() -> None:
    """On one page with its header."""
    document = week_pdf(WEEKS["week_empty"], ENGLISH)
    assert len(read(document).pages) == 1
    assert squeezed("Nothing is due this week.") in text_of(document)


def test_the_faces_are_embedded_with_their_notice() -> None:
    """So that a page prints the same everywhere, and as their licence asks."""
    reader = read(week_pdf(week(MIXED), ENGLISH))
    fonts = reader.pages[0]["/Resources"]["/Font"]  # type: ignore[index]
    names = {str(font.get_object()["/BaseFont"]).partition("+")[2] for font in fonts.values()}
    assert names == {"FiraGO-Regular", "FiraGO-Bold"}
    for font in fonts.values():
        data = font.get_object()["/FontDescriptor"]["/FontFile2"].get_data()
        assert "SIL Open Font License".encode("utf_16_be") in data

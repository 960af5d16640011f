"""The weekly due list as a PDF."""

from __future__ import annotations

import re
from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from tests.papers.codes_read import codes_of
from tests.papers.drawings import of_pdf
from tests.papers.weeks import MIXED, WEEKS, row, week
from upkeep.errors import Unreadable
from upkeep.papers.frame.pen import PAPERS
from upkeep.papers.letters import faces
from upkeep.papers.week.week_pdf import week_pdf
from upkeep.papers.week.week_rows import week_cells
from upkeep.papers.week.week_text import week_text
from upkeep.scan_codes import Scannable, letters_of, read_code
from upkeep.views.week import Stands, WeekRow
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
    parts = [cells.title, cells.days, *cells.heading, *cells.notes, cells.signature, cells.legend, cells.closing]
    parts += [cells.apart_title, cells.columns]
    rows = (*cells.rows, *cells.apart)
    pdf = text_of(week_pdf(listed, ENGLISH))
    text = squeezed(week_text(listed, ENGLISH))
    assert len(rows) == len(listed.rows)
    for part in parts:
        assert squeezed(part) in pdf
        assert squeezed(part) in text
    for one in rows:
        words = squeezed("".join(part for part, _ in one.parts))
        assert words in pdf
        assert words in text


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
    assert set(sizes) == {b"10", b"13", b"15"}
    assert sizes.count(b"13") == sum(one.stands is Stands.WALK for one in MIXED)


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


LONG = ("Take the module apart and clean it thoroughly", "Rework or replace what the inspection found worn")
SHORT = (
    "Drain the air unit and look for leaks", "Ten strokes counted by eye against the counter",
    "Lubricate ram guides, eccentric and bearings", "Check the shut height with its gauge",
    "Belt, motor, bearings and fixing bolts", "Oil the module's slides", "Check cable, plug, lamp and foot switch",
)  # fmt: skip


def usual(number: int) -> WeekRow:
    """One row in seven by strokes and long, the others short, as the demo plant's week has them."""
    if number % 7 == 0:
        return row(number, title=LONG[number % 2], strokes=71_258, due_strokes=90_000, kit=True)
    return row(number, item="P-07", title=SHORT[number % 7], energy="lock")


@pytest.mark.parametrize("paper", PAPERS)
def test_25_rows_with_the_texts_of_a_plant_stand_on_a_page(paper: str) -> None:
    """With a box to tick, 45 mm for a remark, and a code that is read back on every row of every page."""
    listed = week([usual(number) for number in range(1, 61)])
    document = week_pdf(listed, ENGLISH, paper)
    codes = codes_of(document)
    assert len([code for code in codes[0] if code.startswith("*R")]) >= 25
    scanned = [read_code(code) for page in codes for code in page]
    assert {code.text for code in scanned if code and code.kind is Scannable.ROW} == {
        f"18422.{row.row}.{letters_of([row.line])}" for row in listed.rows
    }
    (remark,) = [shape[1] for shape in of_pdf(document)[0]["drawn"] if shape[0] == "text" and shape[-1] == "remark"]
    (right,) = {shape[3] for shape in of_pdf(document)[0]["drawn"] if shape[0] == "rule" and shape[-1] == "1.2 pt"}
    assert right - remark >= 44.5


def test_what_cannot_be_done_now_stands_in_a_box_at_the_end() -> None:
    """Held rows keep their numbers and have no box to write in; who put them off and the permit stand there."""
    cells = week_cells(WEEKS["week_mixed"], ENGLISH)
    assert [one.number for one in cells.apart] == ["4"]
    assert cells.apart[0].facts.endswith(
        "deferred to Fri 2026-03-06 by Lea, 2 times; permit #18400: 2,500 strokes left"
    )
    read_back = [code for page in codes_of(week_pdf(WEEKS["week_mixed"], ENGLISH)) for code in page]
    assert cells.apart[0].code not in read_back


def test_hours_are_added_up_by_day_and_by_area() -> None:
    """What is late or due now counts on the first day of the list; what cannot be done, apart."""
    late = row(2, due_day=date(2026, 2, 20), area="Hall A")
    held = row(3, minutes=90.0, stands=Stands.HELD, area="Hall B")
    notes = week_cells(week([row(1, area="Hall A"), late, held, row(4, due_day=date(2026, 3, 5))]), ENGLISH).notes
    assert notes[0] == "Hours by day: Mon 2: 0 h 24 min; Thu 5: 0 h 12 min; held, waiting or far: 1 h 30 min."
    assert notes[1] == "Hours by area: -: 0 h 12 min; Hall A: 0 h 24 min; Hall B: 1 h 30 min."

"""Printed pages and plots are drawn where they were accepted, and nothing runs off its paper.

The accepted drawings are in ``tests/golden/``; ``python -m tests.papers.drawings`` writes them anew.
"""

from __future__ import annotations

import pytest

from tests.papers.drawings import DRAWINGS, LONG, PAGE, Shape, Sheet, kept, kept_text, of_pdf
from tests.papers.weeks import FRAME, WEEKS
from upkeep.papers.frame.page_pdf import page_pdf
from upkeep.papers.frame.pen import PAPERS
from upkeep.papers.letters import faces
from upkeep.papers.week.week_pdf import week_pdf
from upkeep.wording.sentences import ENGLISH

_NEAR = 0.11
"""Millimetres two drawings may be apart: what lies between two tenths may be rounded to either."""


@pytest.mark.parametrize("name", DRAWINGS)
def test_it_is_drawn_where_it_was_accepted(name: str) -> None:
    """Every text and every rule, in order, to a tenth of a millimetre."""
    now, before = DRAWINGS[name](), kept(name)
    assert [(sheet["wide"], sheet["high"]) for sheet in now] == [(sheet["wide"], sheet["high"]) for sheet in before]
    for sheet, accepted in zip(now, before, strict=True):
        for shape, once in zip(sheet["drawn"], accepted["drawn"], strict=True):
            assert _same(shape, once), f"{name}: {shape} was {once}"


def _same(shape: Shape, once: Shape) -> bool:
    if len(shape) != len(once):
        return False
    pairs = zip(shape, once, strict=True)
    return all(a == pytest.approx(b, abs=_NEAR) if isinstance(a, float) else a == b for a, b in pairs)


def test_a_rule_that_moved_or_a_dash_that_went_is_another_drawing() -> None:
    """Half a millimetre is seen, and any other thickness."""
    shape = ("rule", 12.7, 19.8, 197.3, 19.8, "1.2 pt")
    assert _same(shape, ("rule", 12.7, 19.9, 197.3, 19.9, "1.2 pt"))
    assert not _same(shape, ("rule", 12.7, 20.3, 197.3, 20.3, "1.2 pt"))
    assert not _same((*shape[:5], "1.2 pt"), (*shape[:5], "1.1 pt"))
    assert not _same(("path", 1.0, "4 2"), ("path", 1.0, ""))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", [*WEEKS, "page", "long page"])
def test_nothing_runs_off_the_paper(name: str, paper: str) -> None:
    """Every rule lies on its sheet, upright or level; every text begins and ends on it."""
    pages = {"page": PAGE, "long page": LONG}
    document = week_pdf(WEEKS[name], ENGLISH, paper) if name in WEEKS else page_pdf(pages[name], FRAME, ENGLISH, paper)
    for sheet in of_pdf(document):
        for shape in sheet["drawn"]:
            assert all(_lies_on(sheet, *place) for place in _ends(shape)), shape
            if shape[0] == "rule":
                _, left, top, right, bottom, _ = shape
                assert left == right or top == bottom, shape


def _ends(shape: Shape) -> list[tuple[float, float]]:
    if shape[0] == "rule":
        _, left, top, right, bottom, _ = shape
        return [(left, top), (right, bottom)]
    if shape[0] == "filled":
        _, left, top, right, bottom = shape
        return [(left, top), (right, bottom)]
    _, left, down, size, face, words = shape
    wide = faces()[face == "bold"].width(words, size) * 25.4 / 72
    return [(left, down), (left + wide, down - size * 25.4 / 72)]


def _lies_on(sheet: Sheet, along: float, down: float) -> bool:
    return bool(0 < along < sheet["wide"] and 0 < down < sheet["high"])


def test_no_rule_strikes_through_a_text() -> None:
    """Level rules lie below the letters that stand above them and above those that stand below."""
    for document in (page_pdf(PAGE, FRAME, ENGLISH), week_pdf(WEEKS["week_mixed"], ENGLISH)):
        for sheet in of_pdf(document):
            texts = [shape for shape in sheet["drawn"] if shape[0] == "text"]
            levels = [shape for shape in sheet["drawn"] if shape[0] == "rule" and shape[2] == shape[4]]
            for _, left, down, size, _, words in texts:
                beside = [level for level in levels if level[1] <= left <= level[3]]
                through = [level for level in beside if down - 0.5 * size * 25.4 / 72 < level[2] < down]
                assert not through, (words, through)


def test_a_kept_drawing_reads_back() -> None:
    """As the file holds it."""
    name = "drawn_page"
    sheets = kept(name)
    assert kept_text(sheets).splitlines()[1] == '["text", 9.9, 14.1, 15.0, "bold", "HOLD LIST #12"],'

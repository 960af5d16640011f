"""A weekly list of 2,000 rows as PDF, against the bare library that typesets the same table with its own means."""

from __future__ import annotations

import time
from collections.abc import Iterator
from io import BytesIO

from tests.benchmarks.measuring import Measured, best
from tests.papers.weeks import row, week
from upkeep.papers.frame.code_bars import code_bars
from upkeep.papers.letters import faces
from upkeep.papers.week.week_pdf import week_pdf
from upkeep.papers.week.week_rows import WeekCells, week_cells
from upkeep.wording.sentences import ENGLISH

ROWS = 2000
WIDTHS = (36.0, 290.0, 26.0, 42.0, 30.0, 36.0, 105.0)


def measured() -> Iterator[Measured]:
    """The list as it is printed: words, wrapping, codes, pages."""
    listed = week(row(number, strokes=71_258, due_strokes=90_000) for number in range(1, ROWS + 1))
    cells = week_cells(listed, ENGLISH)

    def ours() -> float:
        begun = time.perf_counter()
        week_pdf(listed, ENGLISH)
        return time.perf_counter() - begun

    def bare() -> float:
        begun = time.perf_counter()
        _bare(cells)
        return time.perf_counter() - begun

    yield Measured("a weekly list of 2,000 rows as PDF", *best(ours, bare, 2), "reportlab's own table", 1.5)


def _bare(cells: WeekCells) -> bytes:
    """The same rows in a table of paragraphs, each with the same code drawn bar by bar."""
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import Flowable, Paragraph, SimpleDocTemplate, Table

    class Code(Flowable):  # type: ignore[misc]
        def __init__(self, words: str) -> None:
            super().__init__()
            self.width = self.height = 25
            self.bars, count = code_bars(words)
            self.each = 25 / (count + 8)

        def draw(self) -> None:
            path = self.canv.beginPath()
            for down, column, length in self.bars:
                path.rect(column * self.each, 25 - down * self.each, length * self.each, self.each)
            self.canv.drawPath(path, stroke=0, fill=1)

    style = ParagraphStyle("row", fontName=faces()[0].name, fontSize=10, leading=10.6)
    rows = [
        [one.number, Paragraph(" ".join(part for part, _ in one.parts), style), Code(one.code), "", "", "", ""]
        for one in cells.rows
    ]
    out = BytesIO()
    SimpleDocTemplate(out, leftMargin=15, rightMargin=15).build([Table(rows, WIDTHS)])
    return out.getvalue()

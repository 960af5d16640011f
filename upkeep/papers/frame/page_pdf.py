"""A page of text as a PDF to print: the head of papers, its first line as the title; columns stay columns."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from upkeep.papers.frame.frame_rows import FrameCells
from upkeep.papers.frame.head import MARGIN, Head
from upkeep.papers.frame.pages import page_text
from upkeep.papers.frame.pen import Pen
from upkeep.wording.sentences import Reader
from upkeep.wording.text import wrapped

_SIZE, _LEADING = 10.0, 13.5
_COLUMN = 6.0
"""Points for each column of the text at which something begins: wider than letters are on average."""

_PARTS = re.compile(r"(?:\S| (?! ))+")
"""What stands together in a line: words one blank apart."""

Part = tuple[float, str]
"""Some words of a line, and how far along they begin."""


def page_pdf(text: str, frame: FrameCells, reader: Reader, paper: str = "A4") -> bytes:
    """The text on as many sheets of ``paper`` ("A4" or "Letter") as it takes; the same text gives the same bytes.

    Raises :class:`Unreadable` for another paper.
    """
    title, *lines = text.rstrip("\n").split("\n")
    pen = Pen(paper, title)
    head = Head(pen, title, frame)
    rows = [row for line in lines for row in _wrapped(pen, line)]
    each = int((pen.height - MARGIN - head.bottom) / _LEADING)
    pages = [rows[start : start + each] for start in range(0, len(rows), each)] or [[]]
    for number, page in enumerate(pages, 1):
        head.draw(page_text(number, len(pages), reader))
        _draw(pen, page, head.bottom)
        pen.end_page()
    return pen.document()


def _wrapped(pen: Pen, line: str) -> Iterator[list[Part]]:
    """The line as rows of parts, each part where its column begins; the last part goes on below its own beginning."""
    parts: list[Part] = []
    end = 0.0
    for found in _PARTS.finditer(pen.shown(line)):
        along = max(_COLUMN * found.start(), end)
        parts.append((along, found[0].strip()))
        end = along + pen.measure(_SIZE)(found[0]) + _COLUMN
    if not parts:
        yield []
        return
    *before, (along, last) = parts
    first, *rest = wrapped(last, pen.width - 2 * MARGIN - along, pen.measure(_SIZE))
    yield [*before, (along, first)]
    yield from ([(along, piece)] for piece in rest)


def _draw(pen: Pen, rows: Sequence[Sequence[Part]], top: float) -> None:
    for place, row in enumerate(rows, 1):
        for along, text in row:
            pen.text(MARGIN + along, top + place * _LEADING, text, _SIZE)

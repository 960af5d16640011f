"""A page of text as a PDF to print: the head of papers, its first line as the title; what is indented stays so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from upkeep.papers.frame.frame_rows import FrameCells
from upkeep.papers.frame.head import MARGIN, Head
from upkeep.papers.frame.pages import page_text
from upkeep.papers.frame.pen import Pen
from upkeep.wording.sentences import Reader
from upkeep.wording.text import wrapped

_SIZE, _LEADING = 10.0, 13.5
_INDENT = 4.2
"""Points for each blank a line begins with."""


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


def _wrapped(pen: Pen, line: str) -> Iterator[tuple[float, str]]:
    """The line in pieces that fit, each with how far it is indented."""
    indent = _INDENT * (len(line) - len(line.lstrip(" ")))
    pieces = wrapped(pen.shown(line.strip()), pen.width - 2 * MARGIN - indent, pen.measure(_SIZE))
    yield from ((indent, piece) for piece in (pieces or [""]))


def _draw(pen: Pen, rows: Sequence[tuple[float, str]], top: float) -> None:
    for place, (indent, text) in enumerate(rows, 1):
        pen.text(MARGIN + indent, top + place * _LEADING, text, _SIZE)

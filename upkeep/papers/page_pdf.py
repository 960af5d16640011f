"""A page of text as a PDF to print: its first line as the title, what is indented stays indented, page x of y."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.papers.pages import page_text
from upkeep.papers.pen import Pen
from upkeep.wording.sentences import Reader
from upkeep.wording.text import wrapped

_MARGIN = 36.0
_SIZE, _LEADING = 10.0, 13.5
_TITLE = 15.0
_INDENT = 4.2
"""Points for each blank a line begins with."""


def page_pdf(text: str, printed: str, reader: Reader, paper: str = "A4") -> bytes:
    """The text on as many sheets of ``paper`` ("A4" or "Letter") as it takes; the same text gives the same bytes.

    ``printed`` says at the foot when and for whom it was printed.  Raises :class:`Unreadable` for another paper.
    """
    title, *lines = text.rstrip("\n").split("\n")
    pen = Pen(paper, title)
    rows = [row for line in lines for row in _wrapped(pen, line)]
    room = pen.height - 2 * _MARGIN - 2 * _TITLE - _LEADING
    each = int(room / _LEADING)
    pages = [rows[start : start + each] for start in range(0, len(rows), each)] or [[]]
    for number, page in enumerate(pages, 1):
        _draw(pen, pen.shown(title), page, page_text(number, len(pages), reader), pen.shown(printed))
        pen.end_page()
    return pen.document()


def _wrapped(pen: Pen, line: str) -> Iterator[tuple[float, str]]:
    """The line in pieces that fit, each with how far it is indented."""
    indent = _INDENT * (len(line) - len(line.lstrip(" ")))
    pieces = wrapped(pen.shown(line.strip()), pen.width - 2 * _MARGIN - indent, pen.measure(_SIZE))
    yield from ((indent, piece) for piece in (pieces or [""]))


def _draw(pen: Pen, title: str, rows: list[tuple[float, str]], page: str, printed: str) -> None:
    right, down = pen.width - _MARGIN, _MARGIN + _TITLE
    pen.text(_MARGIN, down, title, _TITLE, bold=True)
    pen.text_before(right, down, page, _SIZE, bold=True)
    pen.across(_MARGIN, right, down + 5, 1.2)
    down += _TITLE
    for indent, text in rows:
        down += _LEADING
        pen.text(_MARGIN + indent, down, text, _SIZE)
    pen.across(_MARGIN, right, pen.height - _MARGIN - _LEADING, 0.4)
    pen.text(_MARGIN, pen.height - _MARGIN, printed, _SIZE)

"""A pen for printed pages: black text and rules at places measured in points from the top left corner.

It writes a PDF through reportlab.  Only black is ever used, by the page's own default, so that a page needs no colour
operator and looks the same from every printer.  Text is drawn as it stands: nothing in it is understood as markup.
The same calls give the same bytes.
"""

from __future__ import annotations

from functools import partial
from io import BytesIO

from upkeep.errors import Unreadable
from upkeep.papers.frame.code_bars import QUIET, code_bars
from upkeep.papers.letters import Face, faces
from upkeep.said import Quoted, either, said
from upkeep.wording.text import Measure

MM = 72 / 25.4
"""Points in a millimetre."""

PAPERS = {"A4": (595.28, 841.89), "Letter": (612.0, 792.0)}
"""Width and height in points of the papers there are (ISO 216 and ANSI/ASME Y14.1)."""


def size_of(paper: str) -> tuple[float, float]:
    """Width and height of a paper in points; raises :class:`Unreadable` for one that is not in ``PAPERS``."""
    if paper not in PAPERS:
        raise Unreadable(said("{paper} is not a paper size; use {papers}.", paper=Quoted(paper), papers=either(PAPERS)))
    return PAPERS[paper]


class Pen:
    """Draws the pages of one document.  Raises :class:`Unreadable` for a paper that is not in ``PAPERS``."""

    def __init__(self, paper: str | tuple[float, float], title: str) -> None:
        """``paper``: one of ``PAPERS``, or the width and height of a label in points."""
        from reportlab.pdfgen.canvas import Canvas

        self.width, self.height = size_of(paper) if isinstance(paper, str) else paper
        self._regular, self._bold = faces()
        self._out = BytesIO()
        self._canvas = Canvas(
            self._out, (self.width, self.height), invariant=1, pageCompression=1, initialFontName=self._regular.name
        )
        self._canvas.setTitle(title)
        self._canvas.setCreator("Strokebook")

    def _face(self, bold: bool) -> Face:
        return self._bold if bold else self._regular

    def shown(self, text: str) -> str:
        """The text with what the face lacks written as its Unicode number; to be used before measuring."""
        return self._regular.shown(text)

    def measure(self, size: float, bold: bool = False) -> Measure:
        """How wide texts are at a size."""
        return partial(self._wide, size=size, bold=bold)

    def _wide(self, text: str, size: float, bold: bool) -> float:
        return self._face(bold).width(text, size)

    def text(self, left: float, down: float, text: str, size: float, bold: bool = False) -> None:
        """Writes a line of text from ``left`` on, its letters standing on ``down``."""
        line = self._canvas.beginText(left, self.height - down)
        line.setFont(self._face(bold).name, size)
        line.textOut(text)
        self._canvas.drawText(line)

    def text_before(self, right: float, down: float, text: str, size: float, bold: bool = False) -> None:
        """Writes a line of text that ends at ``right``."""
        self.text(right - self._wide(text, size, bold), down, text, size, bold)

    def across(self, left: float, right: float, down: float, thick: float) -> None:
        """Draws a level rule."""
        self._rule(left, down, right, down, thick)

    def upright(self, left: float, top: float, bottom: float, thick: float) -> None:
        """Draws an upright rule."""
        self._rule(left, top, left, bottom, thick)

    def _rule(self, left: float, top: float, right: float, bottom: float, thick: float) -> None:
        self._canvas.setLineWidth(thick)
        self._canvas.line(left, self.height - top, right, self.height - bottom)

    def box(self, left: float, top: float, wide: float, high: float, thick: float) -> None:
        """Draws an empty box, to be ticked or written in."""
        for down in (top, top + high):
            self.across(left, left + wide, down, thick)
        for along in (left, left + wide):
            self.upright(along, top, top + high, thick)

    def bar(self, left: float, top: float, wide: float, high: float) -> None:
        """Fills a bar, as of a chart."""
        self._canvas.rect(left, self.height - top - high, wide, high, stroke=0, fill=1)

    def code(self, left: float, top: float, side: float, words: str) -> None:
        """Draws the code of some words as a square, its empty edge included."""
        bars, count = code_bars(words)
        each = side / (count + 2 * QUIET)
        path = self._canvas.beginPath()
        for row, column, length in bars:
            down = top + (row + QUIET + 1) * each
            path.rect(left + (column + QUIET) * each, self.height - down, length * each, each)
        self._canvas.drawPath(path, stroke=0, fill=1)

    def end_page(self) -> None:
        """Closes the page; what is drawn next stands on a new one."""
        self._canvas.showPage()

    def document(self) -> bytes:
        """The whole document; the pen is put down."""
        self._canvas.save()
        return self._out.getvalue()

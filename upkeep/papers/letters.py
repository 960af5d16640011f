"""The face papers and plots are drawn in: FiraGO, regular and bold, as the package of faces brings it.

It has the letters of the languages written in Latin, Greek and Cyrillic, and the usual signs.  Writing that runs from
right to left or joins its letters needs more than a face, so those letters count as lacking, though it has them.  What
is lacking is written as its Unicode number, like ``[U+05D0]``; see :meth:`Face.shown`.
"""

from __future__ import annotations

from functools import cache
from io import BytesIO

from upkeep.frozen import frozen

_JOINED = range(0x0590, 0x10A0), range(0x1780, 0x1800), range(0xFB1D, 0xFE00), range(0xFE70, 0xFF00)
"""Hebrew, Arabic and the writings of India and its neighbours, and the forms of their letters."""


@frozen
class Face:
    """A face ready to draw with: its name in reportlab, and the letters it has."""

    name: str
    letters: frozenset[str]

    def shown(self, text: str) -> str:
        """The text as this face can print it; every letter it lacks as its Unicode number, ``[U+05D0]``."""
        return "".join(letter if letter in self.letters else f"[U+{ord(letter):04X}]" for letter in text)

    def width(self, text: str, size: float) -> float:
        """How wide the text is, in points, at a size in points."""
        from reportlab.pdfbase import pdfmetrics

        return float(pdfmetrics.stringWidth(text, self.name, size))


@cache
def faces() -> tuple[Face, Face]:
    """The regular and the bold face; made once, some tens of milliseconds."""
    return _face("figo", "FiraGO"), _face("figbo", "FiraGO Bold")


def font_file() -> bytes:
    """The TrueType file of the regular face, for whoever draws without reportlab."""
    return _unpacked("figo")


def _unpacked(packed: str) -> bytes:
    from pymupdf_fonts import myfont

    return bytes(myfont(packed))


def _face(packed: str, name: str) -> Face:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    font = TTFont(name, BytesIO(_unpacked(packed)))
    pdfmetrics.registerFont(font)
    joined = {code for block in _JOINED for code in block}
    has = (code for code, glyph in font.face.charToGlyph.items() if glyph and code not in joined)
    return Face(name, frozenset(map(chr, has)))

"""The letters on a printed page have the shapes the face gives them: text that reads back right can look wrong."""

from __future__ import annotations

import re
import struct
from collections.abc import Mapping
from io import BytesIO
from typing import Any

from pypdf import PdfReader
from reportlab.pdfbase.ttfonts import TTFontFile, TTFontParser

from tests.papers.weeks import FRAME
from upkeep.papers.frame.page_pdf import page_pdf
from upkeep.papers.letters import font_file
from upkeep.wording.sentences import ENGLISH

MARKED = "êěâǎôǒîǐûǔ çčşșţț åäàá øö łŁ đĐ ßẞ ñń ůúű"
"""Letters that differ by their marks alone."""

Shape = tuple[Any, ...]
_WORDS, _SCALE, _TWO, _FOUR, _MORE = 0x01, 0x08, 0x40, 0x80, 0x20


class Outlines:
    """The outlines of a TrueType file by the number of the glyph (ISO/IEC 14496-22: glyf, loca)."""

    def __init__(self, file: bytes) -> None:
        font = TTFontParser(BytesIO(file))
        self._glyphs, head, where = (font.get_table(name) for name in ("glyf", "head", "loca"))
        (is_long,) = struct.unpack(">h", head[50:52])
        size, form = (4, "I") if is_long else (2, "H")
        places = struct.unpack(f">{len(where) // size}{form}", where)
        self._starts = [place if is_long else 2 * place for place in places]

    def of(self, number: int) -> Shape:
        """What a glyph looks like: its own points, or those of its components and how each is placed."""
        drawn = self._glyphs[self._starts[number] : self._starts[number + 1]]
        if not drawn or struct.unpack(">h", drawn[:2])[0] >= 0:
            return (drawn.rstrip(b"\0"),)
        parts: list[Shape] = []
        at, flags = 10, _MORE
        while flags & _MORE:
            flags, component = struct.unpack(">HH", drawn[at : at + 4])
            size = (4 if flags & _WORDS else 2) + (
                2 if flags & _SCALE else 4 if flags & _TWO else 8 if flags & _FOUR else 0
            )
            parts.append((drawn[at + 4 : at + 4 + size], self.of(component)))
            at += 4 + size
        return tuple(parts)


def printed(document: bytes) -> Mapping[str, Shape]:
    """The letters a PDF says its regular face shows, each with the outline it draws for it."""
    found: dict[str, Shape] = {}
    for font in PdfReader(BytesIO(document)).pages[0]["/Resources"]["/Font"].values():  # type: ignore[index]
        font = font.get_object()
        if not str(font["/BaseFont"]).endswith("Regular"):
            continue
        file = font["/FontDescriptor"]["/FontFile2"].get_data()
        (codes,) = struct.unpack(">H", TTFontParser(BytesIO(file)).get_table("cmap")[20:22])
        glyphs = struct.unpack(f">{codes}H", TTFontParser(BytesIO(file)).get_table("cmap")[22 : 22 + 2 * codes])
        outlines = Outlines(file)
        for code, letter in re.findall(r"<(\w\w)> <(\w{4})>", font["/ToUnicode"].get_data().decode()):
            if glyphs[int(code, 16)]:
                found[chr(int(letter, 16))] = outlines.of(glyphs[int(code, 16)])
    return found


def test_a_letter_is_printed_in_the_shape_the_face_has_for_it() -> None:
    """A circumflex is no caron, a cedilla no comma below."""
    drawn = printed(page_pdf(f"title\n{MARKED}", FRAME, ENGLISH))
    whole, face = Outlines(font_file()), TTFontFile(BytesIO(font_file()))
    letters = set(MARKED) - {" "}
    assert letters <= set(drawn)
    for letter in letters:
        assert drawn[letter] == whole.of(face.charToGlyph[ord(letter)]), letter
    assert len({drawn[letter] for letter in letters}) == len(letters)

"""The face papers are printed in: one that reportlab brings, with the accented letters it lacks composed from its own.

The Vera faces have the letters of western Europe and no more.  Polish, Czech, Hungarian, Romanian, Turkish or Latvian
names need letters like "ą" or "ő": a base letter and a mark, both of which are in the face.  They are joined here as
TrueType composite glyphs, placed as the face places its own "é" and "É".  The licence of Vera allows such additions
when the face gets another name; its copyright notice stays in.

What cannot be composed is written as its Unicode number, like ``[U+0416]``; see :meth:`Face.shown`.
"""

from __future__ import annotations

import struct
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from typing import Any

NAME = "Strokebook Sans"

_LATIN = (*range(0x00C0, 0x0250), *range(0x1E00, 0x1EA0))
_X_HEIGHT = 1120
_GAP = 80

_MARKS = {
    0x0300: 0x0060, 0x0301: 0x00B4, 0x0302: 0x02C6, 0x0303: 0x02DC, 0x0304: 0x00AF, 0x0306: 0x02D8, 0x0307: 0x02D9,
    0x0308: 0x00A8, 0x030A: 0x02DA, 0x030B: 0x02DD, 0x030C: 0x02C7, 0x0326: 0x002C, 0x0327: 0x00B8, 0x0328: 0x02DB,
}  # fmt: skip
"""The character on its own that has the shape of a combining mark: grave, acute, circumflex, tilde, macron, breve, dot,
dieresis, ring, double acute, caron; comma below, cedilla, ogonek."""

_ACUTE, _COMMA_BELOW, _CEDILLA, _OGONEK, _BESIDE, _STROKE = 0x0301, 0x0326, 0x0327, 0x0328, 0x0315, 0x0335
_DOTLESS_I, _MACRON, _COMMA_ABOVE, _TURNED_COMMA = 0x0131, 0x00AF, 0x2019, 0x2018
_ODD = {
    "ď": ("d", _COMMA_ABOVE, _BESIDE),
    "ť": ("t", _COMMA_ABOVE, _BESIDE),
    "ľ": ("l", _COMMA_ABOVE, _BESIDE),
    "Ľ": ("L", _COMMA_ABOVE, _BESIDE),
    "ģ": ("g", _TURNED_COMMA, _ACUTE),
    "đ": ("d", _MACRON, _STROKE),
}
"""Letters that are not drawn as they decompose: the base, the character with the shape of the mark, its position."""

_USE_MY_METRICS, _XY, _WORDS, _MORE = 0x0200, 0x0002, 0x0001, 0x0020


@dataclass(frozen=True, slots=True)
class Face:
    """A face ready to draw with: its name in reportlab, and the letters it has."""

    name: str
    letters: frozenset[str]

    def shown(self, text: str) -> str:
        """The text as this face can print it; every letter it lacks as its Unicode number, ``[U+0416]``."""
        return "".join(letter if letter in self.letters else f"[U+{ord(letter):04X}]" for letter in text)

    def width(self, text: str, size: float) -> float:
        """How wide the text is, in points, at a size in points."""
        from reportlab.pdfbase import pdfmetrics

        return float(pdfmetrics.stringWidth(text, self.name, size))


@cache
def faces() -> tuple[Face, Face]:
    """The regular and the bold face; made once, some tens of milliseconds."""
    return _face("Vera.ttf", NAME), _face("VeraBd.ttf", f"{NAME} Bold")


def _face(file: str, name: str) -> Face:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    font = TTFont(name, BytesIO(_with_composed_letters(file, name)))
    pdfmetrics.registerFont(font)
    return Face(name, frozenset(chr(code) for code, glyph in font.face.charToGlyph.items() if glyph))


@dataclass(frozen=True, slots=True)
class _Glyph:
    """One glyph of the face: its number, its box in font units and how far it moves the pen."""

    number: int
    left: int
    bottom: int
    right: int
    top: int
    advance: int


def _with_composed_letters(file: str, name: str) -> bytes:
    """The TrueType file with every composable Latin letter added, under another name."""
    from reportlab.pdfbase.ttfonts import TTFontFile, TTFontMaker

    font = TTFontFile(file)
    have = {code: glyph for code, glyph in font.charToGlyph.items() if glyph}
    have[ord("Đ")] = have[ord("Ð")]
    outlines, starts, metrics = font.get_table("glyf"), list(font.glyphPos), list(font.hmetrics)
    for code in _LATIN:
        drawn = None if code in have else _composed(chr(code), font, have)
        if drawn is not None:
            have[code] = len(metrics)
            outlines += drawn[0]
            starts.append(len(outlines))
            metrics.append(drawn[1])
    made = TTFontMaker()
    for tag in ("OS/2", "cvt ", "fpgm", "prep"):
        made.add(tag, font.get_table(tag))
    made.add("post", b"\x00\x03\x00\x00" + font.get_table("post")[4:16] + bytes(16))
    made.add("name", _renamed(font.get_table("name"), name))
    made.add("cmap", _character_map(have))
    made.add("glyf", outlines)
    made.add("loca", struct.pack(f">{len(starts)}L", *starts))
    made.add("hmtx", b"".join(struct.pack(">HH", *metric) for metric in metrics))
    made.add("hhea", _patched(font.get_table("hhea"), 34, len(metrics)))
    made.add("maxp", _patched(font.get_table("maxp"), 4, len(metrics)))
    made.add("head", _patched(font.get_table("head"), 50, 1))
    return bytes(made.makeStream())


def _patched(table: bytes, at: int, value: int) -> bytes:
    return table[:at] + struct.pack(">H", value) + table[at + 2 :]


def _composed(letter: str, font: Any, have: Mapping[int, int]) -> tuple[bytes, tuple[int, int]] | None:
    """The composite glyph of a letter and its metrics; None where the face lacks a piece of it."""
    pieces = _pieces(letter)
    if pieces is None or pieces[0] not in have or pieces[1] not in have:
        return None
    base, mark, position = _glyph(font, have[pieces[0]]), _glyph(font, have[pieces[1]]), pieces[2]
    right, up = _placed(base, mark, position)
    left, bottom = min(base.left, mark.left + right), min(base.bottom, mark.bottom + up)
    box = left, bottom, max(base.right, mark.right + right), max(base.top, mark.top + up)
    beside = position == _BESIDE
    advance = max(base.advance, box[2] + _GAP) if beside else base.advance
    metrics_of_base = 0 if beside else _USE_MY_METRICS
    outline = struct.pack(">5h", -1, *box)
    outline += struct.pack(">HHhh", _XY | _WORDS | _MORE | metrics_of_base, base.number, 0, 0)
    outline += struct.pack(">HHhh", _XY | _WORDS, mark.number, right, up)
    return outline + bytes(-len(outline) % 4), (advance, left & 0xFFFF)


def _pieces(letter: str) -> tuple[int, int, int] | None:
    """The base, the character with the shape of the mark, and the mark's position; None where there are no such."""
    if letter in _ODD:
        base, shape, position = _ODD[letter]
        return ord(base), shape, position
    decomposed = unicodedata.normalize("NFD", letter)
    if len(decomposed) != 2 or ord(decomposed[1]) not in _MARKS:
        return None
    base, mark = decomposed[0], ord(decomposed[1])
    if mark == _CEDILLA and base in "GKLNRklnr":
        mark = _COMMA_BELOW
    dotless = base == "i" and mark not in (_COMMA_BELOW, _CEDILLA, _OGONEK)
    return _DOTLESS_I if dotless else ord(base), _MARKS[mark], mark


def _placed(base: _Glyph, mark: _Glyph, position: int) -> tuple[int, int]:
    """How far the mark moves right and up from where it stands on its own."""
    if position == _BESIDE:
        return base.right + _GAP // 2 - mark.left, base.top - mark.top
    if position == _STROKE:
        return base.right + 2 * _GAP - mark.right, _X_HEIGHT + 2 * _GAP - mark.bottom
    centred = (base.left + base.right - mark.left - mark.right) // 2
    if position == _OGONEK:
        return base.right - mark.right, 0
    if position == _CEDILLA:
        return centred, 0
    if position == _COMMA_BELOW:
        return centred, min(base.bottom, 0) - _GAP - mark.top
    lowest = _X_HEIGHT + (_GAP if mark.bottom < _X_HEIGHT else mark.bottom - _X_HEIGHT)
    return centred, max(base.top, _X_HEIGHT) - _X_HEIGHT + lowest - mark.bottom


def _glyph(font: Any, number: int) -> _Glyph:
    start = font.get_table_pos("glyf")[0] + font.glyphPos[number]
    left, bottom, right, top = struct.unpack(">4h", font.get_chunk(start + 2, 8))
    return _Glyph(number, left, bottom, right, top, int(font.hmetrics[number][0]))


def _character_map(have: Mapping[int, int]) -> bytes:
    """A "cmap" table of one part in format 12: every character on its own."""
    groups = b"".join(struct.pack(">LLL", code, code, glyph) for code, glyph in sorted(have.items()))
    part = struct.pack(">HHLLL", 12, 0, 16 + len(groups), 0, len(have)) + groups
    return struct.pack(">HHHHL", 0, 1, 3, 10, 12) + part


def _renamed(table: bytes, name: str) -> bytes:
    """The "name" table with every name of the face replaced; copyright and licence stay as they are."""
    records, texts = b"", b""
    kept = [(key, name if key[3] in (1, 3, 4, 6) else text) for key, text in _names(table)]
    for key, text in kept:
        data = (text.replace(" ", "") if key[3] == 6 else text).encode("utf_16_be")
        records += struct.pack(">6H", *key, len(data), len(texts))
        texts += data
    return struct.pack(">HHH", 0, len(kept), 6 + len(records)) + records + texts


def _names(table: bytes) -> Iterator[tuple[tuple[int, int, int, int], str]]:
    """The names in Windows' English form: (platform, encoding, language, what it names) and the text."""
    _, count, start = struct.unpack_from(">HHH", table)
    for index in range(count):
        *key, length, offset = struct.unpack_from(">6H", table, 6 + 12 * index)
        if key[:2] == [3, 1]:
            text = table[start + offset : start + offset + length].decode("utf_16_be")
            yield (key[0], key[1], key[2], key[3]), text

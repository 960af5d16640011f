"""Text on its way to a page or a screen: made visible, measured, cut and wrapped.

Text from people is shown as it is and never obeyed.  Widths are in cells: columns of a page, cells of a terminal.  What
people see as one letter - a letter with its marks, a picture joined of several - is never torn apart.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable, Iterator

WIDTH = 80
"""Columns of a page of text."""

CUT = "…"
"""Stands where a text was cut to fit."""

Measure = Callable[[str], float]
"""How wide a text is, in the unit of the paper: cells, or points."""

_NARROW = "\u0300"
"""Every visible letter before this one, the first of the combining marks, takes one cell."""

_BLANK = "\u00a0"
"""A blank at which no line ends: it stands between the thousands of a number."""

_JOINER, _VIRAMA = "\u200d", 9


def visible(text: str) -> str:
    """A text on one line of visible letters, accents joined to them: no terminal or printer acts on any of it.

    Line ends, tabs and every other blank become a plain blank, but for the one between thousands.  What shows nothing
    of its own is written as its Unicode number, ``[U+001B]``, except a joiner that makes one picture or one syllable of
    its neighbours.
    """
    text = unicodedata.normalize("NFC", text)
    if text.isprintable():
        return text
    around = zip(f" {text}", text, f"{text[1:]} ", strict=False)
    return "".join(_shown(before, letter, after) for before, letter, after in around)


def _shown(before: str, letter: str, after: str) -> str:
    between_thousands = letter == _BLANK and before.isdecimal() and after.isdecimal()
    if letter.isprintable() or between_thousands or (letter == _JOINER and _joins(before, after)):
        return letter
    return " " if letter.isspace() else f"[U+{ord(letter):04X}]"


def _joins(before: str, after: str) -> bool:
    """Whether a joiner does what it is for: one picture of two, or a syllable in a writing of India."""
    pictures = unicodedata.category(before) in ("So", "Sk", "Mn") and unicodedata.category(after) == "So"
    return pictures or unicodedata.combining(before) == _VIRAMA


def width_of(text: str) -> int:
    """How many cells a visible text takes: wide letters and pictures two, marks none."""
    return len(text) if text.isascii() or max(text) < _NARROW else sum(map(_cells, _letters(text)))


def _letters(text: str) -> Iterable[str]:
    """The text in what people see as one letter each."""
    if text.isascii():
        return text
    from wcwidth import iter_graphemes

    return iter_graphemes(text)


def _cells(letter: str) -> int:
    from wcwidth import wcswidth

    return max(0, wcswidth(letter))


def padded(text: str, cells: int) -> str:
    """The text with blanks after it up to a number of cells; as it is where it takes more."""
    return text + " " * (cells - width_of(text))


def fit(text: str, cells: int) -> str:
    """The text made visible, in exactly so many cells: cut with an ellipsis, or filled up with blanks."""
    text = visible(text)
    return padded(text if width_of(text) <= cells else _cut(text, cells), cells)


def _cut(text: str, cells: int) -> str:
    kept, room = "", cells - width_of(CUT)
    for letter in _letters(text):
        room -= width_of(letter)
        if room < 0:
            break
        kept += letter
    return kept + CUT if cells > 0 else ""


def wrapped(text: str, room: float, measure: Measure = width_of, first: float | None = None) -> list[str]:
    """The text broken at blanks into lines no wider than ``room``; at least one.

    ``first`` is the room of the first line, if that differs.  Blanks before and within the text stay where no line
    ends, so that columns made with them stay columns.  A word wider than a line is broken, so nothing is lost; a letter
    wider than a line stands alone.
    """
    lines: list[str] = []
    line, left = "", room if first is None else first
    for number, word in enumerate(text.split(" ")):
        joined = f"{line} {word}" if line or (number and not lines) else word
        if measure(joined) <= left:
            line = joined
            continue
        if line.strip():
            lines.append(line.rstrip())
            left = room
        *full, line = _broken(word, left, room, measure)
        lines += full
        left = room if full else left
    return [*lines, line.rstrip()]


def _broken(word: str, first: float, room: float, measure: Measure) -> Iterator[str]:
    """The pieces of a word, each as long as fits, the first one into ``first``; one piece where all of it fits."""
    piece, left = "", first
    for letter in _letters(word):
        if piece and measure(piece + letter) > left:
            yield piece
            piece, left = "", room
        piece += letter
    yield piece


def paragraph(text: str, indent: int = 0, hanging: int | None = None) -> list[str]:
    """A text on lines of a page, from column ``indent`` on, the lines after the first from ``hanging`` on (None: the
    same)."""
    following = indent if hanging is None else hanging
    begun, *lines = wrapped(visible(text), WIDTH - following, first=WIDTH - indent)
    return [(" " * indent + begun).rstrip(), *(" " * following + line for line in lines)]

"""Breaking text into lines and lines into pages.  Nothing is ever cut: what is too long goes on below or overleaf."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterator, Sequence

Measure = Callable[[str], float]
"""How wide a text is, in the unit of the paper: columns, or points."""


def columns(text: str) -> int:
    """How many columns of a fixed-width page the text takes: wide letters two, combining marks none."""
    return sum(_columns(letter) for letter in text)


def _columns(letter: str) -> int:
    if unicodedata.combining(letter):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in "WF" else 1


def padded(text: str, width: int) -> str:
    """The text with spaces after it up to a number of columns."""
    return text + " " * (width - columns(text))


def wrapped(text: str, width: float, measure: Measure = columns) -> list[str]:
    """The text in lines no wider than ``width``; at least one.  A word wider than a line is broken where it must be.

    Raises ValueError where a single letter is wider than the line.
    """
    lines: list[str] = []
    for word in text.split():
        joined = f"{lines[-1]} {word}" if lines else word
        if measure(joined) <= width:
            lines[-1:] = [joined]
        else:
            lines += _broken(word, width, measure)
    return lines or [""]


def _broken(word: str, width: float, measure: Measure) -> Iterator[str]:
    """The pieces of a word, each as long as fits."""
    while measure(word) > width:
        fits = 0
        while measure(word[: fits + 1]) <= width:
            fits += 1
        if not fits:
            raise ValueError(f"no letter of {word!r} fits into a width of {width}")
        yield word[:fits]
        word = word[fits:]
    yield word


def paged(heights: Sequence[float], room: float) -> list[range]:
    """Which blocks stand on which page: as many as fit, in order.  No block may be higher than a page."""
    pages, first, used = [], 0, 0.0
    for index, height in enumerate(heights):
        if used + height > room and index > first:
            pages.append(range(first, index))
            first, used = index, 0.0
        used += height
    return [*pages, range(first, len(heights))]

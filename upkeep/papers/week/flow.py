"""Words in two weights one after the other, broken into lines where they fill the room."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from upkeep.wording.text import Measure, wrapped


class Run(NamedTuple):
    """Words of one weight on a line: how far from its left edge they begin."""

    along: float
    words: str
    bold: bool


def flow(
    parts: Sequence[tuple[str, bool]], room: float, regular: Measure, bold: Measure
) -> tuple[tuple[Run, ...], ...]:
    """The parts - words, and whether they are bold - on lines no wider than ``room``; a blank stands between two parts.

    A word wider than a line is broken, so nothing is lost.
    """
    lines: list[list[Run]] = [[]]
    used, blank = 0.0, regular(" ")
    for words, is_bold in parts:
        measure = bold if is_bold else regular
        begin = used + blank if lines[-1] else 0.0
        if begin and measure(words.split(" ", 1)[0]) > room - begin:
            lines.append([])
            begin = 0.0
        first, *rest = wrapped(words, room, measure, first=room - begin)
        if first:
            lines[-1].append(Run(begin, first, is_bold))
            used = begin + measure(first)
        for line in rest:
            lines.append([Run(0.0, line, is_bold)])
            used = measure(line)
    return tuple(map(tuple, lines))

"""A paper as plain text: 80 columns, at most 60 lines a page, pages parted by form feeds, each with the head of papers.

Prints at 10 points on A4 and Letter.
"""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.papers.frame.frame_rows import FrameCells
from upkeep.papers.frame.pages import page_text, paged
from upkeep.wording.sentences import Reader
from upkeep.wording.text import WIDTH, padded, paragraph, width_of

LINES = 60


def framed_text(page: str, frame: FrameCells, reader: Reader) -> str:
    """A page of text - its title, then its lines - on as many sheets as it takes, each with the head of papers."""
    title, *lines = page.rstrip("\n").split("\n")
    above = [row for line in frame.lines for row in paragraph(line)] + ["=" * WIDTH]
    pages = paged([1.0] * len(lines), LINES - len(above) - 1) if lines else [range(0)]
    return "\f".join(
        "".join(f"{row.rstrip()}\n" for row in (*headed(title, number, len(pages), reader), *above, *_of(lines, rows)))
        for number, rows in enumerate(pages, 1)
    )


def headed(title: str, page: int, pages: int, reader: Reader) -> list[str]:
    """The first row of a sheet: its title, and which of how many it is."""
    number = page_text(page, pages, reader)
    if width_of(title) + width_of(number) < WIDTH:
        return [padded(title, WIDTH - width_of(number)) + number]
    return [*paragraph(title), padded("", WIDTH - width_of(number)) + number]


def _of(lines: Sequence[str], rows: range) -> Sequence[str]:
    return [lines[row] for row in rows]

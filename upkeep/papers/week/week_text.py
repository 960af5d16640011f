"""The weekly due list as plain text: 80 columns, at most 60 lines a page, pages parted by form feeds.

Prints at 10 points on A4 and Letter.  All that is not a person's own text is ASCII, so any printer has it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from upkeep.papers.frame.pages import page_text, paged
from upkeep.papers.week.week_rows import RowCells, WeekCells, week_cells
from upkeep.progress import Watch, nobody, watched
from upkeep.views.week import WeekList
from upkeep.wording.sentences import Reader
from upkeep.wording.text import WIDTH, padded, width_of, wrapped

LINES = 60

_NUMBER = 4
_CELLS = (31, 32, 10)
_BLANKS = (9, 6, 5, 7, 10)
"""Columns left to write in, one for each of the boxes."""


def week_text(week: WeekList, reader: Reader, watch: Watch = nobody) -> str:
    """The pages of a weekly due list, one after the other; ``watch`` is told how many rows are worded and set."""
    cells = week_cells(week, reader, watch)
    above, below = _above(cells), _below(cells)
    room = LINES - len(above) - len(below) - 1
    write_in = _to_write_in(cells)
    set_rows = watched(cells.rows, "rows", len(cells.rows), watch)
    blocks = [block for row in set_rows for block in _blocks(row, write_in, room)] or [["", cells.nothing_due, ""]]
    pages = paged([len(block) for block in blocks], room)
    return "\f".join(
        _page([_title(cells, page_text(number, len(pages), reader)), *above, *_lines(blocks, page), *below])
        for number, page in enumerate(pages, 1)
    )


def _page(lines: Sequence[str]) -> str:
    return "".join(f"{line.rstrip()}\n" for line in lines)


def _lines(blocks: Sequence[Sequence[str]], page: range) -> Iterator[str]:
    for index in page:
        yield from blocks[index]


def _title(cells: WeekCells, page: str) -> str:
    return padded(f"{cells.title}   {cells.days} ", WIDTH - width_of(page)) + page


def _above(cells: WeekCells) -> list[str]:
    heading = [line for text in cells.heading for line in wrapped(text, WIDTH)]
    return [*heading, "=" * WIDTH, *_beside(cells.headings[0][0], cells.headings[1:]), "-" * WIDTH]


def _below(cells: WeekCells) -> list[str]:
    return ["-" * WIDTH, *wrapped(cells.legend, WIDTH), "", *wrapped(cells.closing, WIDTH)]


def _blocks(row: RowCells, write_in: str, room: int) -> Iterator[list[str]]:
    """The lines of a row; in several blocks where it is longer than a page."""
    lines = [*_beside(row.number, row.cells), "", write_in]
    for start in range(0, len(lines), room):
        yield lines[start : start + room]


def _beside(number: str, cells: Sequence[Sequence[str]]) -> Iterator[str]:
    """The lines of a row's cells, side by side, each wrapped to its width."""
    sides = [
        [line for text in cell for line in wrapped(text, width)] for cell, width in zip(cells, _CELLS, strict=True)
    ]
    for first, lines in enumerate(zip_longest(*sides, fillvalue="")):
        beside = " ".join(padded(line, width) for line, width in zip(lines, _CELLS, strict=True))
        yield f"{'' if first else number:>{_NUMBER}} {beside}"


def _to_write_in(cells: WeekCells) -> str:
    blanks = (f"{box} {'_' * width}" for box, width in zip(cells.boxes, _BLANKS, strict=True))
    return " " * (_NUMBER + 1) + " ".join(blanks)

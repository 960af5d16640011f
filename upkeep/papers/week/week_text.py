"""The weekly due list as plain text: 80 columns, at most 60 lines a page, pages parted by form feeds.

Prints at 10 points on A4 and Letter.  All that is not a person's own text is ASCII, so any printer has it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from upkeep.papers.frame.framed_text import LINES
from upkeep.papers.frame.pages import page_text, paged
from upkeep.papers.week.week_rows import RowCells, WeekCells, week_cells
from upkeep.progress import Watch, nobody, watched
from upkeep.views.week import WeekList
from upkeep.wording.sentences import Reader
from upkeep.wording.text import WIDTH, padded, width_of, wrapped

_NUMBER = 4
_ROOM = WIDTH - _NUMBER - 1
_BLANKS = (9, 6, 5)
"""Columns left to write in, one for each of the boxes but the last, which gets what is left."""


def week_text(week: WeekList, reader: Reader, watch: Watch = nobody) -> str:
    """The pages of a weekly due list, one after the other; ``watch`` is told how many rows are worded and set."""
    cells = week_cells(week, reader, watch)
    above, below = _above(cells), ["-" * WIDTH, *wrapped(cells.legend, WIDTH), "", *wrapped(cells.closing, WIDTH)]
    room = LINES - len(above) - len(below) - 1
    blocks = [part for block in _blocks(cells, watch) for part in _parts(block, room)]
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
    return [*heading, "=" * WIDTH, *_indented(cells.columns), "-" * WIDTH]


def _blocks(cells: WeekCells, watch: Watch) -> Iterator[list[str]]:
    """What may not be parted, while it fits on a page: each row, the box at the end, each note."""
    write_in = _to_write_in(cells)
    for row in watched(cells.rows, "rows", len(cells.rows), watch):
        yield [*_row(row), write_in]
    if not cells.rows:
        yield ["", cells.nothing_due, ""]
    for place, row in enumerate(cells.apart):
        title = ["=" * WIDTH, *wrapped(cells.apart_title, WIDTH)] if place == 0 else []
        yield [*title, *_row(row)]
    for place, note in enumerate(cells.notes):
        yield [*(["=" * WIDTH] if place == 0 else []), *wrapped(note, WIDTH)]
    yield ["", *wrapped(cells.signature, WIDTH)]


def _parts(block: list[str], room: int) -> Iterator[list[str]]:
    for start in range(0, len(block), room):
        yield block[start : start + room]


def _row(row: RowCells) -> list[str]:
    words = " ".join(text for text, _ in row.parts)
    first, *rest = _indented(f"{words}; {row.code}")
    return [f"{row.number:>{_NUMBER}} {first.lstrip(' ')}", *rest]


def _indented(words: str) -> list[str]:
    return [" " * (_NUMBER + 1) + line for line in wrapped(words, _ROOM)]


def _to_write_in(cells: WeekCells) -> str:
    """The boxes of a row: one to tick, then each with its name and a blank."""
    *short, remark = cells.boxes
    blanks = " ".join(f"{box} {'_' * width}" for box, width in zip(short, _BLANKS, strict=True))
    line = f"[ ] {blanks} {remark} "
    return " " * (_NUMBER + 1) + line + "_" * max(8, _ROOM - width_of(line))

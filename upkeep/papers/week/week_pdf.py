"""The weekly due list as a PDF to print, carry on a clipboard, write on and type or scan back in.

Upright A4 or Letter, black on white, 10 points, the row numbers larger.  Each row has a box to tick, its code, boxes
for count, time and initials, and 45 mm for a remark.  A long text makes its row higher and is never cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from upkeep.frozen import frozen
from upkeep.papers.frame.frame_rows import FrameCells
from upkeep.papers.frame.head import Head
from upkeep.papers.frame.pages import page_text, paged
from upkeep.papers.frame.pen import Pen
from upkeep.papers.week.flow import Run, flow
from upkeep.papers.week.week_rows import RowCells, WeekCells, week_cells
from upkeep.progress import Progress, Watch, nobody, watched
from upkeep.said import said
from upkeep.views.week import WeekList
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import wrapped

_MARGIN = 15.0
_SIZE, _LEADING = 10.0, 10.6
_NUMBER, _TICK = 13.0, 9.0
_PAD = 1.3
_THIN, _THICK = 0.4, 1.2
_CODE, _MODULES = 25.0, 29
"""A side of the code of a row with its empty edge, in points, and in modules."""
_FIRST, _GAP = 36.0, 4.0
"""Width of what stands before the text: number and tick; and the least that stays empty before the next column."""
_BOXES = (42.0, 30.0, 36.0)
_REMARK = 127.6
"""Widths of the boxes to write in; that for the remark is 45 mm wide."""

_LACKING = said("[U+...] stands for a character that cannot be printed here; the text version of the list has it.")


@frozen
class _Block:
    """What stands together: the lines of a row to be done (``row``), of one apart, of a note."""

    lines: tuple[tuple[Run, ...], ...]
    row: RowCells | None = None
    number: str = ""
    ruled: bool = False

    @property
    def height(self) -> float:
        least = 23.0 if self.row is not None else 0.0
        return max(least, len(self.lines) * _LEADING + 2 * _PAD)

    def parts(self, most: int) -> Iterator[_Block]:
        """The block in pieces of at most so many lines."""
        for start in range(0, max(len(self.lines), 1), most):
            yield replace(self, lines=self.lines[start : start + most])


def week_pdf(week: WeekList, reader: Reader, paper: str = "A4", watch: Watch = nobody) -> bytes:
    """The weekly due list as a PDF on ``paper`` ("A4" or "Letter"); the same list gives the same bytes.

    ``watch`` is told how many rows are worded and set, and pages drawn.  Raises :class:`Unreadable` for another paper.
    """
    cells = week_cells(week, reader, watch)
    return _Sheet(Pen(paper, cells.title), cells, reader).document(watch)


class _Sheet:
    """The pages of one list: what is the same on each, and the room between for rows."""

    def __init__(self, pen: Pen, cells: WeekCells, reader: Reader) -> None:
        self._pen, self._reader = pen, reader
        self._left, self._right = _MARGIN, pen.width - _MARGIN
        self._cells = _printable(cells, pen, text(_LACKING, reader))
        frame = FrameCells(self._cells.heading, self._cells.seal)
        self._head = Head(pen, self._cells.title, frame, self._cells.days, _MARGIN)
        self._legend = wrapped(self._cells.legend, self._right - self._left, pen.measure(_SIZE))
        self._closing = wrapped(self._cells.closing, self._right - self._left, pen.measure(_SIZE, bold=True))
        boxes = self._right - _REMARK - sum(_BOXES)
        self._code, self._text = boxes - _CODE, self._left + _FIRST
        self._edges = (boxes, boxes + _BOXES[0], boxes + sum(_BOXES[:2]), boxes + sum(_BOXES))
        self._columns = wrapped(self._cells.columns, self._code - self._text - _GAP, pen.measure(_SIZE))
        self._first = self._head.bottom + len(self._columns) * _LEADING + 3
        self._last = pen.height - _MARGIN - _LEADING * (len(self._legend) + len(self._closing)) - 3

    def document(self, watch: Watch) -> bytes:
        """Draws everything."""
        room = self._last - self._first
        most = int((room - 2 * _PAD) / _LEADING)
        blocks = [part for block in self._blocks(watch) for part in block.parts(most)]
        pages = paged([block.height for block in blocks], room)
        for number, page in enumerate(pages, 1):
            self._above(page_text(number, len(pages), self._reader))
            self._blocks_of([blocks[index] for index in page])
            self._below()
            self._pen.end_page()
            watch(Progress("pages", number - 1, len(pages)))
        made = self._pen.document()
        watch(Progress("pages", len(pages), len(pages)))
        return made

    def _blocks(self, watch: Watch) -> Iterator[_Block]:
        cells, wide = self._cells, self._right - self._left
        for row in watched(cells.rows, "rows", len(cells.rows), watch):
            yield _Block(self._flow(row.parts, self._code - self._text - _GAP), row, row.number)
        if not cells.rows:
            yield _Block(self._flow(((cells.nothing_due, True),), wide))
        if cells.apart:
            yield _Block(self._flow(((cells.apart_title, True),), wide), ruled=True)
        for row in cells.apart:
            yield _Block(self._flow(row.parts, self._right - self._text), number=row.number)
        for place, note in enumerate(cells.notes):
            yield _Block(self._flow(((note, False),), wide), ruled=place == 0)
        yield _Block(((), *self._flow(((cells.signature, True),), wide)), ruled=True)

    def _flow(self, parts: Sequence[tuple[str, bool]], room: float) -> tuple[tuple[Run, ...], ...]:
        return flow(parts, room, self._pen.measure(_SIZE), self._pen.measure(_SIZE, bold=True))

    def _above(self, page: str) -> None:
        pen, top = self._pen, self._head.bottom
        self._head.draw(page)
        for place, line in enumerate(self._columns, 1):
            pen.text(self._text, top + place * _LEADING, line, _SIZE)
        for edge, box in zip(self._edges, self._cells.boxes, strict=True):
            pen.text(edge + _PAD, top + _LEADING, box, _SIZE)
        pen.across(self._left, self._right, self._first, _THICK)

    def _blocks_of(self, blocks: Sequence[_Block]) -> None:
        top = self._first
        for block in blocks:
            if block.ruled:
                self._pen.across(self._left, self._right, top, _THICK)
            self._draw(block, top)
            top += block.height
            if block.row is not None:
                self._pen.across(self._left, self._code, top, _THIN)
                self._pen.across(self._edges[0], self._right, top, _THIN)

    def _draw(self, block: _Block, top: float) -> None:
        pen, left = self._pen, self._text if block.number else self._left
        for place, line in enumerate(block.lines, 1):
            for along, words, bold in line:
                pen.text(left + along, top + place * _LEADING - 0.6, words, _SIZE, bold)
        room = _FIRST - (_TICK + 5 if block.row is not None else 2)
        if block.number:
            large = _SIZE if block.row is None else _NUMBER
            size = min(large, large * room / pen.measure(large, bold=True)(block.number))
            pen.text(self._left, top + large, block.number, size, bold=True)
        if block.row is not None:
            pen.box(self._text - _TICK - 3, top + 3, _TICK, _TICK, 0.8)
            pen.code(self._code, top + (23.0 - _CODE) / 2, _CODE, block.row.code)
            for edge in self._edges:
                pen.upright(edge, top, top + block.height, _THIN)

    def _below(self) -> None:
        down = self._last + 2
        self._pen.across(self._left, self._right, down, _THICK)
        for bold, lines in ((False, self._legend), (True, self._closing)):
            for line in lines:
                down += _LEADING
                self._pen.text(self._left, down, line, _SIZE, bold)


def _printable(cells: WeekCells, pen: Pen, lacking: str) -> WeekCells:
    """The same list in letters the pen has; a note says so where it lacks some."""

    def row_shown(row: RowCells) -> RowCells:
        return replace(row, where=pen.shown(row.where), task=pen.shown(row.task), facts=pen.shown(row.facts))

    made = replace(
        cells,
        heading=tuple(map(pen.shown, cells.heading)),
        rows=tuple(map(row_shown, cells.rows)),
        apart=tuple(map(row_shown, cells.apart)),
        notes=tuple(map(pen.shown, cells.notes)),
    )
    return made if made == cells else replace(made, notes=(*made.notes, lacking))

"""The weekly due list as a PDF to print, carry on a clipboard, write on and type back in by row number.

Upright A4 or Letter, black on white, 10 points, the row numbers larger.  Each row has boxes for count, time, initials,
result and remark.  Short rows are 25 and more to a page; a long text makes its row higher and is never cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from upkeep.frozen import frozen
from upkeep.papers.frame.frame_rows import FrameCells
from upkeep.papers.frame.head import Head
from upkeep.papers.frame.pages import page_text, paged
from upkeep.papers.frame.pen import Pen
from upkeep.papers.week.week_rows import RowCells, WeekCells, week_cells
from upkeep.progress import Progress, Watch, nobody, watched
from upkeep.said import said
from upkeep.views.week import WeekList
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import wrapped

_MARGIN = 16.0
_SIZE, _LEADING = 10.0, 11.0
_SMALL, _SMALL_LEADING = 8.0, 9.4
_NUMBER = 15.0
_PAD = 1.6
_THIN, _THICK = 0.4, 1.2

_CELLS = (30.0, 128.0, 126.0, 54.0)
_BOXES = (50.0, 36.0, 33.0, 38.0)
"""Widths of the printed cells and of the boxes but for the last, which gets what is left."""

_LACKING = said("[U+...] stands for a character that cannot be printed here; the text version of the list has it.")


@frozen
class _Line:
    text: str
    bold: bool


@frozen
class _Row:
    """One row, wrapped: its number and the lines of its three cells."""

    number: str
    cells: tuple[tuple[_Line, ...], ...]

    @property
    def lines(self) -> int:
        return max(2, *(len(cell) for cell in self.cells))

    @property
    def height(self) -> float:
        return self.lines * _LEADING + 2 * _PAD

    def parts(self, most: int) -> Iterator[_Row]:
        """The row in pieces of at most so many lines."""
        for start in range(0, self.lines, most):
            yield _Row(self.number, tuple(cell[start : start + most] for cell in self.cells))


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
        self._legend = self._lines((self._cells.legend,), _SMALL)
        self._first = self._head.bottom + 2 * _SMALL_LEADING + 3
        self._last = pen.height - _MARGIN - _SMALL_LEADING * len(self._legend) - _LEADING - 6
        self._edges = _edges(self._left, self._right)

    def _lines(self, texts: Sequence[str], size: float) -> list[str]:
        measure = self._pen.measure(size)
        return [line for shown in texts for line in wrapped(shown, self._right - self._left, measure)]

    def document(self, watch: Watch) -> bytes:
        """Draws everything."""
        room = self._last - self._first
        most = int((room - 2 * _PAD) / _LEADING)
        set_rows = watched(self._cells.rows, "rows", len(self._cells.rows), watch)
        rows = [part for row in set_rows for part in self._row(row).parts(most)]
        pages = paged([row.height for row in rows], room)
        for number, page in enumerate(pages, 1):
            self._above(page_text(number, len(pages), self._reader))
            self._rows([rows[index] for index in page])
            self._below()
            self._pen.end_page()
            watch(Progress("pages", number - 1, len(pages)))
        made = self._pen.document()
        watch(Progress("pages", len(pages), len(pages)))
        return made

    def _row(self, row: RowCells) -> _Row:
        bold = (True, row.urgent, True)
        return _Row(
            row.number,
            tuple(
                tuple(self._cell(texts, width - 2 * _PAD, first_bold))
                for texts, width, first_bold in zip(row.cells, _CELLS[1:], bold, strict=True)
            ),
        )

    def _cell(self, texts: Sequence[str], width: float, first_bold: bool) -> Iterator[_Line]:
        for index, shown in enumerate(texts):
            bold = first_bold and index == 0
            for line in wrapped(shown, width, self._pen.measure(_SIZE, bold)):
                yield _Line(line, bold)

    def _above(self, page: str) -> None:
        pen = self._pen
        self._head.draw(page)
        for edge, heads in zip(
            self._edges, (*self._cells.headings, *((box,) for box in self._cells.boxes)), strict=False
        ):
            for index, head in enumerate(heads, 1):
                pen.text(edge + _PAD, self._head.bottom + index * _SMALL_LEADING, head, _SMALL)
        pen.across(self._left, self._right, self._first, _THICK)

    def _rows(self, rows: Sequence[_Row]) -> None:
        top = self._first
        for row in rows:
            self._draw(row, top)
            top += row.height
            self._pen.across(self._left, self._right, top, _THIN)
        for edge in self._edges[len(_CELLS) :]:
            self._pen.upright(edge, self._first, top, _THIN)
        if not rows:
            self._pen.text(self._left, top + 2 * _LEADING, self._cells.nothing_due, _SIZE, bold=True)

    def _draw(self, row: _Row, top: float) -> None:
        pen, room = self._pen, _CELLS[0] - 2 * _PAD
        size = min(_NUMBER, _NUMBER * room / pen.measure(_NUMBER, bold=True)(row.number))
        pen.text(self._left + _PAD, top + _PAD + size, row.number, size, bold=True)
        for edge, cell in zip(self._edges[1:], row.cells, strict=False):
            for index, line in enumerate(cell, 1):
                pen.text(edge + _PAD, top + index * _LEADING, line.text, _SIZE, line.bold)

    def _below(self) -> None:
        down = self._last + 4
        self._pen.across(self._left, self._right, down, _THICK)
        for line in self._legend:
            down += _SMALL_LEADING
            self._pen.text(self._left, down, line, _SMALL)
        self._pen.text(self._left, down + _LEADING + 1, self._cells.closing, _SIZE, bold=True)


def _edges(left: float, right: float) -> tuple[float, ...]:
    """Where each column begins, and where the last one ends."""
    edges = [left]
    for width in (*_CELLS, *_BOXES):
        edges.append(edges[-1] + width)
    return (*edges, right)


def _printable(cells: WeekCells, pen: Pen, lacking: str) -> WeekCells:
    """The same list in letters the pen has; a note says so where it lacks some."""

    def shown(texts: Sequence[str]) -> tuple[str, ...]:
        return tuple(map(pen.shown, texts))

    made = replace(
        cells,
        heading=shown(cells.heading),
        legend=pen.shown(cells.legend),
        rows=tuple(
            replace(row, task=shown(row.task), due=shown(row.due), hands=shown(row.hands)) for row in cells.rows
        ),
    )
    return made if made == cells else replace(made, legend=f"{made.legend} {lacking}")

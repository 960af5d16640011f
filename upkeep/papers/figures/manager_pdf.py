"""The manager's page as one sheet, A4 or Letter: ten things with eight weeks as bars, what to decide, footnotes.

The sheet is one side whatever stands on it: where everything will not fit, fewer of the lines behind each figure are
shown and the page says how many are left to its text; no figure, decision or footnote is ever left out.
"""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.frozen import frozen
from upkeep.papers.figures.manager_rows import ManagerRow, manager_rows
from upkeep.papers.figures.manager_text import decisions, title_said, value_text
from upkeep.papers.frame.frame_rows import FrameCells
from upkeep.papers.frame.head import MARGIN, Head
from upkeep.papers.frame.pages import page_text
from upkeep.papers.frame.pen import Pen
from upkeep.said import Said, said, said_as
from upkeep.views.overview.manager import ManagerPage
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import wrapped

_SIZE, _LEADING = 10.0, 11.6
_NOTE, _NOTE_LEADING = 7.5, 8.4
_LEAST_NOTE = 6.0
_CHART_WIDE, _CHART_HIGH, _CHART_ROOM = 112.0, 20.0, 34.0
_MOST_DETAILS = 4
_THIN, _THICK = 0.4, 1.2


@frozen
class _Block:
    """One of the ten: lines with whether they are bold, and the weekly values to be drawn beside them."""

    lines: tuple[tuple[str, bool], ...]
    row: ManagerRow

    @property
    def height(self) -> float:
        return max(len(self.lines) * _LEADING, _CHART_ROOM) + 3


@frozen
class _Layout:
    """What the sheet holds when so many lines stand behind each figure."""

    blocks: tuple[_Block, ...]
    decide: tuple[str, ...]
    notes: tuple[str, ...]
    note_size: float

    @property
    def height(self) -> float:
        leading = _NOTE_LEADING * self.note_size / _NOTE
        return (
            sum(block.height for block in self.blocks) + (len(self.decide) + 1) * _LEADING + 8
            + len(self.notes) * leading + 6
        )  # fmt: skip


def manager_pdf(page: ManagerPage, frame: FrameCells, reader: Reader, paper: str = "A4") -> bytes:
    """The page on one side of ``paper``; the same page gives the same bytes.

    Raises :class:`Unreadable` for another paper.
    """
    pen = Pen(paper, text(title_said(page), reader))
    return _Sheet(pen, page, frame, reader).document()


class _Sheet:
    """The one sheet of a page."""

    def __init__(self, pen: Pen, page: ManagerPage, frame: FrameCells, reader: Reader) -> None:
        self._pen, self._reader, self._page = pen, reader, page
        self._rows = manager_rows(page)
        self._head = Head(pen, text(title_said(page), reader), frame)
        self._left, self._right = MARGIN, pen.width - MARGIN
        self._room = self._right - self._left - _CHART_WIDE - 12

    def document(self) -> bytes:
        """Draws everything."""
        layout = self._fitting()
        self._head.draw(page_text(1, 1, self._reader))
        down = self._head.bottom + 2
        for block in layout.blocks:
            self._draw(block, down)
            down += block.height
            self._pen.across(self._left, self._right, down - 1, _THIN)
        down = self._lines(text(said("To decide"), self._reader), layout.decide, down + 2)
        self._pen.across(self._left, self._right, down + 4, _THICK)
        self._notes(layout, down + 5)
        self._pen.end_page()
        return self._pen.document()

    def _fitting(self) -> _Layout:
        """The fullest layout that stands on the sheet."""
        room = self._pen.height - MARGIN - self._head.bottom - 2
        made = self._layout(0, _LEAST_NOTE)
        for details, size in ((4, _NOTE), (3, _NOTE), (2, _NOTE), (2, 7.0), (1, 7.0), (1, 6.5), (0, 6.5)):
            made = self._layout(min(details, _MOST_DETAILS), size)
            if made.height <= room:
                return made
        return made

    def _layout(self, details: int, note_size: float) -> _Layout:
        wide = self._right - self._left
        decide = [line for one in decisions(self._rows) for line in self._wrapped(one, wide, _SIZE)]
        notes = [
            line
            for row in self._rows
            for line in self._wrapped(
                said("[{number}] {definition}", number=row.number, definition=row.definition), wide, note_size
            )
        ]
        nothing = [text(said_as("decisions", "nothing"), self._reader)]
        return _Layout(
            tuple(_Block(tuple(self._block(row, details)), row) for row in self._rows),
            tuple(decide or nothing), tuple(notes), note_size,
        )  # fmt: skip

    def _block(self, row: ManagerRow, details: int) -> Iterator[tuple[str, bool]]:
        named = said("{number}  {name} [{number}]", number=row.number, name=row.name)
        for line in self._wrapped(named, self._room, _SIZE, bold=True):
            yield line, True
        for line in self._wrapped(row.figure, self._room - 14, _SIZE):
            yield line, False
        shown = row.details[:details]
        for detail in shown:
            for line in self._wrapped(detail, self._room - 14, _SIZE):
                yield line, False
        left = len(row.details) - len(shown)
        if left:
            yield text(said("... and {n} more in the text of the page", n=left), self._reader), False

    def _wrapped(self, sentence: Said, room: float, size: float, *, bold: bool = False) -> list[str]:
        pen = self._pen
        return wrapped(pen.shown(text(sentence, self._reader)), room, pen.measure(size, bold))

    def _draw(self, block: _Block, top: float) -> None:
        for place, (line, bold) in enumerate(block.lines, 1):
            self._pen.text(self._left + (0 if bold else 14), top + place * _LEADING - 2, line, _SIZE, bold)
        self._chart(block.row, self._right - _CHART_WIDE, top)

    def _chart(self, row: ManagerRow, left: float, top: float) -> None:
        """Eight bars from a base line, each with its value above; a week of which nothing is known has none."""
        pen, each = self._pen, _CHART_WIDE / max(1, len(row.series))
        (label, *_) = self._wrapped(row.weekly, _CHART_WIDE, 7.0)
        base, most = top + 8 + _CHART_HIGH - 2, max((value or 0.0 for value in row.series), default=0.0)
        pen.text(left, base + 7.5, label, 7.0)
        pen.across(left, left + _CHART_WIDE, base, _THIN)
        for place, value in enumerate(row.series):
            along = left + place * each
            high = (_CHART_HIGH - 8) * (value or 0.0) / most if most else 0.0
            if high:
                pen.bar(along + 2, base - high, each - 4, high)
            shown = value_text(value, self._reader)
            pen.text(along + (each - pen.measure(6.0)(shown)) / 2, base - high - 1.5, shown, 6.0)

    def _lines(self, title: str, found: tuple[str, ...], top: float) -> float:
        self._pen.text(self._left, top + _LEADING, title, _SIZE, bold=True)
        for place, line in enumerate(found, 2):
            self._pen.text(self._left, top + place * _LEADING, line, _SIZE)
        return top + (len(found) + 1) * _LEADING

    def _notes(self, layout: _Layout, top: float) -> None:
        leading = _NOTE_LEADING * layout.note_size / _NOTE
        for place, line in enumerate(layout.notes, 1):
            self._pen.text(self._left, top + place * leading, line, layout.note_size)

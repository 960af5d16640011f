"""The head of every drawn page: its title, page x of y, what the paper says of itself, and its seal as a code."""

from __future__ import annotations

from upkeep.papers.frame.frame_rows import FrameCells
from upkeep.papers.frame.pen import Pen
from upkeep.wording.text import wrapped

MARGIN = 28.0
"""Of pages with running text, in points: what every office printer leaves white, and room for a hole punch."""

CODE = 40.0
"""A side of the code of the seal with its empty edge: 33 modules of 0.43 mm."""

_TITLE, _SIZE, _LEADING = 15.0, 10.0, 11.5
_THICK = 1.2


class Head:
    """The head of the pages of one paper; what stands below it begins at :attr:`bottom`."""

    def __init__(self, pen: Pen, title: str, frame: FrameCells, beside: str = "", margin: float = MARGIN) -> None:
        """``beside`` stands behind the title, smaller."""
        self._pen, self._frame, self._beside = pen, frame, pen.shown(beside)
        self._left, self._right = margin, pen.width - margin
        measure = pen.measure(_TITLE, bold=True)
        self._title = wrapped(pen.shown(title), self._right - self._left - 70, measure)
        room = self._right - self._left - CODE * (2 if frame.code else 1)
        shown = map(pen.shown, frame.lines)
        self._lines = [line for text in shown for line in wrapped(text, room, pen.measure(_SIZE))]
        self._top = margin + _TITLE - 3
        high = max(len(self._lines) * _LEADING, CODE - 6)
        self.bottom = margin + len(self._title) * _TITLE + high + 4

    def draw(self, page: str) -> None:
        """Draws it on the page that is begun, ``page`` being which one that is."""
        pen, down = self._pen, self._top
        for line in self._title:
            pen.text(self._left, down, line, _TITLE, bold=True)
            down += _TITLE
        if self._beside:
            along = self._left + pen.measure(_TITLE, bold=True)(self._title[-1]) + 12
            pen.text(along, down - _TITLE, self._beside, _SIZE)
        pen.text_before(self._right, self._top, page, _SIZE, bold=True)
        for place, line in enumerate(self._lines):
            pen.text(self._left, down + place * _LEADING, line, _SIZE)
        pen.code(self._right - CODE + 5, self._top + 1, CODE, self._frame.seal)
        if self._frame.code:
            pen.code(self._right - 2 * CODE, self._top + 1, CODE, self._frame.code)
        pen.across(self._left, self._right, self.bottom, _THICK)

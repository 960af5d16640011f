"""A shift day of the demo plant: its shifts, what is planned on each, and the book as it stands in the morning."""

from __future__ import annotations

from collections.abc import Sequence

from demo_plant.floor import ShiftPlan
from upkeep.book import BoardLine, BoardQuery, Book
from upkeep.frozen import frozen
from upkeep.plant.line_names import LineName
from upkeep.units.shifts import ShiftSpan

ASKED = ("stop", "overdue", "due", "open")
"""The states in which a line is worked on."""

_MOST_ASKED = 300


@frozen
class Day:
    """A shift day.  ``plans`` stand in the order of ``shifts``."""

    book: Book
    shifts: Sequence[ShiftSpan]
    plans: Sequence[ShiftPlan]

    def asked(self) -> list[BoardLine]:
        """What the board asks for, most urgent first."""
        board = self.book.board(self.shifts[0].start, limit=_MOST_ASKED)
        return [line for line in board.rows if line.state in ASKED]

    def line(self, item: str, task: str) -> BoardLine:
        """One line in the morning."""
        return self.book.line(str(LineName(item, task)), self.shifts[0].start)

    def lines(self, task: str) -> Sequence[BoardLine]:
        """All lines of a task in the morning."""
        return self.book.board(self.shifts[0].start, BoardQuery(task=task), limit=_MOST_ASKED).rows

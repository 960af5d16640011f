"""What widgets tell their screen, and the app its screens."""

from __future__ import annotations

from textual.message import Message

from upkeep.said import Said
from upkeep.views.board import BoardLine


class RowsWanted(Message):
    """A list shows rows it does not hold: fetch ``limit`` of them from ``offset`` on."""

    def __init__(self, offset: int, limit: int) -> None:
        self.offset, self.limit = offset, limit
        super().__init__()


class LineSelected(Message):
    """Another line is selected in a list; None: the list is empty or its rows are on their way."""

    def __init__(self, line: BoardLine | None) -> None:
        self.line = line
        super().__init__()


class RowSelected(Message):
    """Another row is selected on the lead's page."""


class CountTyped(Message):
    """Somebody typed a count and pressed Enter; ``text`` is what stands in the field."""

    def __init__(self, text: str) -> None:
        self.text = text
        super().__init__()


class NotTaken(Message):
    """A field did not take what was typed or pasted, and says why; what stood in it stays."""

    def __init__(self, said: Said) -> None:
        self.said = said
        super().__init__()


class Chosen(Message):
    """A number chose one of a few things: go on from there."""


class BookWaits(Message):
    """What was asked or written last waits for another program, which makes the tables of the book again; or has."""

    def __init__(self, over: bool) -> None:
        self.over = over
        super().__init__()


class BookChanged(Message):
    """The book was written to, here or by another process, or the minute changed: what is shown may be old."""


class RoundWanted(Message):
    """Somebody wants to walk the round of a place."""

    def __init__(self, place: str) -> None:
        self.place = place
        super().__init__()


class HomeWanted(Message):
    """Somebody wants to go back to the place where this terminal stands."""


class OverviewWanted(Message):
    """Somebody wants the page the lead begins with."""


class BoardWanted(Message):
    """Somebody wants the board of the whole plant."""

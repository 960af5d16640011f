"""The door: open a book, write entries into it, get frozen views of it.  Front ends hold a :class:`Book`, nothing else.

Here the rules and the file meet; nowhere else do they know of one another.
"""

from upkeep.book.door import Book
from upkeep.keeping.proof import ProofReport
from upkeep.store.remaking import Progress, Watch
from upkeep.views.board import (
    Board,
    BoardLine,
    BoardQuery,
    GaugeChoice,
    Hanging,
    HistoryLine,
    LifeNumbers,
    LineDetail,
    Round,
    SignForm,
    StateChange,
    WeekList,
    WeekRow,
    Written,
)

__all__ = [
    "Board",
    "BoardLine",
    "BoardQuery",
    "Book",
    "GaugeChoice",
    "Hanging",
    "HistoryLine",
    "LifeNumbers",
    "LineDetail",
    "Progress",
    "ProofReport",
    "Round",
    "SignForm",
    "StateChange",
    "Watch",
    "WeekList",
    "WeekRow",
    "Written",
]

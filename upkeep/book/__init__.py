"""The door: open a book, write entries into it, get frozen views of it.  Front ends hold a :class:`Book`, nothing else.

Here the rules and the file meet; nowhere else do they know of one another.
"""

from upkeep.book.door import Book
from upkeep.keeping.proof import ProofReport
from upkeep.store.remaking import Progress, Watch
from upkeep.views.board import Board, BoardLine, BoardQuery, LineDetail
from upkeep.views.items import Hanging, HistoryLine, LifeNumbers
from upkeep.views.round import Round
from upkeep.views.signing import GaugeChoice, SignForm
from upkeep.views.week import WeekList, WeekRow
from upkeep.views.written import StateChange, Written

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

"""The door: open a book, write entries into it, get frozen views of it.  Front ends hold a :class:`Book`, nothing else.

Here the rules and the file meet; nowhere else do they know of one another.
"""

from upkeep.answers.checks.checks import CheckViews
from upkeep.answers.checks.forms import CheckForms
from upkeep.answers.faults.faults import FaultViews
from upkeep.answers.suspect.hold_lists import SuspectViews
from upkeep.answers.wear.wear import WearViews
from upkeep.book.door import Book
from upkeep.keeping.definitions import Known
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
    "CheckForms",
    "CheckViews",
    "FaultViews",
    "GaugeChoice",
    "Hanging",
    "HistoryLine",
    "Known",
    "LifeNumbers",
    "LineDetail",
    "Progress",
    "ProofReport",
    "Round",
    "SignForm",
    "StateChange",
    "SuspectViews",
    "Watch",
    "WearViews",
    "WeekList",
    "WeekRow",
    "Written",
]

"""The door: open a book, write entries into it, get frozen views of it.  Front ends hold a :class:`Book`, nothing else.

Here the rules and the file meet; nowhere else do they know of one another.
"""

from importlib import import_module
from typing import TYPE_CHECKING

from upkeep.book.door import Book

if TYPE_CHECKING:
    from upkeep.answers.checks.checks import CheckViews
    from upkeep.answers.checks.forms import CheckForms
    from upkeep.answers.faults.faults import FaultViews
    from upkeep.answers.suspect.hold_lists import SuspectViews
    from upkeep.answers.wear.wear import WearViews
    from upkeep.book.naming import Naming
    from upkeep.entries.origin import Proven
    from upkeep.keeping.definitions import Known
    from upkeep.keeping.proof import ProofReport
    from upkeep.keys.codes import MustWait, OnlyFirst, WrongCode
    from upkeep.progress import Progress, Watch, nobody
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
    "MustWait",
    "Naming",
    "OnlyFirst",
    "Progress",
    "ProofReport",
    "Proven",
    "Round",
    "SignForm",
    "StateChange",
    "SuspectViews",
    "Watch",
    "WearViews",
    "WeekList",
    "WeekRow",
    "Written",
    "WrongCode",
    "nobody",
]

_ROOMS = {
    "answers.checks.checks": ("CheckViews",),
    "answers.checks.forms": ("CheckForms",),
    "answers.faults.faults": ("FaultViews",),
    "answers.suspect.hold_lists": ("SuspectViews",),
    "answers.wear.wear": ("WearViews",),
    "book.naming": ("Naming",),
    "entries.origin": ("Proven",),
    "keeping.definitions": ("Known",),
    "keeping.proof": ("ProofReport",),
    "keys.codes": ("MustWait", "OnlyFirst", "WrongCode"),
    "progress": ("Progress", "Watch", "nobody"),
    "views.board": ("Board", "BoardLine", "BoardQuery", "LineDetail"),
    "views.items": ("Hanging", "HistoryLine", "LifeNumbers"),
    "views.round": ("Round",),
    "views.signing": ("GaugeChoice", "SignForm"),
    "views.week": ("WeekList", "WeekRow"),
    "views.written": ("StateChange", "Written"),
}
_ROOM_OF = {name: room for room, names in _ROOMS.items() for name in names}


def __getattr__(name: str) -> object:
    """A view by name, its room imported when somebody names it: a command waits for the views it shows."""
    if name not in _ROOM_OF:
        raise AttributeError(name)
    return getattr(import_module(f"upkeep.{_ROOM_OF[name]}"), name)

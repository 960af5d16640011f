"""A frozen view of what one shift hands over to the next."""

from __future__ import annotations

from datetime import datetime

from upkeep.due.holds import HoldReason
from upkeep.frozen import frozen
from upkeep.views.board import BoardLine
from upkeep.views.changeover import Change
from upkeep.views.faults import FaultCase
from upkeep.views.items import HistoryLine
from upkeep.views.jobs import Job, Lock
from upkeep.views.questions import Question


@frozen
class Handed:
    """Who gave or accepted a shift, when, and what they said of it ("": nothing)."""

    name: str
    at: datetime
    text: str


@frozen
class Held:
    """An item that must not run, since when and why."""

    item: str
    since: datetime
    hold: HoldReason


@frozen
class Handover:
    """What a shift leaves to the next, as it stands at ``at``: after it was accepted, as it stood then.

    ``missed`` are lines of each shift that nobody did, ``over`` all others past their latest time.  ``changes`` are
    changes of tools that are open, ``uncounted`` the presses in use that nobody counted in the shift.  ``faults`` are
    open, ``mended`` those that ended in the shift.  ``remarks`` are what people told the lead in it.
    """

    plant: str
    shift: str
    began_at: datetime
    ends_at: datetime
    at: datetime
    given: Handed | None
    accepted: Handed | None
    jobs: tuple[Job, ...]
    changes: tuple[Change, ...]
    locks: tuple[Lock, ...]
    held: tuple[Held, ...]
    faults: tuple[FaultCase, ...]
    mended: tuple[FaultCase, ...]
    missed: tuple[BoardLine, ...]
    over: tuple[BoardLine, ...]
    uncounted: tuple[str, ...]
    questions: tuple[Question, ...]
    remarks: tuple[HistoryLine, ...]

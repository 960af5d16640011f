"""What the book answers to an entry."""

from __future__ import annotations

from dataclasses import field

from upkeep.due.reason_list import Reasons
from upkeep.due.states import State
from upkeep.frozen import frozen
from upkeep.said import Said
from upkeep.views.signing import Caution


@frozen
class StateChange:
    """A line whose state an entry changed."""

    line: str
    before: State
    after: State
    reasons: Reasons


@frozen
class Written:
    """What the book answers to a write: the numbers of the new entries, the lines they moved, what to mind about them,
    and the cautions of the work they sign off."""

    entries: tuple[int, ...]
    changes: tuple[StateChange, ...] = ()
    notes: tuple[Said, ...] = field(default=())
    cautions: tuple[Caution, ...] = ()

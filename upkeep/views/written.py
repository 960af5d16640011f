"""What the book answers to an entry."""

from __future__ import annotations

from dataclasses import field

from upkeep.due.reason_list import Reasons
from upkeep.due.states import State
from upkeep.frozen import frozen
from upkeep.said import Said


@frozen
class StateChange:
    """A line whose state an entry changed."""

    line: str
    before: State
    after: State
    reasons: Reasons


@frozen
class Written:
    """What the book answers to a write: the numbers of the new entries and the lines they moved."""

    entries: tuple[int, ...]
    changes: tuple[StateChange, ...] = ()
    notes: tuple[Said, ...] = field(default=())

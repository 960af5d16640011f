"""The states of a line, in the order a board shows them."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum


class State(StrEnum):
    """Where a line stands at an instant."""

    STOP = "stop"
    HELD = "held"
    OVERDUE = "overdue"
    DUE = "due"
    OPEN = "open"
    LATER = "later"
    PAUSED = "paused"
    NOT_REQUIRED = "not required"


BOARD_ORDER = tuple(State)
"""Most urgent first."""

CALLING = (State.STOP, State.HELD, State.OVERDUE, State.DUE, State.OPEN)
"""The states that ask somebody to do something."""


def state_at(now: datetime, opens_at: datetime, due_at: datetime, overdue_at: datetime, stop_at: datetime) -> State:
    """The state of an active line whose edges are these instants; an edge belongs to the later state."""
    if now >= stop_at:
        return State.STOP
    if now >= overdue_at:
        return State.OVERDUE
    if now >= due_at:
        return State.DUE
    return State.OPEN if now >= opens_at else State.LATER

"""How entries leave an item and its lines standing: the words that rows keep."""

from __future__ import annotations

from enum import StrEnum


class Standing(StrEnum):
    """What keeps an item from running: a hold, or a pause in storage or out of use."""

    HOLD = "hold"
    PAUSE = "pause"


class LineStanding(StrEnum):
    """Whether a line goes by its edges, or the state that overrides them."""

    ACTIVE = "active"
    HELD = "held"
    PAUSED = "paused"
    NOT_REQUIRED = "not required"


class Closing(StrEnum):
    """What takes an occurrence off the board: its work was done, or it was cancelled."""

    DONE = "done"
    CANCELLED = "cancelled"

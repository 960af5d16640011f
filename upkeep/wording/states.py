"""The sign of each state, one for screens and stations alike."""

from __future__ import annotations

from collections.abc import Mapping

from upkeep.due.states import State

SIGNS: Mapping[State, str] = {
    State.STOP: "##",
    State.HELD: "==",
    State.OVERDUE: "!!",
    State.DUE: "!",
    State.OPEN: ">",
    State.LATER: ".",
    State.PAUSED: "||",
    State.NOT_REQUIRED: "-",
}
"""Made of letters any printer has, our own; it stands beside the word and needs no colour."""

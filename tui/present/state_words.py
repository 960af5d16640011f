"""A state as a sign and a word.  The sign is made of letters any printer has; neither needs a colour."""

from __future__ import annotations

from collections.abc import Mapping

from tui.present.words import first_that_fits
from upkeep.due.states import BOARD_ORDER, CALLING, State
from upkeep.units.quantities import grouped

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
"""The sign of each state, our own."""

MEANINGS: Mapping[State, str] = {
    State.STOP: "past its hard stop: must not run until it is done",
    State.HELD: "somebody has put it on hold: must not run until released",
    State.OVERDUE: "past its latest time",
    State.DUE: "due now",
    State.OPEN: "its window is open: may be done now",
    State.LATER: "nothing to do yet",
    State.PAUSED: "in storage or out of use",
    State.NOT_REQUIRED: "not required this time, the item did not run",
}
"""What each state says, in a few words."""


def state_text(state: State) -> str:
    """The sign and the word, ``!! overdue``."""
    return f"{SIGNS[state]:<2} {state.value}"


def states_text(by_state: Mapping[State, int], width: int) -> str:
    """How many lines are in each state, most urgent first; the quiet states are summed up where room is short."""
    quiet = sum(count for state, count in by_state.items() if state not in CALLING)
    calling = _counts(by_state, CALLING)
    return first_that_fits(
        (_counts(by_state, BOARD_ORDER) or "no lines", f"{calling}   {grouped(quiet)} others", calling), width
    )


def _counts(by_state: Mapping[State, int], states: tuple[State, ...]) -> str:
    return "   ".join(
        f"{SIGNS[state]} {grouped(by_state[state])} {state.value}" for state in states if by_state.get(state)
    )

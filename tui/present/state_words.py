"""A state as a sign and a word.  The sign is made of letters any printer has; neither needs a colour."""

from __future__ import annotations

from collections.abc import Mapping

from tui.present.words import first_that_fits
from upkeep.due.states import BOARD_ORDER, CALLING, State
from upkeep.said import Said, said, term
from upkeep.wording.sentences import Reader, count_text, text
from upkeep.wording.states import SIGNS

MEANINGS: Mapping[State, Said] = {
    State.STOP: said("past its hard stop: must not run until it is done"),
    State.HELD: said("somebody has put it on hold: must not run until released"),
    State.OVERDUE: said("past its latest time"),
    State.DUE: said("due now"),
    State.OPEN: said("its window is open: may be done now"),
    State.LATER: said("nothing to do yet"),
    State.PAUSED: said("in storage or out of use"),
    State.NOT_REQUIRED: said("not required this time, the item did not run"),
}
"""What each state says, in a few words."""


def state_text(state: State, reader: Reader) -> str:
    """The sign and the word, ``!! overdue``."""
    return f"{SIGNS[state]:<2} {text(term(state, 'state'), reader)}"


def states_text(by_state: Mapping[State, int], width: int, reader: Reader) -> str:
    """How many lines are in each state, most urgent first; the quiet states are summed up where room is short."""
    quiet = sum(count for state, count in by_state.items() if state not in CALLING)
    calling, every = _counts(by_state, CALLING, reader), _counts(by_state, BOARD_ORDER, reader)
    others = text(said("{n} others", n=quiet), reader)
    return first_that_fits((every or text(said("no lines"), reader), f"{calling}   {others}", calling), width)


def _counts(by_state: Mapping[State, int], states: tuple[State, ...], reader: Reader) -> str:
    return "   ".join(
        f"{SIGNS[state]} {count_text(by_state[state], reader)} {text(term(state, 'state'), reader)}"
        for state in states
        if by_state.get(state)
    )

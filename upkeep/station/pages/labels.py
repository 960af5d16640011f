"""The words on buttons and over fields, and each state in the words of an operator."""

from __future__ import annotations

from collections.abc import Mapping

from upkeep.due.states import State
from upkeep.said import Said, said

LABELS: Mapping[str, Said] = {
    "here": said("Here:"),
    "leave": said("Leave"),
    "back": said("Back"),
    "places": said("Other places"),
    "go_on": said("Go on"),
    "undo": said("Undo"),
    "do": said("Do"),
    "found": said("Found something"),
    "count": said("Count"),
    "later": said("Count later"),
    "caution": said("CAUTION"),
    "gauge": said("Gauge you measured with"),
    "grade": said("Grade"),
    "remark": said("Remark, if there is one"),
    "photo": said("Photo, if it helps"),
    "waiting": said(
        "NOT STORED YET: the network is away, or nobody has said who is here. It is kept here and sent once it can be."
    ),
    "who": said("Who is here?"),
    "which_place": said("Which place is this?"),
    "of_presses": said("Presses"),
    "of_others": said("Other places"),
    "what_found": said("What did you find?"),
    "more": said("More"),
    "own_words": said("Something else, in your own words"),
}
"""What stands on buttons, over fields and in heads, by the name a template has for it."""


def state_said(state: State) -> Said:
    """A state in the words of an operator."""
    return {
        State.STOP: said("past its stop"),
        State.HELD: said("held"),
        State.OVERDUE: said("overdue"),
        State.DUE: said("due"),
        State.OPEN: said("may be done"),
        State.LATER: said("later"),
        State.PAUSED: said("paused"),
        State.NOT_REQUIRED: said("not needed"),
    }[state]

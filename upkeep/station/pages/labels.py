"""The words on buttons and over fields, and each state in the words of an operator."""

from __future__ import annotations

from collections.abc import Mapping

from upkeep.due.states import State
from upkeep.said import Said, said, said_as

LABELS: Mapping[str, Said] = {
    "here": said("Here:"),
    "leave": said_as("button", "Leave"),
    "back": said_as("button", "Back"),
    "places": said_as("button", "Other places"),
    "go_on": said_as("button", "Go on"),
    "undo": said_as("button", "Undo"),
    "do": said_as("button", "Do"),
    "found": said_as("button", "Found something"),
    "count": said_as("button", "Count"),
    "work": said_as("button", "Jobs"),
    "locks": said_as("button", "Locks"),
    "handover": said_as("button", "Handover"),
    "papers": said_as("button", "Papers"),
    "job": said("Begin it, leave it for a while, take it over"),
    "later": said_as("button", "Count later"),
    "change": said_as("button", "Change tools"),
    "pause": said_as("button", "Pause"),
    "give_up": said_as("button", "Give it up"),
    "give_up_why": said("Why it is given up"),
    "stop_here": said("Stop here"),
    "scan": said("Scan a badge, an item or a gauge"),
    "caution": said("CAUTION"),
    "grade": said("Grade"),
    "certificate": said("Its certificate; all empty where none came with it"),
    "photo": said("Photo, if it helps"),
    "waiting": said(
        "NOT STORED YET: the network is away, or nobody has said who is here. It is kept here and sent once it can be."
    ),
    "who": said("Who is here?"),
    "which_place": said("Which place is this?"),
    "language": said("Language of this tablet"),
    "of_presses": said("Presses"),
    "of_others": said("Other places"),
    "what_found": said("What did you find?"),
    "more": said_as("button", "More"),
    "own_words": said("Something else, in your own words"),
}
"""What stands on buttons, over fields and in heads, by the name a template has for it."""


def state_said(state: State) -> Said:
    """A state in the words of an operator."""
    return {
        State.STOP: said_as("state", "past its stop"),
        State.HELD: said_as("state", "held"),
        State.OVERDUE: said_as("state", "overdue"),
        State.DUE: said_as("state", "due"),
        State.OPEN: said_as("state", "may be done"),
        State.LATER: said_as("state", "later"),
        State.PAUSED: said_as("state", "paused"),
        State.NOT_REQUIRED: said_as("state", "not needed"),
    }[state]

"""Why strokes had to be guessed, in words."""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.counting.marks import StrokeDoubt
from upkeep.said import Said, enumerated, said

_WHY = {
    StrokeDoubt.NOT_TAKEN: said("a count was not taken"),
    StrokeDoubt.UNKNOWN: said("nobody knows what a counter showed when it was replaced"),
    StrokeDoubt.SET_BACK: said("nobody read what a counter showed when it was set back"),
    StrokeDoubt.ROLLED_OVER: said("a counter can have rolled over more than once"),
    StrokeDoubt.STOOD_STILL: said("a counter stood still, and the pieces made meanwhile are taken for its strokes"),
}


def why_guessed(doubts: Sequence[str]) -> Said:
    """The reasons, or that a count was not taken where nothing else is known."""
    reasons = [_WHY[StrokeDoubt(doubt)] for doubt in doubts] or [_WHY[StrokeDoubt.NOT_TAKEN]]
    return reasons[0] if len(reasons) == 1 else said("{reasons}", reasons=enumerated(reasons))

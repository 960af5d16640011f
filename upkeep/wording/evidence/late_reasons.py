"""Why work was late: picked from a list, or said in words.  Work of shifts is missed and never late, and not asked."""

from __future__ import annotations

from upkeep.due.states import State
from upkeep.said import Said, listed, said, term
from upkeep.views.board import BoardLine

REASONS = (
    "the press had to run",
    "nobody was free",
    "a spare or a gauge was missing",
    "the item was not at hand",
    "it was forgotten",
)
"""Reasons to pick from, by their number from 1 on (common practice, no source)."""


def is_late(line: BoardLine) -> bool:
    """Whether a line is past its window, and work that is late then."""
    return line.state in (State.OVERDUE, State.STOP) and not line.each_shift


def picked(words: str) -> str:
    """The reason somebody picked by its number; other words as they are."""
    place = int(words) if words.strip().isdecimal() and words.strip().isascii() else 0
    return REASONS[place - 1] if 1 <= place <= len(REASONS) else words.strip()


def why_late() -> Said:
    """The question of a form where work is late."""
    reasons = listed(said("{n} {reason}", n=n, reason=term(reason, "late")) for n, reason in enumerate(REASONS, 1))
    return said("It is late. Why? In your words, or {reasons}", reasons=reasons)

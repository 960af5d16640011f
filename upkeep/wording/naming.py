"""How far the names on a paper can be relied on: the one place where that is said."""

from __future__ import annotations

from upkeep.plant.values.facts import SignedWith
from upkeep.said import Said, said


def names_said(signed_with: str) -> Said:
    """Whether the names in a plant are given or proven (:class:`upkeep.plant.model.SignedWith`)."""
    if signed_with == SignedWith.CODES:
        return said(
            "Names are proven by code, password, token or on paper; 'strokebook history --json' says how each was."
        )
    return said("Names are given, not proven.")

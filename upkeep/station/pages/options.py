"""Something to choose among others."""

from __future__ import annotations

from upkeep.frozen import frozen
from upkeep.said import Said


@frozen
class Option:
    """Something to choose: its value, its words, whether it is chosen, and whether it may be."""

    value: str
    says: Said
    chosen: bool
    valid: bool = True

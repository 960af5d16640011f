"""Frozen view of what stands out in how work was signed: for the lead alone, and no judgement."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum

from upkeep.frozen import frozen
from upkeep.said import Said


class HintKind(StrEnum):
    """What was seen."""

    BURST = "signed fast"
    RUNNING = "signed while the press ran"
    SAME = "always the same value"
    AFAR = "signed far off"
    AGAIN = "look at it again"
    LOOKED = "looked at again"


@frozen
class Hint:
    """One thing that was seen: by whose name, when (UTC), the numbers of the entries, and what was seen with its
    arithmetic."""

    kind: HintKind
    by: str
    name: str
    at: datetime
    entries: tuple[int, ...]
    seen: Said


@frozen
class Hints:
    """What was seen over [since, until), newest first.  ``agreed``: by which agreement the plant looks; None: it does
    not, and then there is nothing here."""

    agreed: str | None
    since: datetime
    until: datetime
    hints: tuple[Hint, ...]

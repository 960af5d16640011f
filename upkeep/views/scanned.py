"""What a scanned code stands for, as frozen views.  Badges are none of these: they say who is here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from upkeep.frozen import frozen
from upkeep.seals.judging import SealFound
from upkeep.views.signing import GaugeChoice

if TYPE_CHECKING:
    from upkeep.due.holds import HoldReason


@frozen
class ScannedItem:
    """An item: where it is now, what it sits in, the press it hangs on (itself, of a press), why it is held (None: it
    is not), and, of a gauge, whether it counts."""

    item: str
    kind: str
    title: str
    place: str
    inside: str | None
    press: str | None
    hold: HoldReason | None
    gauge: GaugeChoice | None


@frozen
class ScannedRow:
    """A row of a printed week: the revision at its head, its number, and the letters of its line ("": the program that
    printed it wrote none)."""

    revision: int
    row: int
    letters: str = ""


Scanned = ScannedItem | ScannedRow | SealFound

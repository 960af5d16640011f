"""Frozen views of items: their strokes, their history, what sits in them, what is held."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from upkeep.entries.origin import Proof, WayIn
from upkeep.frozen import frozen

if TYPE_CHECKING:
    from upkeep.counting.marks import StrokeDoubt
    from upkeep.due.holds import HoldReason


@frozen
class HistoryLine:
    """One entry about an item or line, as the book holds it.  ``text`` is its one-line text in plant time, without how
    it came in: ``way_in``, ``station``, ``proof`` and ``entered_by`` (see :class:`upkeep.entries.origin.Origin`).

    ``struck_by``/``corrected_by`` name the later entry that took its effect; the entry itself stays visible.
    ``clock_went_back``: it says it was written earlier than the entry before it, by more than anybody waits.
    """

    entry: int
    at: datetime
    recorded_at: datetime
    shift_day: str
    by: str
    by_name: str
    kind: str
    text: str
    struck_by: int | None = None
    corrected_by: int | None = None
    way_in: WayIn = WayIn.NOT_KNOWN
    station: str | None = None
    proof: Proof = Proof.NOT_KNOWN
    entered_by: str | None = None
    clock_went_back: bool = False


@frozen
class LastRework:
    """The last rework of a part: when, by which entry, how many strokes it was granted and by whom (a name); what it
    measured before and after, each point with its unit ("" where the plant names none)."""

    at: datetime
    entry: int
    granted: int
    granted_by: str
    before: tuple[tuple[str, tuple[float, ...], str], ...]
    after: tuple[tuple[str, tuple[float, ...], str], ...]


@frozen
class LifeNumbers:
    """Strokes of an item, each low/best/high: since new, since its last rework, since its last graded inspection.

    ``reworks`` counts the reworks; ``life_left`` is what is left of its life, with the strokes done at their high;
    None where no life is set for it.  ``life_unknown``: nobody knows what it has done, and none is left until it is
    inspected.  ``before_book`` of the strokes since new were done before it came into this book.  ``doubts`` are why
    strokes since new had to be guessed; none where only counts were not taken.
    """

    item: str
    since_new: tuple[int, int, int]
    since_rework: tuple[int, int, int] | None
    since_inspection: tuple[int, int, int] | None
    reworks: int
    life_left: int | None
    estimated: bool
    inspected_at: datetime | None
    counted_until: datetime | None
    unattributed: int | None = None
    life_unknown: bool = False
    doubts: tuple[StrokeDoubt, ...] = ()
    before_book: int = 0
    last_rework: LastRework | None = None


@frozen
class Hanging:
    """What hangs on a place: an item, what it sits in, and why it is held (None: it may run)."""

    item: str
    kind: str
    title: str
    inside: str | None
    depth: int
    hold: HoldReason | None


class HeldItem(NamedTuple):
    """An item that must not run, since when and why."""

    item: str
    since: datetime
    reason: HoldReason

    @property
    def points(self) -> tuple[str, ...]:
        """The characteristics that were measured bad; none where something else holds it."""
        from upkeep.due.holds import FailedCheck, ToAdjust  # where there is a hold, its kinds are there

        return self.reason.points if isinstance(self.reason, FailedCheck | ToAdjust) else ()

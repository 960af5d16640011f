"""Whether a gauge counted at a moment, looked up in the book."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from upkeep.book.reading import Views
from upkeep.store.found import Found
from upkeep.units.instants import utc_text


@dataclass(frozen=True, slots=True)
class GaugeState:
    """Whether a gauge was valid, and why."""

    valid: bool
    why: str


class GaugeStates:
    """Answers many moments for few gauges."""

    def __init__(self, views: Views) -> None:
        self._found = Found(views.file)

    def at(self, gauge: str, moment: datetime) -> GaugeState:
        """The state of a gauge at a moment."""
        return GaugeState(not self._found.misread_after(gauge, utc_text(moment)), "found to read wrong")

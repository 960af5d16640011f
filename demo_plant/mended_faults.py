"""What operators of the demo plant report, and how it is mended: taken, checked, fixed, verified, closed.

Each symptom has a cause that is behind it most of the time in this plant, which the printed list does not know.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import partial
from random import Random

from demo_plant.crew import Crew
from demo_plant.notebook import Notebook, minutes
from upkeep.entries.entry import Entry
from upkeep.entries.faults import Fault, Repair
from upkeep.plant.model import Role
from upkeep.quality.symptoms import ADJUSTED, Symptom, named
from upkeep.units.shifts import ShiftSpan

SYMPTOMS = (
    "not-fed", "not-fed", "height-high", "height-scatters", "burr-one-side", "cut-off-tab", "terminal-bent",
    "insulation", "noise-heat",
)  # fmt: skip
"""What is seen, by the id in the list of symptoms; the first is seen twice as often."""

_MOSTLY = {"not-fed": "feed-parts", "height-scatters": "debris", "insulation": "worn"}
_MOSTLY_SHARE = 0.7
_ADJUSTED_SHARE = 0.08
_LATELY = timedelta(days=60)
"""Within this the third report of a symptom on an item is looked into.  Invented for the demo."""

_PROOFS = ("hand-cycle", "first-piece", "guard", "pull")


@dataclass(slots=True)
class MendedFaults:
    """Reports faults and answers them on the next shift day; ``rng`` is its own."""

    crew: Crew
    notebook: Notebook
    rng: Random
    _seen: dict[tuple[str, str], list[datetime]] = field(default_factory=lambda: defaultdict(list))

    def report(self, item: str, listed: str, at: datetime, by: str) -> None:
        """An operator reports what was seen; nothing is stopped."""
        seen = named(listed)
        self._seen[item, listed].append(at)
        fault = Fault(at=at, by=by, item=item, symptom=seen.title, listed=listed)
        self.notebook.note(fault, answer=partial(self._mended, seen, item))

    def _mended(self, seen: Symptom, item: str, number: int, shift: ShiftSpan) -> Entry:
        by, at = self.crew.one(shift, Role.TECHNICIAN), shift.start + minutes(self.rng.randint(25, 90))
        for step in self._steps(seen, item, number, at, by, self.crew.one(shift, Role.OPERATOR)):
            self.notebook.note(step)
        return Repair(at=at, by=by, fault=number, stage="taken")

    def _steps(self, seen: Symptom, item: str, number: int, at: datetime, by: str, operator: str) -> Iterator[Repair]:
        cause = self._cause(seen)
        for place, check in enumerate(seen.checks[:3]):
            at += minutes(self.rng.randint(2, 6))
            last = place == min(2, len(seen.checks) - 1)
            yield Repair(at=at, by=by, fault=number, stage="checked", what=(check.id,), yes=not last)
        at += minutes(self.rng.randint(5, 30))
        done = "adjusted until it ran" if cause == ADJUSTED else f"{dict(_words(seen)).get(cause, cause)}: put right"
        yield Repair(at=at, by=by, fault=number, stage="fixed", cause=cause, text=done)
        at += minutes(self.rng.randint(4, 12))
        yield Repair(at=at, by=operator, fault=number, stage="verified", what=_PROOFS)
        if cause != ADJUSTED:
            yield from self._analysed(item, seen, number, cause, at)
            yield Repair(at=at + minutes(3), by=by, fault=number, stage="closed")

    def _analysed(self, item: str, seen: Symptom, number: int, cause: str, at: datetime) -> Iterator[Repair]:
        """The lead looks for the root of what keeps coming back."""
        reports = self._seen[item, seen.id]
        if len([report for report in reports if at - report < _LATELY]) > 2:
            lead = self.crew.alone(Role.LEAD)
            text = "looked at together with the shift"
            yield Repair(at=at + minutes(2), by=lead, fault=number, stage="analysed", cause=cause, text=text)
            reports.clear()

    def _cause(self, seen: Symptom) -> str:
        if self.rng.random() < _ADJUSTED_SHARE:
            return ADJUSTED
        known = [cause.id for cause in seen.causes]
        mostly = _MOSTLY.get(seen.id)
        if mostly in known and self.rng.random() < _MOSTLY_SHARE:
            return str(mostly)
        return self.rng.choice(known)


def _words(seen: Symptom) -> list[tuple[str, str]]:
    return [(cause.id, cause.title) for cause in seen.causes]

"""A story over some days: a punch chips, its die set is graded 4 and held, gets a new punch, and is released."""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from datetime import datetime, timedelta
from functools import partial

from demo_plant.day import Day
from demo_plant.floor import Floor
from demo_plant.notebook import minutes
from demo_plant.tool_changes import change_die_set
from upkeep.entries.entry import Entry
from upkeep.entries.faults import Fault, Hold, Release, Repair
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.planning import Define
from upkeep.plant.definition import Definition
from upkeep.plant.model import Item, Kind, Role
from upkeep.units.shifts import ShiftSpan


@dataclass(slots=True)
class ChippedPunch:
    """The story.  ``die_set`` is the one it is about, from the day the punch chips until the set is released."""

    die_set: str | None = None
    _reworked_at: datetime | None = None
    _fault: int | None = None

    def chip(self, floor: Floor, shift: ShiftSpan, press: str, at: datetime) -> timedelta:
        """A change of tools after the operator saw a burr: the set comes out, is inspected, graded 4 and held."""
        self.die_set = die_set = floor.shop.die_set_on(press)
        if die_set is None:
            return timedelta()
        operator, technician, quality = (
            floor.crew.one(shift, role) for role in (Role.OPERATOR, Role.TECHNICIAN, Role.QUALITY)
        )
        floor.wear.chipped.add(die_set)
        stopped = at + minutes(10)
        fault = Fault(
            at=stopped,
            by=operator,
            item=die_set,
            symptom="Burr or flash on one side",
            listed="burr-one-side",
            stopped=True,
        )
        floor.notebook.note(fault, answer=partial(self._taken, technician))
        stands = change_die_set(floor, shift, press, stopped)
        inspection = floor.tasks["die-inspection"]
        seen = "one leg of the conductor punch is chipped"
        floor.notebook.note(floor.sign(inspection, die_set, EXTRA, at + minutes(45), technician, seen))
        because = "grade 4: conductor punch chipped, burr over its limit"
        floor.notebook.note(Hold(at=at + minutes(60), by=quality, item=die_set, because=because))
        floor.shop.away.add(die_set)
        return minutes(10) + stands

    def _taken(self, by: str, number: int, shift: ShiftSpan) -> Entry:
        self._fault = number
        return Repair(at=shift.start + minutes(30), by=by, fault=number, stage="taken")

    def replace_punch(self, floor: Floor, day: Day) -> None:
        """A new punch goes in, the chipped one is scrapped; the set is inspected again and signed as reworked."""
        spares = floor.shop.free(Kind.CONDUCTOR_PUNCH)
        old = floor.shop.held_by(self.die_set, Kind.CONDUCTOR_PUNCH) if self.die_set else None
        if self.die_set is None or old is None or not spares:
            return
        shift, new = day.shifts[0], spares[0]
        by, at = floor.crew.one(shift, Role.TECHNICIAN), shift.start
        floor.notebook.note(Unfit(at=at + minutes(60), by=by, item=old))
        floor.notebook.note(Fit(at=at + minutes(70), by=by, item=new, inside=self.die_set))
        floor.notebook.note(_scrapped(floor.shop.items[old], at + minutes(75), floor.crew.one(shift, Role.LEAD)))
        floor.shop.take_out(old)
        floor.shop.inside[new] = self.die_set
        floor.shop.items[old] = replace(floor.shop.items[old], scrapped=shift.day)
        floor.wear.make_as_new(self.die_set)
        self._reworked_at = at
        if self._fault is not None:
            done = f"{old} out and scrapped, {new} in"
            floor.notebook.note(
                Repair(at=at + minutes(100), by=by, fault=self._fault, stage="fixed", cause="chipped", text=done)
            )
            proofs = ("hand-cycle", "first-piece", "guard", "pull")
            tried = at + minutes(125), floor.crew.one(shift, Role.OPERATOR)
            floor.notebook.note(Repair(at=tried[0], by=tried[1], fault=self._fault, stage="verified", what=proofs))
        self._sign_rework(floor, day, by, f"{old} out and scrapped, {new} in")

    def _sign_rework(self, floor: Floor, day: Day, by: str, remark: str) -> None:
        die_set, at = str(self.die_set), day.shifts[0].start
        inspection, rework = floor.tasks["die-inspection"], floor.tasks["die-rework"]
        asked = day.line(die_set, rework.id).occurrence
        signed = floor.sign(rework, die_set, asked, at + minutes(110), by, remark)
        floor.notebook.note(signed, answer=floor.verification)
        floor.notebook.note(floor.sign(inspection, die_set, EXTRA, at + minutes(120), by, remark))

    def release_once_verified(self, floor: Floor, shift: ShiftSpan) -> None:
        """Quality lets the set run again on the second shift day after the rework; before that nothing happens."""
        if self.die_set is None or self._reworked_at is None or shift.start - self._reworked_at < timedelta(hours=30):
            return
        at, by = shift.start + minutes(70), floor.crew.one(shift, Role.QUALITY)
        because = "new conductor punch, inspected grade 0, verified"
        floor.notebook.note(Release(at=at, by=by, item=self.die_set, because=because))
        floor.shop.away.discard(self.die_set)
        self.die_set = None


def _scrapped(item: Item, at: datetime, by: str) -> Define:
    given = {name: value for name, value in asdict(item).items() if value is not None}
    definition = Definition("item", item.id, {**given, "scrapped": at.date().isoformat()})
    return Define(at=at, by=by, what="item", key=item.id, content=definition.text, because="chipped")

"""What does not go by plan in the demo plant: one of each, at fixed shares of its history."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import timedelta
from functools import partial

from demo_plant.bad_bellmouth import BadBellmouth
from demo_plant.chipped_punch import ChippedPunch
from demo_plant.day import Day
from demo_plant.floor import Floor
from demo_plant.notebook import minutes
from demo_plant.tool_changes import change_module, change_module_uncounted
from upkeep.entries.checking import OutOfTolerance
from upkeep.entries.faults import Fault, Hold, Pause, Resume
from upkeep.entries.signing import Sign
from upkeep.plant.model import Kind, Role
from upkeep.units.shifts import ShiftSpan

_SHORTEST = 20
"""Shift days that the stories need to follow one another."""

_LATE_LUBRICATION = "P-06/lube-press"


@dataclass(slots=True)
class Incidents:
    """What happens over ``days`` shift days.  ``postponed`` are the lines that nobody takes up meanwhile."""

    floor: Floor
    days: int
    chipped: ChippedPunch
    bellmouth: BadBellmouth
    postponed: set[str] = field(default_factory=set)
    _stored: list[str] = field(default_factory=list)
    _left: str | None = None

    def happen(self, number: int, day: Day) -> None:
        """Whatever falls on a shift day, counted from 0; nothing in a history too short for these stories."""
        if self.days < _SHORTEST:
            return
        for share, incident in _CALENDAR:
            if int(share * self.days) == number:
                incident(self, day)
        self.chipped.release_once_verified(self.floor, day.shifts[0])
        self._take_the_left_set_off(day)

    # Counts

    def forget_a_count(self, day: Day) -> None:
        """Nobody reads a counter on the late shift."""
        day.plans[-1].unread.add("P-05")

    def misread_a_count(self, day: Day) -> None:
        """A count with two figures swapped, near enough to be taken; corrected the next morning."""
        day.plans[0].misread.add("P-08")
        day.plans[0].runs("P-08")
        day.plans[0].changes.pop("P-08", None)

    def change_without_a_count(self, day: Day) -> None:
        """A module is changed and nobody reads the counter: what each of the two did stays an estimate."""
        day.plans[0].runs("P-10")
        day.plans[0].changes["P-10"] = change_module_uncounted

    # Signatures

    def sign_on_paper(self, day: Day) -> None:
        """A late shift's daily work is written on paper, and typed in on the next working day."""
        shift = day.book.calendar.next_from(day.shifts[-1].end + timedelta(hours=12))
        if shift is not None:
            day.plans[-1].runs("P-07")
            day.plans[-1].on_paper["P-07"] = shift.start + minutes(35)

    def put_a_lubrication_off(self, day: Day) -> None:
        """A press is not lubricated when it should be."""
        self.postponed.add(_LATE_LUBRICATION)

    def take_the_lubrication_up(self, day: Day) -> None:
        """It is, late, and stays late."""
        self.postponed.discard(_LATE_LUBRICATION)

    # Items

    def store_two_sets(self, day: Day) -> None:
        """Two die sets without orders go into the dry store."""
        shift = day.shifts[0]
        by = self.floor.crew.one(shift, Role.STORES)
        self._stored = self.floor.shop.free(Kind.DIE_SET)[-2:]
        for place, die_set in enumerate(self._stored):
            because = "no orders for this terminal; oiled, in the dry store R-06"
            self.floor.notebook.note(
                Pause(at=shift.start + minutes(90 + 10 * place), by=by, item=die_set, because=because)
            )
            self.floor.shop.away.add(die_set)

    def bring_a_set_back(self, day: Day) -> None:
        """One of them comes back, and is made ready the next morning, before its first use."""
        if self._stored:
            die_set, shift = self._stored.pop(), day.shifts[0]
            by, at = self.floor.crew.one(shift, Role.STORES), shift.start + minutes(75)
            back = Resume(at=at, by=by, item=die_set, because="an order for this terminal")
            self.floor.notebook.note(back, answer=partial(self._made_ready, die_set))
            self.postponed.add(f"{die_set}/first-use")

    def _made_ready(self, die_set: str, number: int, shift: ShiftSpan) -> Sign:
        by, at = self.floor.crew.one(shift, Role.SETUP), shift.start + minutes(15)
        self.floor.shop.away.discard(die_set)
        remark = "no rust, hand cycle free, first piece within limits"
        return self.floor.sign(self.floor.tasks["first-use"], die_set, f"storage.{number}", at, by, remark)

    def hold_a_gauge(self, day: Day) -> None:
        """A micrometer is dropped, and held until it is calibrated."""
        shift, note = day.shifts[0], self.floor.notebook.note
        at, by = shift.start + minutes(130), self.floor.crew.one(shift, Role.QUALITY)
        note(Fault(at=at, by=by, item="G-02", symptom="Dropped on the floor", stopped=True))
        because = "dropped; not used until it is calibrated"
        note(Hold(at=at + minutes(4), by=by, item="G-02", because=because))
        self.floor.shop.away.add("G-02")

    def find_a_gauge_wrong(self, day: Day) -> None:
        """The dropped micrometer is measured against its block: it reads 8 um low."""
        shift = day.shifts[0]
        at, by = shift.start + minutes(140), self.floor.crew.one(shift, Role.QUALITY)
        self.floor.notebook.note(
            OutOfTolerance(at=at, by=by, item="G-02", off=-0.008, because="against the check block")
        )

    # A bad bellmouth

    def fail_a_sample(self, day: Day) -> None:
        """A sample shows a bad bellmouth while a press runs."""
        day.plans[0].runs("P-03")
        day.plans[0].changes["P-03"] = self.bellmouth.fail

    def judge_the_product(self, day: Day) -> None:
        """Quality judges what is suspect."""
        self.bellmouth.judge(self.floor, day)

    def fail_another_sample(self, day: Day) -> None:
        """It happens again, on another press, shortly before the history ends."""
        day.plans[0].runs("P-06")
        day.plans[0].changes["P-06"] = self.bellmouth.fail

    # A chipped punch

    def chip_a_punch(self, day: Day) -> None:
        """A punch chips while its press runs."""
        day.plans[0].runs("P-02")
        day.plans[0].changes["P-02"] = self.chipped.chip
        self.postponed.add(f"{self.floor.shop.die_set_on('P-02')}/die-inspection")

    def replace_the_punch(self, day: Day) -> None:
        """Some days later the new punch is there."""
        self.postponed.discard(f"{self.chipped.die_set}/die-inspection")
        self.chipped.replace_punch(self.floor, day)

    # A die inspection that is left

    def leave_an_inspection(self, day: Day) -> None:
        """The next die inspection to come due on a press is left; what is due already is done."""
        coming = [
            (line.remaining, line.item)
            for line in day.lines("die-inspection")
            if line.remaining is not None and line.remaining > 0 and self.floor.shop.press_of(line.item) is not None
        ]
        if coming:
            self._left = min(coming)[1]
            self.postponed.add(f"{self._left}/die-inspection")

    def _take_the_left_set_off(self, day: Day) -> None:
        """It stays on its press until it is due; then its module waits in the rack and does not run on to its stop."""
        press = self.floor.shop.press_of(self._left) if self._left else None
        if self._left is None or press is None:
            return
        remaining = day.line(self._left, "die-inspection").remaining
        for plan in day.plans:
            plan.runs(press)
            plan.changes.pop(press, None)
        if remaining is not None and remaining <= 0:
            day.plans[0].changes[press] = change_module


_CALENDAR: tuple[tuple[float, Callable[[Incidents, Day], None]], ...] = (
    (0.08, Incidents.store_two_sets),
    (0.15, Incidents.forget_a_count),
    (0.30, Incidents.misread_a_count),
    (0.40, Incidents.chip_a_punch),
    (0.45, Incidents.replace_the_punch),
    (0.50, Incidents.fail_a_sample),
    (0.55, Incidents.sign_on_paper),
    (0.60, Incidents.judge_the_product),
    (0.62, Incidents.put_a_lubrication_off),
    (0.70, Incidents.bring_a_set_back),
    (0.78, Incidents.take_the_lubrication_up),
    (0.82, Incidents.leave_an_inspection),
    (0.88, Incidents.change_without_a_count),
    (0.92, Incidents.hold_a_gauge),
    (0.95, Incidents.find_a_gauge_wrong),
    (0.97, Incidents.fail_another_sample),
)
"""What happens when this share of the history's shift days has passed."""

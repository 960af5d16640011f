"""The floor of the demo plant: what everybody who works there has at hand, and what is planned for a shift."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from random import Random

from demo_plant.checking import Checks
from demo_plant.crew import Crew
from demo_plant.measuring import Points, Wear
from demo_plant.mended_faults import MendedFaults
from demo_plant.notebook import Notebook, minutes
from demo_plant.shop import Shop
from demo_plant.worn_punches import WornPunches
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.signing import Sign, Verify, measured_with
from upkeep.plant.model import Kind, Point, Role, Task
from upkeep.plant.values.gauging import gauge_class_of
from upkeep.units.shifts import ShiftSpan


@dataclass(slots=True)
class Floor:
    """Everything a shift needs.  ``tasks`` are all tasks by id; ``rates`` the strokes an hour each press is run at;
    ``idle`` the share of the shifts on which it is not.
    """

    rng: Random
    shop: Shop
    crew: Crew
    wear: Wear
    notebook: Notebook
    tasks: dict[str, Task]
    rates: dict[str, float]
    idle: dict[str, float]
    checks: Checks
    worn_punches: WornPunches
    faults: MendedFaults

    def _gauges_for(self, task: Task) -> dict[str, str | None]:
        """The gauge of each point of a task; of the first kind any that is there, of others the one of the shop."""
        used: dict[str, str] = {}
        for kind in filter(None, (gauge_class_of(task, point) for point in task.points)):
            fitting = self._gauges_of(kind)
            if kind not in used and fitting:
                used[kind] = fitting[0] if used else self.rng.choice(fitting)
        return {point.id: used.get(gauge_class_of(task, point) or "") for point in task.points}

    def _gauges_of(self, kind: str) -> list[str]:
        gauges = [gauge for gauge in self.shop.of_kind(Kind.GAUGE) if gauge not in self.shop.away]
        return [gauge for gauge in gauges if self.shop.items[gauge].gauge_class == kind]

    def sign(self, task: Task, item: str, occurrence: str, at: datetime, by: str, remark: str = "") -> Sign:
        """The sign-off of a task with what was measured and found."""
        points: Points = ()
        if task.graded or occurrence != EXTRA:
            points = tuple((point.id, self._readings(point, item)) for point in task.points)
        grade = self.wear.grade(item, points) if task.graded else None
        sign = Sign(at=at, by=by, task=task.id, item=item, occurrence=occurrence, points=points, grade=grade,
                    remark=remark)  # fmt: skip
        return measured_with(sign, self._gauges_for(task)) if points else sign

    def _readings(self, point: Point, item: str) -> tuple[float, ...]:
        on_pieces = self.checks.on_pieces(point, item)
        return self.wear.readings(point, item) if on_pieces is None else on_pieces

    def verification(self, number: int, shift: ShiftSpan) -> Entry:
        """The second signature of quality on a sign-off, early on the next shift day."""
        by = self.crew.one(shift, Role.QUALITY)
        return Verify(at=shift.start + minutes(50), by=by, entry=number)

    def read(self, press: str, at: datetime, by: str, too_much: int = 0) -> Count:
        """The entry of a counter reading; ``too_much`` is a slip of the reader."""
        rolled_over = self.shop.has_rolled_over(press)
        self.shop.mark_read(press)
        return Count(at=at, by=by, press=press, value=self.shop.shown(press) + too_much, rolled_over=rolled_over)

    def count_at_change(self, press: str, at: datetime, by: str) -> int:
        """The figure noted with a fitting; a counter that rolled over meanwhile gets a reading of its own first."""
        if self.shop.has_rolled_over(press):
            self.notebook.note(self.read(press, at - minutes(1), by))
        self.shop.mark_read(press)
        return self.shop.shown(press)


Change = Callable[[Floor, ShiftSpan, str, datetime], timedelta]
"""A change of tools on a press at a moment: writes it down and gives how long the press stands."""


@dataclass(slots=True)
class ShiftPlan:
    """What is planned, or goes wrong, on one shift.  ``readings`` are taken besides the shift's own, by whom;
    ``unread`` presses get no count at the start, ``misread`` ones a wrong one; the daily work of those ``on_paper`` is
    typed in at a later moment; ``on_the_bench`` a die set is changed off the presses.  The last
    shift of a day also reads every counter when it leaves.
    """

    idle: set[str] = field(default_factory=set)
    changes: dict[str, Change] = field(default_factory=dict)
    readings: dict[str, list[tuple[datetime, str]]] = field(default_factory=dict)
    unread: set[str] = field(default_factory=set)
    misread: set[str] = field(default_factory=set)
    on_paper: dict[str, datetime] = field(default_factory=dict)
    on_the_bench: bool = False
    is_last: bool = False

    def runs(self, press: str) -> None:
        """A press that is needed runs."""
        self.idle.discard(press)

    def reads(self, press: str, at: datetime, by: str) -> None:
        """Somebody reads a counter; not a misread one, whose true count would soon after seem to go back."""
        if press not in self.misread:
            self.readings.setdefault(press, []).append((at, by))

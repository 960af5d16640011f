"""A story: a sample shows a bad bellmouth, the set comes off, what it made is looked at, and quality judges it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta

from demo_plant.day import Day
from demo_plant.floor import Floor
from demo_plant.notebook import minutes
from demo_plant.tool_changes import change_module
from upkeep.entries.faults import Release
from upkeep.entries.suspect import Disposition
from upkeep.plant.model import Role
from upkeep.units.instants import utc_text
from upkeep.units.shifts import ShiftSpan


@dataclass(slots=True)
class BadBellmouth:
    """The story; ``sets`` are the die sets that wait for a judgement."""

    sets: list[str] = field(default_factory=list)

    def fail(self, floor: Floor, shift: ShiftSpan, press: str, at: datetime) -> timedelta:
        """A change of tools after a sample that failed: the count, the check, the module off."""
        operator, quality = floor.crew.one(shift, Role.OPERATOR), floor.crew.one(shift, Role.QUALITY)
        floor.notebook.note(floor.read(press, at, operator))
        die_set = floor.checks.failed_look(press, at, quality)
        if die_set is None:
            return timedelta()
        stands = change_module(floor, shift, press, at + minutes(6))
        floor.shop.away.add(die_set)
        self.sets.append(die_set)
        return stands + minutes(6)

    def judge(self, floor: Floor, day: Day) -> None:
        """Quality writes down what became of each line; the feed was the cause, and the set is released."""
        shift = day.shifts[0]
        by, at = floor.crew.one(shift, Role.QUALITY), shift.start + minutes(40)
        for die_set in self.sets:
            for held in day.book.suspects(shift.start).lists(die_set):
                for line in (line for line in held.lines if line.open):
                    because = f"all of {line.strokes:,} looked at, 14 scrapped, the rest good; bins 11 to 13"
                    since = utc_text(line.since)
                    floor.notebook.note(
                        Disposition(
                            at=at, by=by, list=held.number, press=line.press, since=since, how="sorted", because=because
                        )
                    )  # fmt: skip
            because = "feed stop was loose; set, 20 pieces measured and looked at"
            floor.notebook.note(Release(at=at + minutes(10), by=by, item=die_set, because=because))
            floor.shop.away.discard(die_set)
        self.sets = []

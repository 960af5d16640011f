"""Die sets held because their slug height jumped: looked at the next morning, and released where it was wear."""

from __future__ import annotations

from demo_plant.day import Day
from demo_plant.floor import Floor
from demo_plant.notebook import minutes
from upkeep.entries.faults import Release
from upkeep.plant.model import Role
from upkeep.quality.jumps import SLUG_JUMP


def release_jumps(floor: Floor, day: Day) -> None:
    """Quality measures again first thing, with the gauge and the shut height of the press checked."""
    shift = day.shifts[0]
    by, at = floor.crew.one(shift, Role.QUALITY), shift.start + minutes(6)
    for held in day.book.holds():
        if SLUG_JUMP in held.points:
            because = "gauge and shut height checked, measured again: wear since it was last on a press"
            floor.notebook.note(Release(at=at, by=by, item=held.item, because=because))

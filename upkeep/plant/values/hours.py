"""What people.csv says of working hours, held against the shifts of plant.toml and the areas of places.csv."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.plant.definition import Problem, near, quoted
from upkeep.plant.rows import Sheet
from upkeep.said import said


def hours_astray(people: Sheet, plant: Sheet, places: Sheet) -> Iterator[Problem]:
    """A problem for each shift or area of somebody that the plant has not."""
    shifts = [shift.get("name", "") for _, row in plant.rows for shift in row.content.get("shifts", [])]
    areas = sorted({row.content["area"] for _, row in places.rows if "area" in row.content})
    for given, definition in people.rows:
        for shift in definition.content.get("shifts", []):
            if plant.whole and shift not in shifts:
                allowed = said("names of shifts in plant.toml{near}", near=near(shift, shifts))
                yield given.problem("shifts", quoted(shift), allowed)
        area = definition.content.get("area")
        if places.whole and area is not None and area not in areas:
            yield given.problem("area", quoted(area), said("an area of places.csv{near}", near=near(area, areas)))

"""Reworks in words."""

from __future__ import annotations

from upkeep.said import Figure, Numeral, Said, Value, in_turn, listed, minute, said
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes
from upkeep.views.items import LastRework


def rework_said(rework: LastRework, zone: Zone) -> Said:
    """What a rework granted, who did and when, and what the part measured before and after."""
    granted = said(
        "{strokes} by {name}, {at} (#{entry})",
        strokes=in_strokes(rework.granted), name=rework.granted_by, at=minute(rework.at, zone),
        entry=Numeral(rework.entry),
    )  # fmt: skip
    before = said("Before: {values}.", values=_measured(rework.before)) if rework.before else None
    after = said("After: {values}.", values=_measured(rework.after)) if rework.after else None
    return in_turn(said("{granted}.", granted=granted), before, after) if before or after else granted


def _measured(points: tuple[tuple[str, tuple[float, ...], str], ...]) -> Value:
    return listed(
        said("{point} {values} {unit}", point=point, values=listed(Figure(value) for value in values), unit=unit)
        for point, values, unit in points
    )

"""Measured points in words: what is to be measured within which limits, and a value as somebody typed it."""

from __future__ import annotations

from upkeep.plant.model import Point
from upkeep.said import Moment, Numeral, Said, listed, said
from upkeep.units.instants import Zone
from upkeep.units.measures import Amount, InUnits, UnitName
from upkeep.views.signing import Taken


def point_said(point: Point, number: int) -> Said:
    """The label of one reading of a point with its limits and unit; numbered where there are several."""
    limits = limits_said(point)
    if point.readings > 1:
        return said(
            "{point}, {number} of {readings} ({limits})",
            point=point.title, number=number, readings=point.readings, limits=limits,
        )  # fmt: skip
    return said("{point} ({limits})", point=point.title, limits=limits)


def taken_said(taken: Taken, unit: str, zone: Zone) -> Said:
    """What is taken over from a check: its number, the values, the gauge, when it was."""
    values = said("{values} {unit}", values=listed(Amount(value, unit) for value in taken.values), unit=UnitName(unit))
    told = said("from check #{entry}: {values}", entry=Numeral(taken.entry), values=InUnits(values, unit))
    at = Moment(taken.at, zone)
    if taken.gauge is None:
        return said("{told}, {moment}", told=told, moment=at)
    return said("{told}, {gauge}, {moment}", told=told, gauge=taken.gauge, moment=at)


def limits_said(point: Point) -> Said:
    """The limits of a point with its unit: ``1.20 to 1.30 mm``, ``at most 0.05 mm``, ``no limits, in mm``."""
    lower, upper, unit = point.lower, point.upper, point.unit
    name = UnitName(unit)
    low, high = (None if limit is None else Amount(limit, unit) for limit in (lower, upper))
    limits = said("no limits, in {unit}", unit=name)
    if low is not None and high is not None:
        limits = said("{lower} to {upper} {unit}", lower=low, upper=high, unit=name)
    elif low is not None:
        limits = said("at least {lower} {unit}", lower=low, unit=name)
    elif high is not None:
        limits = said("at most {upper} {unit}", upper=high, unit=name)
    return said("{limits}", limits=InUnits(limits, unit))

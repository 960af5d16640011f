"""Measured points in words: what is to be measured within which limits, and a value as somebody typed it."""

from __future__ import annotations

import math

from upkeep.plant.model import Point
from upkeep.said import Figure, Said, said


def point_said(point: Point, number: int) -> Said:
    """The label of one reading of a point with its limits and unit; numbered where there are several."""
    limits = limits_said(point)
    if point.readings > 1:
        return said(
            "{point}, {number} of {readings} ({limits})",
            point=point.title, number=number, readings=point.readings, limits=limits,
        )  # fmt: skip
    return said("{point} ({limits})", point=point.title, limits=limits)


def limits_said(point: Point) -> Said:
    """The limits of a point with its unit: ``1.20 to 1.30 mm``, ``at most 0.05 mm``, ``no limits, in mm``."""
    lower, upper, unit = point.lower, point.upper, point.unit
    if lower is not None and upper is not None:
        return said("{lower} to {upper} {unit}", lower=Figure(lower), upper=Figure(upper), unit=unit)
    if lower is not None:
        return said("at least {lower} {unit}", lower=Figure(lower), unit=unit)
    if upper is not None:
        return said("at most {upper} {unit}", upper=Figure(upper), unit=unit)
    return said("no limits, in {unit}", unit=unit)


def read_number(typed: str) -> float | None:
    """The number somebody typed, with a decimal point or a decimal comma; None if it is none."""
    written = typed.strip()
    if written.count(",") == 1 and "." not in written:
        written = written.replace(",", ".")
    if not written or set(written) - set("0123456789.+-"):
        return None
    try:
        value = float(written)
    except ValueError:
        return None
    return value if math.isfinite(value) else None

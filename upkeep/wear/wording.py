"""How lengths that wear are written: a slope per 1,000 strokes, a distance, in the unit that reads well."""

from __future__ import annotations

from decimal import Decimal

from upkeep.said import Said, said
from upkeep.units.measures import Amount, InUnits, UnitName, measured

_MICRO = 1000


def figures(value: float) -> str:
    """A number with three figures that count, never in powers of ten."""
    text = f"{value:.3g}"
    return text if "e" not in text else f"{Decimal(text):f}"


def slope_text(per_stroke: float, unit: str) -> Said:
    """A slope with its sign, per 1,000 strokes; of millimetres in micrometres."""
    value, shown = (per_stroke * _MICRO * 1000, "um") if unit == "mm" else (per_stroke * 1000, unit)
    slope = Amount(float(figures(value)), shown, signed=True)
    return said("{slope} {unit} per {n} strokes", slope=slope, unit=UnitName(shown), n=1000)


def distance_text(distance: float, unit: str) -> InUnits:
    """A distance; of millimetres below a tenth in micrometres."""
    if unit == "mm" and abs(distance) < 0.1:
        return measured(float(figures(distance * _MICRO)), "um")
    return measured(float(figures(distance)), unit)

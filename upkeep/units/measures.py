"""Measured values in the units a plant reads: millimetres or inches, bar or psi, newtons or pounds-force, or both.

A value is kept in the unit its point states, for the gauge that measured it reads in that one; here it is shown in
another, and read from what somebody typed.  Factors: NIST Special Publication 811, 2008 edition, Appendix B.8.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from decimal import Decimal

from upkeep.frozen import frozen
from upkeep.said import Said, Voice, said, written

UNITS: Mapping[str, tuple[str, Decimal]] = {
    "mm": ("length", Decimal(1)),
    "um": ("length", Decimal("0.001")),
    "in": ("length", Decimal("25.4")),
    "bar": ("pressure", Decimal(1)),
    "kPa": ("pressure", Decimal("0.01")),
    "psi": ("pressure", Decimal("0.06894757")),
    "N": ("force", Decimal(1)),
    "lbf": ("force", Decimal("4.4482216152605")),
}
"""What each unit measures, and how much of the first unit of that it is."""

SHOWN = ("mm", "in", "bar", "psi", "N", "lbf")
"""Those a plant may ask to read."""

_USUAL_DECIMALS = {"length": 3, "pressure": 2, "force": 0}
"""How fine a value is in mm, bar and N; in another unit it is shown at least as fine (common practice, no source)."""

Shown = Mapping[str, tuple[str, ...]]
"""The units that are read, one or two for each thing measured; what is not in it is read in the unit stated."""

AS_STATED: Shown = {}


def shown_in(units: Iterable[str]) -> Shown:
    """What a plant reads that names these units; of two for the same thing the first is the one typed in."""
    asked: dict[str, tuple[str, ...]] = {}
    for unit in units:
        what = UNITS[unit][0]
        asked[what] = (*asked.get(what, ()), unit)
    return asked


def units_for(unit: str, shown: Shown) -> tuple[str, ...]:
    """The units in which a value stated in one is read, the first one first."""
    return shown.get(UNITS[unit][0], (unit,)) if unit in UNITS else (unit,)


def converted(value: float, unit: str, other: str, decimals: int) -> tuple[float, int]:
    """A value of so many decimals in another unit, and its decimals there: its step is no coarser than before."""
    factor = UNITS[unit][1] / UNITS[other][1]
    kept = max(0, math.ceil(-math.log10(Decimal(1).scaleb(-decimals) * factor)))
    return float(round(Decimal(repr(value)) * factor, kept)), kept


def drawn_in(values: Iterable[float], unit: str, shown: Shown) -> tuple[float, ...]:
    """Values stated in a unit, in the one that is read first: for an axis, unrounded."""
    other = units_for(unit, shown)[0]
    factor = float(UNITS[unit][1] / UNITS[other][1]) if other != unit else 1.0
    return tuple(value * factor for value in values)


# To read


@frozen
class Amount:
    """A value stated in a unit, as a number alone in the unit that is read; beside it stands :class:`UnitName`.

    ``form`` is how it is written in its own unit (Python's, ``.3f``); without one all its decimals.  ``signed``: with
    a plus where it is more than nothing.
    """

    value: float
    unit: str
    form: str = ""
    signed: bool = False

    def shown(self, voice: Voice) -> str:
        """The number."""
        return f"{'+' if self.signed and self.value > 0 else ''}{self._figures(voice)}"

    def _figures(self, voice: Voice) -> str:
        own = f"{self.value:{self.form}}" if self.form else written(self.value)
        other = units_for(self.unit, voice.units)[0]
        if other == self.unit:
            return voice.grouped(own)
        what, factor = UNITS[self.unit]
        usual = _USUAL_DECIMALS[what] + int(factor.log10().to_integral_value())
        value, decimals = converted(self.value, self.unit, other, max(_decimals(own), usual))
        return voice.grouped(f"{value:,.{decimals}f}")


def _decimals(figures: str) -> int:
    return len(figures.partition(".")[2])


@frozen
class UnitName:
    """The unit in which a value stated in this one is read."""

    unit: str

    def shown(self, voice: Voice) -> str:
        """Its sign."""
        return units_for(self.unit, voice.units)[0]


@frozen
class InUnits:
    """A part of a sentence with values in one unit, and once more in brackets where the plant reads two."""

    sentence: Said
    unit: str

    def __str__(self) -> str:
        """In the unit stated."""
        return self.shown(Voice())

    def shown(self, voice: Voice) -> str:
        """In the unit that is read, or in both."""
        units = units_for(self.unit, voice.units)
        first, *others = (_speaking(voice, self.unit, unit).text(self.sentence) for unit in units)
        return f"{first} ({others[0]})" if others else first


def _speaking(voice: Voice, stated: str, unit: str) -> Voice:
    if stated not in UNITS:
        return voice
    other = copy(voice)
    other.units = {**voice.units, UNITS[stated][0]: (unit,)}
    return other


def measured(value: float, unit: str, form: str = "") -> InUnits:
    """A value with its unit, ``1.920 mm``; one whose unit nobody said stands alone."""
    if not unit:
        return InUnits(said("{value}", value=Amount(value, unit, form)), unit)
    return InUnits(said("{value} {unit}", value=Amount(value, unit, form), unit=UnitName(unit)), unit)


# To type

_TYPED = re.compile(r"\s*([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+))\s*([A-Za-z]*)\s*", re.ASCII)


def read_in(typed: str, unit: str, shown: Shown = AS_STATED) -> float | None:
    """What somebody typed, in the unit a point states; None where it is no number, or it is not sure in which unit.

    With its unit (``0.0756 in``) it is taken in that one; alone in the one that is read, if there is only one.  What is
    converted keeps the step it was typed with, as near as decimals come: ``0.0756 in`` is 1.920 mm.
    """
    found = _TYPED.fullmatch(typed)
    if found is None:
        return None
    figures, named = found[1].replace(",", "."), found[2]
    read: Sequence[str] = [each for each in UNITS if each.lower() == named.lower()] if named else units_for(unit, shown)
    if unit == named or (not named and unit not in UNITS):
        return float(figures)
    if len(read) != 1 or unit not in UNITS or UNITS[read[0]][0] != UNITS[unit][0]:
        return None
    return float(figures) if read[0] == unit else converted(float(figures), read[0], unit, _decimals(figures))[0]


def read_number(typed: str) -> float | None:
    """The number somebody typed, with a decimal point or a decimal comma; None if it is none."""
    return read_in(typed, "")


def typed_like(unit: str, shown: Shown) -> Said:
    """How a value stated in a unit is typed, for whoever typed something else."""
    first, *others = units_for(unit, shown)
    if others:
        return said("a number with its unit, {first} or {other}", first=first, other=others[0])
    return said("a number in {unit}, like 1.25 or 1,25; in another unit with its sign", unit=first)

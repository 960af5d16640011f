"""How numbers are shown: a limit as it was given, a value to the step it is read in, an estimate as far as it is known.

An estimate is rounded so that half its 90 % interval keeps two figures, which is about what it is worth (ISO/IEC Guide
98-3 (GUM), 2008, 7.2.6: the last figures of a result go no further than two of its uncertainty; from memory).  Where
nothing says how sure it is, three figures are shown.  Files and ``--json`` have all figures.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from math import floor, isfinite, log10

from upkeep.said import Figure, Said, said
from upkeep.said import written as exact

__all__ = ["chance_text", "decimals_of", "estimate", "exact", "percent", "three", "to_step"]

_NOISE = 9
"""Decimals from which on a difference of readings is noise of the arithmetic."""

HALF_OF_90 = 1.6449 / 1.9600
"""Half a 90 % interval in parts of half a 95 % one, for what is normally spread."""


HALF_OF_90_IN_SCATTERS = 1.6449
"""Half a 90 % interval of what is normally spread, in standard deviations."""


def decimals_of(values: Iterable[float]) -> int:
    """The decimals that readings or limits are written with: the step of the gauge, as far as they show it."""
    return max((max(0, -_exponent(value)) for value in values), default=0)


def _exponent(value: float) -> int:
    exponent = Decimal(exact(round(value, _NOISE)).replace(",", "")).as_tuple().exponent
    return exponent if isinstance(exponent, int) else 0


def to_step(value: float, decimals: int) -> str:
    """A value to a step of so many decimals, its thousands grouped."""
    return f"{round(value, decimals) + 0.0:,.{decimals}f}"


def estimate(value: float, half: float, down: bool = False) -> int:
    """An estimate of strokes, given half of its 90 % interval; ``down``: rounded down, for what nobody may run past."""
    if not isfinite(half) or half <= 0:
        return three(value, down)
    return _to_place(value, floor(log10(half)) - 1, down)


def three(value: float, down: bool = False) -> int:
    """A number of strokes with three figures."""
    return _to_place(value, floor(log10(abs(value))) - 2, down) if value else 0


def _to_place(value: float, power: int, down: bool) -> int:
    place = 10 ** max(0, power)
    return int((floor(value / place) if down else round(value / place)) * place)


def percent(share: float, decimals: int = 0) -> str:
    """A share in per cent, a space before the sign (SI Brochure, 9th edition 2019, 5.4.7)."""
    return f"{100 * share:.{decimals}f} %"


def chance_text(share: float) -> Said:
    """A chance as people read it; no chance is called none or certain that is not."""
    if 0 < share < 0.005:
        return said("less than 1 %")
    if 0.995 < share < 1:
        return said("more than 99 %")
    return said("{chance} %", chance=Figure(100 * share, ".0f"))

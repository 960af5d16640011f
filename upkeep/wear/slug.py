"""The solder slug: which one to crush, and what its height says about the setting.

A piece of soft solder crushed by hand cycling shows the gap that punch and anvil leave at the bottom of the stroke:
tool and press alone, without wire and terminal.  A slug about 40 mm long and about 0.5 mm thicker than the crimped
height is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from statistics import fmean
from typing import Literal

from upkeep.frozen import frozen
from upkeep.plant.energy import CONTROL, LOCAL_LAW
from upkeep.plant.model import Energy
from upkeep.said import said

INCH = 25.4
"""Millimetres to an inch (exact, by definition)."""

LENGTH, THICKER = 40.0, 0.5
"""Millimetres; common practice, no source."""

CAUTIONS = (
    CONTROL[Energy.LOCK],
    said("Turn it by hand only, with the tool made for it; the guard goes back on before it runs."),
    LOCAL_LAW,
)
"""What is read before anything else."""

Verdict = Literal["good", "out", "no limit"]


@frozen
class Slug:
    """The slug to crush for a closed height, in mm."""

    height: float
    length: float
    thickness: float


@frozen
class SlugResult:
    """What crushed slugs say, in mm.

    ``off`` is the mean less the specified height: above 0 the gap is too wide.  ``out`` are the readings beyond a
    limit.  ``move`` is by how much the shut height of the press has to change to bring the mean to the specified
    height: below 0 it has to become smaller (the ram comes lower).
    """

    values: tuple[float, ...]
    mean: float
    off: float
    verdict: Verdict
    out: tuple[float, ...]
    move: float


def slug_for(height: float) -> Slug:
    """The slug for a closed height in mm."""
    return Slug(height, LENGTH, height + THICKER)


def in_mm(value: float, unit: str) -> float:
    """A length in mm; ``unit`` "in" is converted."""
    return value * INCH if unit == "in" else value


def result(height: float, values: Sequence[float], lower: float | None, upper: float | None) -> SlugResult:
    """What readings say against the specified height and the limits (None: none on that side), all in mm."""
    mean = fmean(values)
    out = tuple(
        value for value in values if (lower is not None and value < lower) or (upper is not None and value > upper)
    )
    verdict: Verdict = "no limit" if lower is None and upper is None else "out" if out else "good"
    return SlugResult(tuple(values), mean, mean - height, verdict, out, height - mean)

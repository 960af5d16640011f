"""How often to inspect: half of the strokes from warning to limit, lengthened and shortened in steps by what was found.

Method.  A value that passes its warning limit right after an inspection has the distance from warning to limit to wear
before it is out.  Inspected at half the strokes that takes, it is seen at least once in between.  This is the usual
rule of reliability-centred maintenance, half of the interval from potential to functional failure (from memory; John
Moubray, Reliability-centred Maintenance, 1997).  It presumes a warning that shows clearly and wear that is steady.

Worked example (invented figures): 10 um at 0.121 um per 1,000 strokes is 82,600 strokes; half of it, 41,000.

The steps (three findings 0 or 1 in a row: a quarter longer; one 3 or 4: half) are plant defaults, no source.  Nothing
is ever changed by itself: a proposal is taken by a signed change of the task.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, log10

from upkeep.units.quantities import grouped, strokes
from upkeep.wear.wording import distance_text, slope_text

GOOD_IN_A_ROW = 3
GOOD, BAD = 1, 3
LONGER, SHORTER = 1.25, 0.5


@dataclass(frozen=True, slots=True)
class Bound:
    """How long an interval may be by one point: ``strokes`` (rounded down to two figures), with its arithmetic."""

    strokes: int
    why: str


@dataclass(frozen=True, slots=True)
class Proposal:
    """An interval in strokes that the findings and the wear speak for.  ``strokes`` None: nothing can be proposed;
    equal to the present one: it may stay.  ``why`` is the arithmetic."""

    present: int | None
    strokes: int | None
    why: str

    @property
    def changes(self) -> bool:
        """Whether it differs from the interval there is."""
        return self.strokes is not None and self.strokes != self.present


def bound_of(distance: float, slope: float, unit: str) -> Bound:
    """The longest interval by a point that wears by ``slope`` per stroke, from its warning to its limit."""
    lasts = abs(distance / slope)
    half = two_figures(lasts / 2)
    return Bound(
        half,
        f"warning to limit {distance_text(abs(distance), unit)} at {slope_text(slope, unit)}: {grouped(round(lasts))} "
        f"strokes, half of it {grouped(half)}",
    )


def two_figures(value: float) -> int:
    """A number of strokes rounded down to two figures: an interval is a round number, and never longer for it."""
    if value < 1:
        return 1
    step: int = 10 ** max(0, floor(log10(value)) - 1)
    return floor(value / step) * step


def proposal(present: int | None, grades: Sequence[int], bounds: Sequence[Bound]) -> Proposal:
    """The interval to propose.

    ``present`` is the one in force (None: none), ``grades`` what inspections found since it came into force, oldest
    first, ``bounds`` what the wear allows.
    """
    wanted, why = _stepped(present, grades)
    tightest = min(bounds, key=lambda bound: bound.strokes, default=None)
    if tightest is None:
        said = "No bound by wear: no point has a trend toward a limit with a warning before it."
        return Proposal(present, wanted, f"{why} {said}".strip())
    if wanted is None or wanted > tightest.strokes:
        return Proposal(present, tightest.strokes, f"{why} Never beyond half of {tightest.why}.".strip())
    return Proposal(present, wanted, f"{why} Within the bound by wear ({tightest.why}).")


def _stepped(present: int | None, grades: Sequence[int]) -> tuple[int | None, str]:
    if present is None:
        return None, "No stroke interval is set."
    found = f"{strokes(present)} now"
    if grades and grades[-1] >= BAD:
        shorter = max(1, round(present * SHORTER))
        return shorter, f"{found}; the last finding was grade {grades[-1]}: half, {grouped(shorter)}."
    lately = grades[-GOOD_IN_A_ROW:]
    if len(lately) == GOOD_IN_A_ROW and max(lately) <= GOOD:
        longer = two_figures(present * LONGER)
        shown = ", ".join(map(str, lately))
        return longer, f"{found}; {GOOD_IN_A_ROW} findings in a row are 0 or 1 ({shown}): + 25 %, {grouped(longer)}."
    shown = ", ".join(map(str, grades)) or "none"
    return present, f"{found}; findings since it holds: {shown}: no step."

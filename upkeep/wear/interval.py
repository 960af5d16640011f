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
from math import floor, log10

from upkeep.frozen import frozen
from upkeep.said import Said, in_turn, listed, said, said_as
from upkeep.units.figures import three
from upkeep.units.quantities import in_strokes
from upkeep.wear.wording import distance_text, slope_text

GOOD_IN_A_ROW = 3
GOOD, BAD = 1, 3
LONGER, SHORTER = 1.25, 0.5


@frozen
class Bound:
    """How long an interval may be by one point: ``strokes`` (rounded down to two figures), with its arithmetic."""

    strokes: int
    why: Said


@frozen
class Proposal:
    """An interval in strokes that the findings and the wear speak for.  ``strokes`` None: nothing can be proposed;
    equal to the present one: it may stay.  ``why`` is the arithmetic."""

    present: int | None
    strokes: int | None
    why: Said

    @property
    def changes(self) -> bool:
        """Whether it differs from the interval there is."""
        return self.strokes is not None and self.strokes != self.present


def bound_of(distance: float, slope: float, unit: str) -> Bound:
    """The longest interval by a point that wears by ``slope`` per stroke, from its warning to its limit."""
    lasts = abs(distance / slope)
    half = two_figures(lasts / 2)
    why = said(
        "from warning to limit {distance}, at {slope}: {lasts} strokes, half of that {half}",
        distance=distance_text(abs(distance), unit),
        slope=slope_text(slope, unit),
        lasts=three(lasts),
        half=half,
    )
    return Bound(half, why)


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
        unbound = said("Wear sets no bound: no point has a trend toward a limit with a warning before it.")
        return Proposal(present, wanted, in_turn(why, unbound))
    if wanted is None or wanted > tightest.strokes:
        beyond = said("Never more than the bound set by wear ({bound}).", bound=tightest.why)
        return Proposal(present, tightest.strokes, in_turn(why, beyond))
    return Proposal(present, wanted, in_turn(why, said("Within the bound set by wear ({bound}).", bound=tightest.why)))


def _stepped(present: int | None, grades: Sequence[int]) -> tuple[int | None, Said]:
    if present is None:
        return None, said("No stroke interval is set.")
    now = in_strokes(present)
    if grades and grades[-1] >= BAD:
        shorter = max(1, round(present * SHORTER))
        return shorter, said(
            "{interval} now; the last grade found was {grade}: halved to {shorter}.",
            interval=now,
            grade=grades[-1],
            shorter=shorter,
        )
    lately = grades[-GOOD_IN_A_ROW:]
    if len(lately) == GOOD_IN_A_ROW and max(lately) <= GOOD:
        longer = two_figures(present * LONGER)
        return longer, said(
            "{interval} now; the last {n} grades found are 0 or 1 ({grades}): 25 % longer, {longer}.",
            interval=now,
            n=GOOD_IN_A_ROW,
            grades=listed(lately),
            longer=longer,
        )
    grades_found = listed(grades) if grades else said_as("grades", "none")
    return present, said(
        "{interval} now; grades found since it was set: {grades}. No change.", interval=now, grades=grades_found
    )

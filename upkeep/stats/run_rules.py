"""The run rules of control charts: patterns that a steady process hardly ever makes.

The Western Electric rules and the two rules of trend as in the NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.
A point breaks a rule when the pattern ends in it, so a broken rule is seen at once and stays broken while it lasts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum
from itertools import pairwise

from upkeep.frozen import frozen


class Rule(Enum):
    """A pattern: points beyond a distance (in standard deviations) or a run, all on the same side of the centre."""

    BEYOND_3 = "1 beyond 3 sigma"
    TWO_BEYOND_2 = "2 of 3 beyond 2 sigma"
    FOUR_BEYOND_1 = "4 of 5 beyond 1 sigma"
    EIGHT_ON_ONE_SIDE = "8 on one side of the centre"
    SIX_TRENDING = "6 rising or falling"
    FOURTEEN_ALTERNATING = "14 going up and down in turn"


@frozen
class Break:
    """The point (its place, from 0) in which a pattern ends."""

    index: int
    rule: Rule


_BEYOND = (
    (Rule.BEYOND_3, 1, 1, 3),
    (Rule.TWO_BEYOND_2, 2, 3, 2),
    (Rule.FOUR_BEYOND_1, 4, 5, 1),
    (Rule.EIGHT_ON_ONE_SIDE, 8, 8, 0),
)
"""Rule, how many points, of how many in a row, beyond how many standard deviations."""

_TRENDING = 6
_ALTERNATING = 14


def beyond_limits(points: Sequence[float], low: float, high: float) -> Iterator[Break]:
    """The points outside the limits; one on a limit is inside."""
    return (Break(index, Rule.BEYOND_3) for index, point in enumerate(points) if not low <= point <= high)


def broken_rules(points: Sequence[float], centre: float, sigma: float) -> Iterator[Break]:
    """Every break of every rule, in the order of the points; one on the edge of a zone is not beyond it."""
    directions = [0, *((later > earlier) - (later < earlier) for earlier, later in pairwise(points))]
    for index in range(len(points)):
        for rule, least, window, distance in _BEYOND:
            latest = points[max(0, index - window + 1) : index + 1]
            if _beyond(latest, centre, distance * sigma, least):
                yield Break(index, rule)
        if _trends(directions[max(1, index - _TRENDING + 2) : index + 1]):
            yield Break(index, Rule.SIX_TRENDING)
        if _alternates(directions[max(1, index - _ALTERNATING + 2) : index + 1]):
            yield Break(index, Rule.FOURTEEN_ALTERNATING)


def _beyond(latest: Sequence[float], centre: float, distance: float, least: int) -> bool:
    """Whether the last point and enough of those before it are beyond the distance, all on the same side."""
    above = [point > centre + distance for point in latest]
    below = [point < centre - distance for point in latest]
    return any(side[-1] and sum(side) >= least for side in (above, below))


def _trends(directions: Sequence[int]) -> bool:
    return abs(sum(directions)) == _TRENDING - 1


def _alternates(directions: Sequence[int]) -> bool:
    return len(directions) == _ALTERNATING - 1 and all(
        direction * other < 0 for direction, other in pairwise(directions)
    )

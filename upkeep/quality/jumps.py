"""Whether a slug height jumped: by more than its usual scatter between checks explains.

Wear is slow.  A jump says that something broke, moved or came loose, or that the gauge did; the set stops either way.

Method.  What the next height is to be is taken from the checks before it: their mean while they are few, from twelve
checks on the least-squares line through them in their order, which follows the wear.  A height jumped where it lies
outside the two-sided 99 % prediction interval of that: Student's t times the scatter of the checks times what a new
check scatters around a mean (the square root of 1 + 1/n) or a line.  With twenty checks that is about three times the
scatter, as the trade has it; with four it is six and a half times, since four checks hardly tell what is usual.

How good it is, by simulation (tests/quality/test_jumps.py): a steady set is stopped by 1 check in 100 at the most.  A
jump of four times the scatter between checks (the standard deviation of the difference of two checks) is found at once
in 9 of 10 cases from eight checks on; with six before in 8 of 10, with four in 5 of 10: the limits of the point stand
guard until then.  No rule does both with fewer, since a check itself scatters.  Gerald J. Hahn and William Q. Meeker,
Statistical Intervals (1991), chapter 4 (prediction interval of one new value; from memory).  The level, the least
number of checks and the twelve are plant defaults without a source.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from statistics import fmean, stdev

from upkeep.frozen import frozen
from upkeep.stats.student import t_quantile
from upkeep.stats.trend import least_squares

SLUG = "slug-height"
SLUG_JUMP = "slug-jump"
"""The look that the book puts into a check of a slug: good where it did not jump."""

LEAST_CHECKS = 4
LINE_FROM = 12
"""Checks from which on a line tells more than their mean: it takes one number more from them."""

ENOUGH = 20
"""Checks that are looked back at: the last ones."""

SMALLEST = 0.003
"""A difference, in the unit of the point, that no crimp micrometer tells from none.  Common practice, no source."""

_LEVEL = 0.995
"""To each side: together 1 steady check in 100 lies outside."""


@frozen
class Usual:
    """What the next slug height is to be by those before it, and how far off it may be, in their unit."""

    expected: float
    within: float

    def jumped(self, height: float) -> bool:
        """Whether a height is further off than usual."""
        return abs(height - self.expected) > self.within


def usual(heights: Sequence[float]) -> Usual | None:
    """What is usual after the slug heights of checks in order; None where there are too few to say."""
    n = len(heights)
    if n < LEAST_CHECKS:
        return None
    if n < LINE_FROM:
        expected, within = fmean(heights), t_quantile(_LEVEL, n - 1) * stdev(heights) * sqrt(1 + 1 / n)
    else:
        line = least_squares(range(n), heights)
        expected, within = line.at(n), line.prediction(n, _LEVEL) - line.at(n)
    return Usual(expected, max(within, SMALLEST))

"""Whether a slug height jumped: by more than its usual scatter between checks explains.

Wear is slow.  A jump says that something broke, moved or came loose, or that the gauge did; the set stops either way.

Method.  What the next height is to be is taken from the checks before it: their mean while they are few, from twelve
checks on the least-squares line through them in their order, which follows the wear.  A height jumped where it lies
outside the two-sided 99 % prediction interval of that: Student's t times the scatter of the checks times what a new
check scatters around a mean (the square root of 1 + 1/n) or a line.

Sisters.  Few checks hardly tell what is usual: with four, Student's t makes six and a half scatters of it.  How a slug
height scatters comes from crushing it and from the gauge, so sets of the same terminal family tell it as well, where
their slugs were crushed for the same crimp and measured with the same kind of gauge.  Each whose scatter agrees with
that of the set (Bartlett's test at 1 %; upkeep.stats.scatters) is pooled with it, and t goes by the degrees of freedom
of all.  The set's own scatter is taken where it is the greater, so that quieter sisters stop nobody.  Without sisters
the set's own checks are all there is.

How good it is, by simulation (tests/quality/test_jumps.py): a steady set is stopped by 1 check in 100 at the most, with
sisters or without.  A jump of four times the scatter between checks (the standard deviation of the difference of two
checks) is found at once in 9 of 10 cases from four checks on where sisters have eleven checks or more between them;
without sisters from eight checks on, with six before in 8 of 10, with four in 5 of 10: the limits of the point stand
guard until then.  Of a set that wears by four tenths of its scatter from check to check, 6 steady checks in 100 are
taken for a jump before the twelfth (2 in 100 without sisters).  A set that scatters half as much again as its sisters
is stopped by 4 in 100 while it has few checks.

Gerald J. Hahn and William Q. Meeker, Statistical Intervals (1991), chapter 4 (prediction interval of one new value;
from memory).  The levels, the least number of checks and the twelve are plant defaults without a source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import fsum, sqrt
from statistics import fmean
from types import MappingProxyType

from upkeep.frozen import frozen
from upkeep.stats.scatters import Scatter, agree, pooled
from upkeep.stats.student import t_quantile
from upkeep.stats.trend import least_squares

SLUG = "slug-height"
SLUG_JUMP = "slug-jump"
"""The look that the book puts into a check of a slug: good where it did not jump."""

LEAST_CHECKS = 4
"""Fewer tell too little of a set, or of a sister."""

LINE_FROM = 12
"""Checks from which on a line tells more than their mean: it takes one number more from them."""

ENOUGH = 20
"""Checks that are looked back at: the last ones."""

ENOUGH_FREEDOM = 60
"""Degrees of freedom of sisters after which further ones are not looked at: t is within 4 % of its least."""

SMALLEST = 0.003
"""A difference, in the unit of the point, that no crimp micrometer tells from none.  Common practice, no source."""

_LEVEL = 0.995
"""To each side: together 1 steady check in 100 lies outside."""

_SISTERS_LEVEL = 0.99
"""Sisters of one scatter agree so often."""


NO_SISTERS: Mapping[str, Scatter] = MappingProxyType({})


@frozen
class Usual:
    """What the next slug height is to be by those before it, and how far off it may be, in their unit; ``sisters`` are
    those of the sets asked that tell of its scatter."""

    expected: float
    within: float
    sisters: tuple[str, ...] = ()

    def jumped(self, height: float) -> bool:
        """Whether a height is further off than usual."""
        return abs(height - self.expected) > self.within


def usual(heights: Sequence[float], sisters: Mapping[str, Scatter] = NO_SISTERS) -> Usual:
    """What is usual after the slug heights of ``LEAST_CHECKS`` or more, in order, and by how sister sets scatter."""
    own = scatter_of(heights)
    alike = {key: scatter for key, scatter in sisters.items() if agree(own, scatter, _SISTERS_LEVEL)}
    together = pooled([own, *alike.values()])
    deviation = max(own.deviation, together.deviation)
    expected, widened = _next(heights)
    within = t_quantile(_LEVEL, together.freedom) * deviation * widened
    return Usual(expected, max(within, SMALLEST), tuple(alike))


def scatter_of(heights: Sequence[float]) -> Scatter:
    """How the slug heights of checks in order scatter around what they lead to expect."""
    n = len(heights)
    if n < LINE_FROM:
        mean = fmean(heights)
        return Scatter(fsum((height - mean) ** 2 for height in heights), n - 1)
    freedom = n - 2
    return Scatter(least_squares(range(n), heights).scatter ** 2 * freedom, freedom)


def _next(heights: Sequence[float]) -> tuple[float, float]:
    """The height to be expected next, and in how many scatters of a check the next one scatters around it."""
    n = len(heights)
    if n < LINE_FROM:
        return fmean(heights), sqrt(1 + 1 / n)
    line = least_squares(range(n), heights)
    return line.at(n), sqrt(1 + 1 / n + (n - line.mean_x) ** 2 / line.spread_x)

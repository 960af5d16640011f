"""Control charts: limits within which a steady process stays, and the points that break a run rule.

Formulas and rules as in the NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2 (individuals 6.3.2.2, EWMA 6.3.2.4).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import fsum, sqrt
from statistics import stdev

from upkeep.frozen import frozen
from upkeep.said import Said, said
from upkeep.stats.few import TooFew
from upkeep.stats.run_rules import Break, beyond_limits, broken_rules

A2 = {2: 1.880, 3: 1.023, 4: 0.729, 5: 0.577, 6: 0.483, 7: 0.419, 8: 0.373, 9: 0.337, 10: 0.308}
"""Limits of a mean by subgroup size: mean +- A2 * mean range.  The usual three places of the exact value.

These four tables stand in the NIST/SEMATECH e-Handbook, 6.3.2.1, and in any book on control charts; prints differ by
one in the last place of D4 (2.574 for 3 values, 2.115 for 5).
"""

D3 = {2: 0.0, 3: 0.0, 4: 0.0, 5: 0.0, 6: 0.0, 7: 0.076, 8: 0.136, 9: 0.184, 10: 0.223}
"""Lower limit of a range by subgroup size: D3 * mean range."""

D4 = {2: 3.267, 3: 2.575, 4: 2.282, 5: 2.114, 6: 2.004, 7: 1.924, 8: 1.864, 9: 1.816, 10: 1.777}
"""Upper limit of a range by subgroup size: D4 * mean range."""

d2 = {2: 1.128, 3: 1.693, 4: 2.059, 5: 2.326, 6: 2.534, 7: 2.704, 8: 2.847, 9: 2.970, 10: 3.078}
"""Mean range of a subgroup in standard deviations of its values (D2 is another constant)."""

LEAST_POINTS = 8
"""A chart has at least as many points as the longest of its runs to one side; fewer raise :class:`TooFew`."""

SETTLED_POINTS = 20
"""From so many points on, limits made from the points themselves are usually trusted (common practice)."""


@frozen
class Chart:
    """The points of a chart with its centre, its lower and its upper limit, and which points break which rule."""

    centre: float
    low: float
    high: float
    points: tuple[float, ...]
    breaks: tuple[Break, ...]

    @property
    def settled(self) -> bool:
        """Whether there are enough points for limits made from them."""
        return len(self.points) >= SETTLED_POINTS


@frozen
class SubgroupCharts:
    """The chart of the means of subgroups and that of their ranges."""

    means: Chart
    ranges: Chart


@frozen
class IndividualCharts:
    """The chart of single values and that of their moving ranges; range i lies between the values i and i + 1."""

    values: Chart
    ranges: Chart


def xbar_r(subgroups: Sequence[Sequence[float]]) -> SubgroupCharts:
    """Charts of the means and the ranges of subgroups that all have the same size, 2 to 10.

    Raises :class:`TooFew` below :data:`LEAST_POINTS` subgroups, ValueError for another or a changing size.
    """
    _refuse_too_few(subgroups, said("subgroups"))
    sizes = {len(subgroup) for subgroup in subgroups}
    if len(sizes) > 1 or not sizes <= A2.keys():
        raise ValueError(f"subgroups have one size, from 2 to 10; these have {', '.join(map(str, sorted(sizes)))}")
    (size,) = sizes
    means = [_mean(subgroup) for subgroup in subgroups]
    ranges = [max(subgroup) - min(subgroup) for subgroup in subgroups]
    mean_range = _mean(ranges)
    return SubgroupCharts(
        _level_chart(means, A2[size] * mean_range),
        _range_chart(ranges, mean_range, size),
    )


def individuals(values: Sequence[float]) -> IndividualCharts:
    """Charts of single values, their scatter taken from the moving ranges of two.

    Raises :class:`TooFew` below :data:`LEAST_POINTS` values.
    """
    _refuse_too_few(values, said("values"))
    ranges = [abs(later - earlier) for earlier, later in pairwise(values)]
    mean_range = _mean(ranges)
    return IndividualCharts(_level_chart(values, 3 * mean_range / d2[2]), _range_chart(ranges, mean_range, 2))


def ewma(
    values: Sequence[float],
    lam: float = 0.3,
    width: float = 3.0,
    target: float | None = None,
    sigma: float | None = None,
) -> Chart:
    """The chart of the exponentially weighted moving average, which finds small lasting shifts.

    Each point is `lam` (above 0, up to 1) of its value and the rest of the point before; before the first point stands
    the target.  The limits are `width` standard deviations of the settled average, so they are wide for the first few
    points.  Without `target` and `sigma` from an earlier, steady time the mean and the standard deviation of the
    values stand for them.  Neighbouring points depend on each other: only the limits are a rule.  Raises
    :class:`TooFew` below :data:`LEAST_POINTS` values.
    """
    _refuse_too_few(values, said("values"))
    if not 0 < lam <= 1:
        raise ValueError("the weight of the latest value is above 0 and up to 1")
    centre = _mean(values) if target is None else target
    spread = stdev(values) if sigma is None else sigma
    wide = width * spread * sqrt(lam / (2 - lam))
    _, *points = accumulate(values, lambda before, value: before + lam * (value - before), initial=centre)
    low, high = centre - wide, centre + wide
    return Chart(centre, low, high, tuple(points), tuple(beyond_limits(points, low, high)))


def _refuse_too_few(points: Sequence[object], what: Said) -> None:
    if len(points) < LEAST_POINTS:
        raise TooFew(LEAST_POINTS, what, len(points))


def _mean(values: Sequence[float]) -> float:
    """The mean; never outside the values, not even by the last digit, which would be a run to one side."""
    return min(max(fsum(values) / len(values), min(values)), max(values))


def _level_chart(points: Sequence[float], wide: float) -> Chart:
    """A chart with limits at one distance to both sides of the mean, judged by all run rules."""
    centre = _mean(points)
    breaks = broken_rules(points, centre, wide / 3)
    return Chart(centre, centre - wide, centre + wide, tuple(points), tuple(breaks))


def _range_chart(ranges: Sequence[float], centre: float, size: int) -> Chart:
    """A chart of ranges.  They do not lie evenly around their mean, so only the limits are a rule."""
    low, high = D3[size] * centre, D4[size] * centre
    return Chart(centre, low, high, tuple(ranges), tuple(beyond_limits(ranges, low, high)))

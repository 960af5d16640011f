"""A straight line through measured points, how sure its slope is, and when a new value may reach a limit."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import combinations
from math import copysign, fsum, nan, sqrt
from statistics import NormalDist, median
from typing import Literal

from upkeep.frozen import frozen
from upkeep.said import said
from upkeep.stats.few import TooFew
from upkeep.stats.student import chance_beyond, t_quantile

Side = Literal["low", "high"]

_TAKEN = 2  # a line takes two numbers from its points; the rest of them tells its scatter


@frozen
class Line:
    """A least-squares line through `n` points.

    ``scatter`` is the standard deviation of the points around it (unit of y), ``mean_x`` the mean of their x,
    ``spread_x`` the sum of the squared distances from that mean, ``start`` the lowest x.  ``slope_low`` and
    ``slope_high`` bound the slope at the level asked for; ``p_slope`` is the chance of a slope at least so far from 0
    where there is none (two-sided t test).
    """

    slope: float
    intercept: float
    scatter: float
    n: int
    mean_x: float
    spread_x: float
    slope_low: float
    slope_high: float
    p_slope: float
    start: float

    def at(self, x: float) -> float:
        """The height of the line at x."""
        return self.intercept + self.slope * x

    def is_sloped(self, alpha: float = 0.05) -> bool:
        """Whether a slope like this would be rarer than `alpha` where there is none."""
        return self.p_slope < alpha

    def prediction(self, x: float, level: float = 0.95, side: Side = "high") -> float:
        """The bound that a new value at x stays below (side "high") or above ("low") with that level, one-sided."""
        wide = self._t(level) * sqrt(1 + 1 / self.n + (x - self.mean_x) ** 2 / self.spread_x)
        return self.at(x) + (wide if side == "high" else -wide)

    def crossing(self, limit: float) -> float | None:
        """The x at which the line itself is at the limit, be it behind the points or ahead; None for a level line."""
        return (limit - self.intercept) / self.slope if self.slope else None

    def crossing_of_prediction(self, limit: float, level: float = 0.95, side: Side | None = None) -> float | None:
        """The lowest x, from the first point on, at which :meth:`prediction` reaches the limit; None if it never does.

        `side` says whether the limit is one not to be risen above ("high") or not to be fallen below ("low").  Without
        it the limit lies on the side where it is seen from the line at the first point.
        """
        side = side or ("high" if limit > self.at(self.start) else "low")
        sign = 1 if side == "high" else -1
        if sign * (self.prediction(self.start, level, side) - limit) >= 0:
            return self.start
        away = sign * (limit - self.at(self.mean_x))  # the limit and the slope as seen from the mean, toward the limit
        slope = sign * self.slope
        ahead = _widening_reaches(away, slope, self._t(level), 1 + 1 / self.n, self.spread_x)
        return None if ahead is None else max(self.start, self.mean_x + ahead)

    def _t(self, level: float) -> float:
        """The scatter times the quantile of Student's t."""
        return self.scatter * t_quantile(level, self.n - _TAKEN)


@frozen
class RankLine:
    """The line of Theil and Sen: the median of the slopes between any two points, which a few wild points hardly move.

    ``low`` and ``high`` bound the slope.
    """

    slope: float
    low: float
    high: float
    intercept: float


def least_squares(x: Sequence[float], y: Sequence[float], level: float = 0.95) -> Line:
    """The line from which the points lie least far in y (squared), by the formulas of any textbook.

    The sums are taken around the means and without loss.  Raises :class:`TooFew` with fewer than 3 points or fewer
    than 2 different x.
    """
    n = len(x)
    _refuse_too_few(x, 3)
    mean_x, mean_y = fsum(x) / n, fsum(y) / n
    spread_x = fsum((each - mean_x) ** 2 for each in x)
    slope = fsum((each - mean_x) * (other - mean_y) for each, other in zip(x, y, strict=True)) / spread_x
    residuals = (other - mean_y - slope * (each - mean_x) for each, other in zip(x, y, strict=True))
    scatter = sqrt(fsum(residual**2 for residual in residuals) / (n - _TAKEN))
    error = scatter / sqrt(spread_x)
    wide = error * t_quantile((1 + level) / 2, n - _TAKEN)
    return Line(
        slope=slope,
        intercept=mean_y - slope * mean_x,
        scatter=scatter,
        n=n,
        mean_x=mean_x,
        spread_x=spread_x,
        slope_low=slope - wide,
        slope_high=slope + wide,
        p_slope=_chance(slope, error, n),
        start=min(x),
    )


def theil_sen(x: Sequence[float], y: Sequence[float], level: float = 0.95) -> RankLine:
    """The line of Theil (1950) and Sen (1968), with the bounds of its slope at that level; nan where ties leave none.

    The slope is the median of the slopes between any two points of different x, the intercept puts the line through
    the medians (Conover, Practical Nonparametric Statistics).  Raises :class:`TooFew` with fewer than 2 different x.
    """
    _refuse_too_few(x, 2)
    points = zip(x, y, strict=True)
    slopes = sorted((b[1] - a[1]) / (b[0] - a[0]) for a, b in combinations(points, 2) if a[0] != b[0])
    slope = median(slopes)
    low, high = _sen_bounds(slopes, _rank_variance(x, y), level)
    return RankLine(slope, low, high, median(y) - slope * median(x))


def _sen_bounds(slopes: Sequence[float], variance: float, level: float) -> tuple[float, float]:
    """The two slopes, of all in order, that bound the true one: P. K. Sen, Estimates of the Regression Coefficient
    Based on Kendall's Tau, Journal of the American Statistical Association 63 (1968), 1379-1389."""
    if variance < 0:
        return nan, nan
    within = NormalDist().inv_cdf((1 + level) / 2) * sqrt(variance)
    low, high = round((len(slopes) - within) / 2) - 1, round((len(slopes) + within) / 2)
    return slopes[max(low, 0)], slopes[min(high, len(slopes) - 1)]


def _rank_variance(x: Sequence[float], y: Sequence[float]) -> float:
    """The variance of the rising pairs less the falling ones where there is no slope: Sen (1968), formula 2.6.

    Below 0 where nearly all x, or y, are the same.
    """
    ties = [*Counter(x).values(), *Counter(y).values()]
    return (_pairs_variance(len(x)) - sum(map(_pairs_variance, ties))) / 18


def _pairs_variance(n: int) -> int:
    return n * (n - 1) * (2 * n + 5)


def _refuse_too_few(x: Sequence[float], needed: int) -> None:
    if len(x) < needed:
        raise TooFew(needed, said("points"), len(x))
    if len(set(x)) < 2:
        raise TooFew(2, said("points at different x"), len(set(x)))


def _chance(slope: float, error: float, n: int) -> float:
    """The chance of a slope so far from 0 where there is none."""
    if error == 0:
        return 0.0 if slope else 1.0
    return 2 * chance_beyond(abs(slope) / error, n - _TAKEN)


def _widening_reaches(away: float, slope: float, wide: float, least: float, spread_x: float) -> float | None:
    """The u at which slope * u + wide * sqrt(least + u * u / spread_x) comes up to `away`; None if it never does.

    The left side rises all the way or is a valley.  Squared, the equation has a second root: where it rises, the one
    of the opposite bound, further on; in a valley, the one on the way down.
    """
    if slope + wide / sqrt(spread_x) <= 0:
        return None
    curve = slope**2 - wide**2 / spread_x
    under = away**2 - wide**2 * least
    outer = slope * away + copysign(sqrt(max(0.0, (slope * away) ** 2 - curve * under)), slope * away)
    roots = [top / bottom for top, bottom in ((outer, curve), (under, outer)) if bottom]
    return (min if curve > 0 else max)(roots, default=None)

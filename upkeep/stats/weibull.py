"""The Weibull distribution fitted to lives of which some were cut short, and how sure that fit is.

Maximum likelihood with suspensions as in Meeker and Escobar, Statistical Methods for Reliability Data (1998), chapters
7 and 8, worked out in plain Python: the shape is the root of one falling function, the scale follows from it.
"""

from __future__ import annotations

from math import exp, expm1, fsum, inf, log, log1p, sqrt
from operator import mul
from statistics import NormalDist, correlation

from upkeep.frozen import frozen
from upkeep.said import said
from upkeep.stats.few import TooFew
from upkeep.stats.interval import Interval
from upkeep.stats.lives import Lives, kaplan_meier
from upkeep.stats.roots import end_of, falling_root

_SCALE = -expm1(-1)  # the share that has failed by the age that is the scale, whatever the shape
_HIGHEST = 300.0  # exponents above are out of reach of any fit, and their exp could overflow in the sums


@frozen
class Weibull:
    """Lives with a failed share of 1 - exp(-(age/scale)^shape) at each age; ``scale`` has the unit of the ages.

    ``shape`` above 1: the older, the likelier to fail.  ``log_likelihood`` is that of the lives it was fitted to.
    """

    shape: float
    scale: float
    log_likelihood: float

    def life(self, fraction: float) -> float:
        """The age by which that fraction (0 to 1) has failed."""
        return self.scale * (-log1p(-fraction)) ** (1 / self.shape) if fraction < 1 else inf

    def failed(self, age: float) -> float:
        """The share that has failed by that age."""
        return -expm1(-((age / self.scale) ** self.shape)) if age > 0 else 0.0


@frozen
class Bounds:
    """Where the shape and the scale of a fit may lie, each on its own."""

    shape: Interval
    scale: Interval


@frozen
class Goodness:
    """How well a fit follows its lives.

    ``correlation`` is that of the probability plot: near 1 where the failures lie on a straight line.  ``distance`` is
    the largest difference between the fitted failed share and that of Kaplan and Meier, just before or at a failure.
    """

    correlation: float
    distance: float


class _Logs:
    """The logarithms of the ages, measured from the highest one so that no power of an age overflows."""

    __slots__ = ("ages", "count", "highest", "mean")

    def __init__(self, lives: Lives) -> None:
        failed = [log(age) for age in lives.failures]
        if len(set(failed)) < 2:
            raise TooFew(2, said("failures at different ages"), len(set(failed)))
        ages = [*failed, *(log(age) for age in lives.suspensions if age > 0)]
        self.highest = max(ages)
        self.ages = [age - self.highest for age in ages]
        self.count = len(failed)
        self.mean = fsum(self.ages[: self.count]) / self.count

    def slope(self, shape: float) -> tuple[float, float]:
        """The slope of the likelihood per failure along the shape, the scale being the best for it; and its slope."""
        ages = self.ages
        weights = [exp(shape * age) for age in ages]
        first = list(map(mul, weights, ages))
        total = sum(weights)
        mean = sum(first) / total
        return 1 / shape + self.mean - mean, -1 / shape**2 - sum(map(mul, first, ages)) / total + mean * mean

    def best_shape(self) -> float:
        """The shape of the highest likelihood, looked for from the spread that its failures would have."""
        spread = sqrt(sum((age - self.mean) ** 2 for age in self.ages[: self.count]) / self.count)
        return falling_root(self.slope, 1.28 / spread)

    def scale(self, shape: float) -> float:
        """The logarithm of the scale that is the best for a shape."""
        return self.highest + log(sum(exp(shape * age) for age in self.ages) / self.count) / shape

    def likelihood(self, shape: float) -> float:
        """The logarithm of the likelihood of a shape with the scale that is the best for it."""
        return self.likelihood_through(shape, self.scale(shape), 1.0)

    def likelihood_through(self, shape: float, age: float, hazard: float) -> float:
        """The same, for the scale with which `hazard` has gathered by an age (a logarithm)."""
        above = age - self.highest
        gathered = hazard * sum(exp(min(shape * (each - above), _HIGHEST)) for each in self.ages)
        failing = log(shape) + log(hazard) + shape * (self.mean - above) - self.mean - self.highest
        return self.count * failing - gathered

    def highest_through(self, age: float, hazard: float, start: float) -> float:
        """The highest likelihood of any shape for which `hazard` has gathered by an age; looked for from `start`."""
        distances = [each - age + self.highest for each in self.ages]
        failed = sum(distances[: self.count])
        reach = self.highest - age
        if reach > 0:  # from a shape with which far more than all would have failed, Newton would creep
            start = min(start, (1 + log1p(self.count / hazard)) / reach)

        def slope(shape: float) -> tuple[float, float]:
            weights = [hazard * exp(min(shape * distance, _HIGHEST)) for distance in distances]
            first = list(map(mul, weights, distances))
            curve = -self.count / shape**2 - sum(map(mul, first, distances))
            return self.count / shape + failed - sum(first), curve

        return self.likelihood_through(falling_root(slope, start), age, hazard)


def fit(lives: Lives) -> Weibull:
    """The Weibull distribution under which these lives are likeliest.

    Raises :class:`TooFew` with fewer than 2 failures at different ages: then there is no such distribution.
    """
    logs = _Logs(lives)
    shape = logs.best_shape()
    return Weibull(shape, exp(logs.scale(shape)), logs.likelihood(shape))


def bounds(lives: Lives, level: float = 0.95) -> Bounds:
    """Where shape and scale may lie: all values whose best likelihood is not too far below the highest.

    Likelihood-ratio intervals (Meeker and Escobar, 8.3), which stay true with few failures.  Raises :class:`TooFew`.
    """
    logs = _Logs(lives)
    shape = logs.best_shape()
    enough = logs.likelihood(shape) - _drop(level)
    low, high = (
        exp(end_of(lambda at: logs.likelihood(exp(at)) - enough, log(shape), side / sqrt(logs.count)))
        for side in (-1, 1)
    )
    return Bounds(Interval(low, high), life_bounds(lives, _SCALE, level))


def life_bounds(lives: Lives, fraction: float, level: float = 0.95) -> Interval:
    """Where the age by which that fraction has failed may lie; a likelihood-ratio interval.  Raises :class:`TooFew`."""
    logs = _Logs(lives)
    shape = logs.best_shape()
    hazard = -log1p(-fraction)
    age = logs.scale(shape) + log(hazard) / shape
    enough = logs.likelihood(shape) - _drop(level)
    step = (1 + abs(log(hazard))) / (shape * sqrt(logs.count))
    low, high = (
        end_of(lambda at: logs.highest_through(at, hazard, shape) - enough, age, side * step) for side in (-1, 1)
    )
    return Interval(exp(low), exp(high) if high < _HIGHEST else inf)


def fit_with_shape(lives: Lives, shape: float) -> Weibull:
    """The likeliest distribution of a shape that is known from elsewhere.  Raises :class:`TooFew` without a failure."""
    if not lives.failures:
        raise TooFew(1, said("failures"), 0)
    count = len(lives.failures)
    scale = _scale(lives, shape, count)
    failing = log(shape) - shape * log(scale) + (shape - 1) * fsum(map(log, lives.failures)) / count
    return Weibull(shape, scale, count * (failing - 1))


def scale_bounds(lives: Lives, shape: float, level: float = 0.95) -> Interval:
    """Where the scale may lie when the shape is known: ages to the power of the shape are exponential, so chi-square.

    Exact where the test ended with a failure, near and cautious where lives were cut short (Meeker and Escobar, 7.7
    and 8.4).  Without a failure the lower end alone is known and takes the whole level; the upper end is infinite.
    Raises :class:`TooFew` when no life has an age above 0.
    """
    from scipy.special import gammainccinv, gammaincinv

    if not any((*lives.failures, *lives.suspensions)):
        raise TooFew(1, said("lives with an age above 0"), 0)
    failed = len(lives.failures)
    if not failed:
        return Interval(_scale(lives, shape, -log1p(-level)), inf)
    outside = (1 - level) / 2
    most, least = gammainccinv(failed + 1, outside), gammaincinv(failed, outside)  # halves of chi-square quantiles
    return Interval(_scale(lives, shape, float(most)), _scale(lives, shape, float(least)))


def goodness(lives: Lives, fitted: Weibull) -> Goodness:
    """How straight the probability plot is, and how far the fit is from Kaplan and Meier at the worst place.

    A failure is plotted in the middle of its step (Meeker and Escobar, 6.4).  Raises :class:`TooFew` with fewer than 2
    failures at different ages.
    """
    steps = kaplan_meier(lives)
    if len(steps) < 2:
        raise TooFew(2, said("failures at different ages"), len(steps))
    before = [1.0, *(step.survival for step in steps[:-1])]
    middles = [(step.survival + earlier) / 2 for step, earlier in zip(steps, before, strict=True)]
    distance = max(
        max(abs(1 - survival - fitted.failed(step.age)) for survival in (step.survival, earlier))
        for step, earlier in zip(steps, before, strict=True)
    )
    straight = correlation([log(step.age) for step in steps], [log(-log(middle)) for middle in middles])
    return Goodness(straight, distance)


def _drop(level: float) -> float:
    """How far the logarithm of a likelihood may fall: half a chi-square quantile with one degree of freedom."""
    return NormalDist().inv_cdf((1 + level) / 2) ** 2 / 2


def _scale(lives: Lives, shape: float, failures: float) -> float:
    """The scale of a known shape for which these ages would be expected to bring that many failures."""
    ages = (*lives.failures, *lives.suspensions)
    highest = max(ages)
    total = fsum((age / highest) ** shape for age in ages)
    return float(highest * (total / failures) ** (1 / shape))

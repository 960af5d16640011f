"""Whether to replace by age, and at which: worth it only for what wears."""

from __future__ import annotations

from math import exp, gamma, log

from upkeep.frozen import frozen
from upkeep.stats.roots import falling_root

_HARDLY_ANY = 1e-6


@frozen
class Replacement:
    """The age at which replacing costs least per unit of age, and what that is worth.

    ``age_over_scale`` is the age in units of the Weibull scale; None: no planned replacement helps.  ``saving`` is the
    share of the cost of running to failure that is saved, ``failed_before`` the share that fails before that age all
    the same.
    """

    age_over_scale: float | None
    saving: float
    failed_before: float


NO_REPLACEMENT = Replacement(None, 0.0, 1.0)


def age_replacement(shape: float, cost_ratio: float) -> Replacement:
    """The best age for replacing what fails by a Weibull distribution of that shape.

    `cost_ratio` is what a failure costs for each unit that a planned replacement costs.  The age replacement policy of
    Barlow and Proschan, Mathematical Theory of Reliability (1965), chapter 4: the long-run cost per unit of age is
    [planned * survived + failure * failed] / [mean age at replacement].  No age is the best with a shape up to 1, with
    a ratio up to 1, and in effect where fewer than one in a million would live to it.
    """
    if not (shape > 0 and cost_ratio > 0):
        raise ValueError("a shape and a cost ratio are above 0")
    if shape <= 1 or cost_ratio <= 1:
        return NO_REPLACEMENT
    mean = gamma(1 + 1 / shape)
    gathered = falling_root(lambda hazard: _short_of_best(hazard, shape, cost_ratio, mean), 1 / (cost_ratio * shape))
    if exp(-gathered) < _HARDLY_ANY:
        return NO_REPLACEMENT
    age = gathered ** (1 / shape)
    failed = 1 - exp(-gathered)
    cost = (1 + (cost_ratio - 1) * failed) / _mean_age(gathered, shape, mean)
    return Replacement(age, 1 - cost * mean / cost_ratio, failed)


def _short_of_best(hazard: float, shape: float, cost_ratio: float, mean: float) -> tuple[float, float]:
    """How much the condition of the least cost is short of met when that hazard has gathered; and the slope of it.

    The condition: hazard rate * mean age at replacement - failed = planned / (failure - planned).
    """
    rate_growth = (1 - 1 / shape) / hazard
    rate = shape * exp(log(hazard) * (1 - 1 / shape))
    mean_age = _mean_age(hazard, shape, mean)
    return 1 / (cost_ratio - 1) + (1 - exp(-hazard)) - rate * mean_age, -rate * rate_growth * mean_age


def _mean_age(hazard: float, shape: float, mean: float) -> float:
    """The mean age at which an item is replaced, failed or not, in units of the scale."""
    from scipy.special import gammainc

    return float(mean * gammainc(1 / shape, hazard))

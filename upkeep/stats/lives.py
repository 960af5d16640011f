"""Lives that ended by failure and lives that were cut short, and the share that survives each age.

A life that was cut short (a part taken out for another reason, or still running) is a suspension: it is known to be
longer than its age.  Leaving it out would make everything look shorter-lived than it is.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from math import exp, inf, isfinite, log, sqrt
from statistics import NormalDist

from upkeep.frozen import frozen


@frozen
class Lives:
    """Ages at failure and ages at which a life was cut short, in one unit of the caller's; the order is of no account.

    Raises ValueError for an age that is not a number, for a failure that is not above 0, for a suspension below 0.
    """

    failures: tuple[float, ...]
    suspensions: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        if not all(0 < age < inf for age in self.failures):
            raise ValueError("every age at failure is a finite number above 0")
        if not all(age >= 0 and isfinite(age) for age in self.suspensions):
            raise ValueError("every age at suspension is a finite number, 0 or above")


@frozen
class Step:
    """One age at which lives failed: how many were that old, how many of them failed, and the share that survives it.

    ``low`` and ``high`` bound the survival at the level asked for.
    """

    age: float
    at_risk: int
    failures: int
    survival: float
    low: float
    high: float


def kaplan_meier(lives: Lives, level: float = 0.95) -> tuple[Step, ...]:
    """The share that survives each age at which something failed, oldest last; empty without a failure.

    The product-limit estimate of Kaplan and Meier (1958) with Greenwood's variance (1926) and bounds on the log(-log)
    scale, which stay between 0 and 1.  A life suspended at the very age of a failure counts as having been at risk.
    Where nothing survives a step, its variance is not defined: ``low`` is then 0 and ``high`` that of the step before.
    """
    wide = NormalDist().inv_cdf((1 + level) / 2)
    ages = sorted((*lives.failures, *lives.suspensions))
    steps: list[Step] = []
    survival, variance, high = 1.0, 0.0, 1.0
    for age, failed in sorted(Counter(lives.failures).items()):
        at_risk = len(ages) - bisect_left(ages, age)
        survival *= 1 - failed / at_risk
        low = 0.0
        if failed < at_risk:
            variance += failed / (at_risk * (at_risk - failed))
            low, high = _log_log_bounds(survival, wide * sqrt(variance))
        steps.append(Step(age, at_risk, failed, survival, low, high))
    return tuple(steps)


def _log_log_bounds(survival: float, error: float) -> tuple[float, float]:
    """Bounds of a survival whose logarithm has that error."""
    logarithm = log(survival)
    wide = error / -logarithm
    return exp(logarithm * exp(wide)), exp(logarithm * exp(-wide))

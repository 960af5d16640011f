"""How many times the scatter of a process fits between its limits, and how little a small sample says about it."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, sqrt
from statistics import NormalDist, fmean, stdev

from upkeep.frozen import frozen
from upkeep.said import said
from upkeep.stats.few import TooFew

LEAST_VALUES = 25
"""With fewer values the lower bound of a good process is hardly above 1: no capability is given (common practice)."""


@frozen
class Capability:
    """The capability measured from `n` values, and ``low``, below which the true one hardly is at the level asked."""

    n: int
    cpk: float
    low: float


def cpk(values: Sequence[float], lower: float | None, upper: float | None, level: float = 0.95) -> Capability:
    """The smaller distance of the mean from a limit, in units of three standard deviations of the values.

    NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6 and 7.1; None for `lower` or `upper`: there is no such limit.
    Raises :class:`TooFew` below :data:`LEAST_VALUES` values, or where all of them are the same.
    """
    if lower is None and upper is None:
        raise ValueError("a capability needs a lower or an upper limit")
    if len(values) < LEAST_VALUES:
        raise TooFew(LEAST_VALUES, said("values"), len(values))
    if len(set(values)) < 2:
        raise TooFew(2, said("different values"), 1)
    mean = fmean(values)
    above = inf if lower is None else mean - lower
    below = inf if upper is None else upper - mean
    estimate = min(above, below) / (3 * stdev(values))
    return Capability(len(values), estimate, bissell_low(estimate, len(values), level))


def bissell_low(cpk: float, n: int, level: float = 0.95) -> float:
    """The one-sided lower bound of a capability measured from n values.

    Bissell's approximation (How Reliable Is Your Capability Index?, Applied Statistics 39, 1990), as in the
    NIST/SEMATECH e-Handbook, 6.1.6.  Raises :class:`TooFew` below 2 values.
    """
    if n < 2:
        raise TooFew(2, said("values"), n)
    return cpk - NormalDist().inv_cdf(level) * sqrt(1 / (9 * n) + cpk**2 / (2 * (n - 1)))

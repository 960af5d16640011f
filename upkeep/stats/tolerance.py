"""The value that all but a few of a normal population exceed, from a sample of it."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from statistics import NormalDist, fmean, stdev

from upkeep.said import said
from upkeep.stats.few import TooFew


def k_factor(n: int, cover: float = 0.99, level: float = 0.95) -> float:
    """How many standard deviations below the mean of n values the bound lies that `cover` of the population exceed.

    The one-sided normal tolerance factor, exact by the noncentral t distribution: NIST/SEMATECH e-Handbook of
    Statistical Methods, 7.2.6.3.  It holds with the confidence `level`.  Raises :class:`TooFew` below 2 values.
    """
    from scipy.special import nctdtrit

    if n < 2:
        raise TooFew(2, said("values"), n)
    root = sqrt(n)
    return float(nctdtrit(n - 1, NormalDist().inv_cdf(cover) * root, level)) / root


def lower_bound(values: Sequence[float], cover: float = 0.99, level: float = 0.95) -> float:
    """The value that at least `cover` of the population exceed, with the confidence `level`.

    Raises :class:`TooFew` below 2 values.
    """
    factor = k_factor(len(values), cover, level)
    return fmean(values) - factor * stdev(values)

"""How bad a population may be whose sample passed.

Exact bounds of a binomial share: Clopper and Pearson, The Use of Confidence or Fiducial Limits, Biometrika 26 (1934).
"""

from __future__ import annotations

from math import ceil, expm1, log1p

from upkeep.stats.interval import Interval


def not_excluded(n: int, level: float = 0.95, failures: int = 0) -> float:
    """The largest bad share that n trials with so many failures do not exclude at that level, one-sided; 1 for n = 0.

    Raises ValueError where there are more failures than trials.
    """
    _refuse_impossible(n, failures)
    if failures == n:
        return 1.0
    if not failures:
        return -expm1(log1p(-level) / n)
    from scipy.special import betaincinv

    return float(betaincinv(failures + 1, n - failures, level))


def passes_to_exclude(fraction: float, level: float = 0.95, failures: int = 0) -> int:
    """The fewest trials, with so many failures among them, that exclude a bad share of `fraction` at that level.

    Raises ValueError for a share that is not between 0 and 1.
    """
    if not 0 < fraction < 1:
        raise ValueError("the share to exclude lies between 0 and 1")
    high = max(1, ceil(log1p(-level) / log1p(-fraction)) + failures)
    low = failures
    while not_excluded(high, level, failures) > fraction:
        low, high = high, 2 * high
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if not_excluded(middle, level, failures) <= fraction else (middle, high)
    return high


def clopper_pearson(failures: int, n: int, level: float = 0.95) -> Interval:
    """Where the bad share may lie after n trials with so many failures, two-sided; 0 to 1 for n = 0."""
    _refuse_impossible(n, failures)
    side = (1 + level) / 2
    return Interval(1 - not_excluded(n, side, n - failures), not_excluded(n, side, failures))


def _refuse_impossible(n: int, failures: int) -> None:
    if not 0 <= failures <= n:
        raise ValueError(f"of {n} trials {failures} cannot have failed")

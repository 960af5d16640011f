"""How often something happens by its own clock, and between which bounds, from a few times it was seen.

For events that come at a constant rate (a Poisson process): F. Garwood, Fiducial Limits for the Poisson Distribution,
Biometrika 28 (1936); for the mean between events W. Q. Meeker and L. A. Escobar, Statistical Methods for Reliability
Data (1998), chapter 7.  Both from memory; the tests hold them against scipy and printed factors.
"""

from __future__ import annotations

from math import inf

from upkeep.stats.interval import Interval


def poisson_interval(events: int, level: float = 0.95) -> Interval:
    """Where the expected number of events may lie of which so many were seen; exact, two-sided."""
    from scipy.special import gammaincinv

    side = (1 - level) / 2
    low = float(gammaincinv(events, side)) if events else 0.0
    return Interval(low, float(gammaincinv(events + 1, 1 - side)))


def mean_between(total: float, events: int, level: float = 0.90) -> Interval:
    """Where the mean between events may lie after so many in a total of strokes or time that was watched to its end.

    ``high`` is infinite where none was seen; then ``low`` is the bound below, one-sided at (1 + level) / 2.
    """
    expected = poisson_interval(events, level)
    return Interval(total / expected.high, total / expected.low if events else inf)

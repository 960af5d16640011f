"""Scatter found in several groups: whether two of them agree, and what they say together.

A group tells its variance as a sum of squares over its degrees of freedom.  Groups of one variance are pooled by adding
both: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.7 (Bartlett's test, with the pooled variance).
"""

from __future__ import annotations

from collections.abc import Iterable
from math import inf, log, sqrt
from statistics import NormalDist

from upkeep.frozen import frozen


@frozen
class Scatter:
    """How a group scatters: the sum of the squares of what its values are off, and the degrees of freedom of that."""

    squares: float
    freedom: int

    @property
    def deviation(self) -> float:
        """The standard deviation, in the unit of the values."""
        return sqrt(self.squares / self.freedom)


def pooled(groups: Iterable[Scatter]) -> Scatter:
    """What groups of one variance say of it together."""
    squares, freedom = zip(*((group.squares, group.freedom) for group in groups), strict=True)
    return Scatter(sum(squares), sum(freedom))


def agree(one: Scatter, other: Scatter, level: float) -> bool:
    """Whether two scatters differ by no more than groups of one variance do with the chance ``level``.

    Bartlett's test of two groups: its statistic goes by chi-squared with one degree of freedom, the square of a normal
    value.
    """
    return bartlett(one, other) <= NormalDist().inv_cdf((1 + level) / 2) ** 2


def bartlett(one: Scatter, other: Scatter) -> float:
    """The statistic of Bartlett's test for two groups; infinite where one of them does not scatter at all."""
    both = pooled((one, other))
    if both.squares == 0:
        return 0.0
    if one.squares == 0 or other.squares == 0:
        return inf
    groups = (one, other)
    apart = both.freedom * log(both.deviation**2) - sum(group.freedom * log(group.deviation**2) for group in groups)
    few = 1 + (sum(1 / group.freedom for group in groups) - 1 / both.freedom) / 3
    return apart / few

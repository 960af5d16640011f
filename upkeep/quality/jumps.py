"""Whether a slug height jumped: by more than three times what it usually scatters between checks.

Wear is slow.  A jump says that something broke, moved or came loose, or that the gauge did; the set stops either way.
The factor 3 and the least number of checks are plant defaults without a source; the scatter is that of the individuals
chart: the mean moving range over 1.128 (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from statistics import fmean

SLUG = "slug-height"
SLUG_JUMP = "slug-jump"
"""The look that the book puts into a check of a slug: good where it did not jump."""

LEAST_CHECKS = 4
FACTOR = 3
SMALLEST = 0.003
"""A difference, in the unit of the point, that no crimp micrometer tells from none.  Common practice, no source."""

_RANGE_OF_TWO = 1.128


def usual_scatter(heights: Sequence[float]) -> float | None:
    """How much the slug heights of checks in order usually scatter; None where there are too few to say."""
    if len(heights) < LEAST_CHECKS:
        return None
    return fmean(abs(late - early) for early, late in pairwise(heights)) / _RANGE_OF_TWO


def jumped(heights: Sequence[float], height: float) -> bool | None:
    """Whether a height jumped from the last of those before it; None where too few came before."""
    scatter = usual_scatter(heights)
    return None if scatter is None else abs(height - heights[-1]) > max(FACTOR * scatter, SMALLEST)

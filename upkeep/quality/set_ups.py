"""What a set-up is compared by: the first piece with the last, what was found with what was left."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from statistics import fmean

from upkeep.entries.found import Check

ASKED = (("set-up", "the settings"), ("first-off", "the first piece"), ("last-off", "the last piece"))
"""What a page of a set-up should have, and the words for it (a common practice, no source)."""


def span_of(begun: Sequence[datetime], first: datetime, at: datetime) -> tuple[datetime, datetime | None]:
    """Where the set-up of a moment begins and ends.

    ``begun`` are the moments at which one began (a fitting, settings written down), in order; ``first`` stands where
    none of them is early enough.
    """
    before = [moment for moment in begun if moment <= at]
    after = [moment for moment in begun if moment > at]
    return (before[-1] if before else first), (after[0] if after else None)


def moved(first: Check, last: Check, point: str) -> tuple[float, float, float, float | None]:
    """The means of a characteristic in two checks, how far the second lies from the first, and the share of the
    tolerance this takes (None where a limit is missing)."""
    before, after = fmean(dict(first.points)[point]), fmean(dict(last.points)[point])
    lower, upper = next(((low, high) for key, low, high in last.limits if key == point), (None, None))
    tolerance = None if lower is None or upper is None or upper <= lower else upper - lower
    return before, after, after - before, None if tolerance is None else abs(after - before) / tolerance


def common(first: Check, last: Check) -> list[str]:
    """The characteristics two checks share."""
    later = dict(last.points)
    return [key for key, _ in first.points if key in later]

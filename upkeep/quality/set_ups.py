"""What a set-up is compared by: the first piece with the last, what was found with what was left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from statistics import fmean

from upkeep.entries.checking import Check
from upkeep.said import said

ASKED = (
    ("set-up", said("the settings")),
    ("first-off", said("the first piece")),
    ("last-off", said("the last piece")),
)
"""What a page of a set-up should have, and the words for it (a common practice, no source)."""


FITTED, SETTINGS, FIRST = "fitting", "set-up", "first-off"
"""What may begin a set-up: the item is fitted, settings are written down, the first piece of another order is made."""

Event = tuple[datetime, str, str | None]
"""When, which of these, and the order it names."""


def begun(events: Iterable[Event]) -> Iterator[datetime]:
    """The moments at which a set-up begins, from its events in order.

    Until its first piece is made, all settings written down belong to what has just begun, and that piece as well.
    """
    waits, named = False, None
    for moment, what, order in events:
        other_order = order is not None and named is not None and order != named
        if what == FITTED or (not waits and (what == SETTINGS or other_order)):
            yield moment
            named = None
        waits = what != FIRST
        named = order or named


def span_of(moments: Iterable[datetime], first: datetime, at: datetime) -> tuple[datetime, datetime | None]:
    """Where the set-up of a moment begins and ends.

    ``moments`` are those at which one began, in order; ``first`` stands where none of them is early enough.
    """
    start, end = first, None
    for moment in moments:
        if moment > at:
            end = moment
            break
        start = moment
    return start, end


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

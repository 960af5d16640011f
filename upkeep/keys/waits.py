"""How long somebody waits after wrong codes: arithmetic on moments."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from upkeep.frozen import frozen

FREE = 5
"""The wrong codes after which a wait begins."""

FIRST_WAIT = timedelta(seconds=30)
LONGEST_WAIT = timedelta(minutes=15)
"""Waits double from the first to the longest one (plant defaults, no source)."""

PERSON_REMEMBERED = timedelta(days=1)
STATION_REMEMBERED = timedelta(minutes=15)
"""How long a wrong code counts against a person and against a station: many people come to a station."""


@frozen
class Wait:
    """A wait that has just begun: after how many wrong codes, and for how many seconds; for the whole station, or for
    the person whose name was given."""

    wrong: int
    seconds: int
    whole_station: bool


def wait_after(wrong: int) -> timedelta:
    """How long nobody may try after so many wrong codes."""
    if wrong < FREE:
        return timedelta(0)
    doublings = min(wrong - FREE, 10)  # enough for the longest wait, whatever was tried
    return min(FIRST_WAIT * (1 << doublings), LONGEST_WAIT)


def over_at(wrong: Sequence[datetime], now: datetime) -> datetime | None:
    """When the wait after wrong codes at these moments is over; None: nobody has to wait.

    A clock that was set back lengthens no wait.
    """
    if not wrong:
        return None
    wait = wait_after(len(wrong))
    over = min(max(wrong), now) + wait
    return over if over > now else None

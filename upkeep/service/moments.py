"""The moments on the wall at which something is wanted, as instants.

A wall time that the clock is put forward over counts right after the gap, one that exists twice counts the first time;
so each day has each of its moments exactly once.
"""

from __future__ import annotations

from datetime import datetime, time, timedelta

from upkeep.units.instants import Zone

NIGHT = time(2, 15)
"""When a backup is wanted, each night; plant default, no source."""

MONDAY = time(6, 0)
"""When the weekly list is wanted, each Monday; plant default, no source."""


def last_night(now: datetime, zone: Zone) -> datetime:
    """The last moment, now or before, at which a backup was wanted."""
    return _last(now, zone, NIGHT, back=0, every=1)


def last_monday(now: datetime, zone: Zone) -> datetime:
    """The last moment, now or before, at which a weekly list was wanted."""
    return _last(now, zone, MONDAY, back=zone.day(now).weekday(), every=7)


def _last(now: datetime, zone: Zone, wall: time, back: int, every: int) -> datetime:
    """The wall time ``back`` days ago; where that is still to come, the one ``every`` days before."""
    days = (zone.day(now) - timedelta(days=ago) for ago in (back, back + every))
    moments = (zone.instant(datetime.combine(day, wall)) for day in days)
    return next(moment for moment in moments if moment <= now)

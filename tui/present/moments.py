"""Moments and ages as people at the press read them, in the plant's wall time."""

from __future__ import annotations

from dataclasses import field
from datetime import date, datetime, timedelta

from upkeep.entries.occurrences import EXTRA, Day, OfShift, Strokes, occurrence_of
from upkeep.frozen import frozen
from upkeep.plant.names import Names
from upkeep.units.instants import NEVER, Zone
from upkeep.wording.sentences import ENGLISH, Reader

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_NEAR = timedelta(days=6)


@frozen
class Now:
    """The instant a screen stands at, the zone in which it says so, the names of people by id, and who reads it."""

    at: datetime
    zone: Zone
    names: Names = field(default_factory=Names)
    reader: Reader = ENGLISH


def day_text(day: date) -> str:
    """A day with its name, ``Mon 2026-03-09``."""
    return f"{_DAYS[day.weekday()]} {day.isoformat()}"


def moment_text(instant: datetime | None, zone: Zone) -> str:
    """A moment with its day, ``Mon 2026-03-02 06:05``; "never" for None."""
    if instant is None or instant >= NEVER:
        return "never"
    return f"{_DAYS[zone.local(instant).weekday()]} {zone.show(instant)}"


def wall_text(instant: datetime, zone: Zone) -> str:
    """The wall clock as it hangs in the head of a screen, to the minute: ``Mon 2026-03-02 06:05``."""
    local = zone.local(instant)
    return f"{day_text(local.date())} {local:%H:%M}"


def clock_text(instant: datetime, zone: Zone) -> str:
    """The wall clock at a moment, ``06:05``."""
    return f"{zone.local(instant):%H:%M}"


def near_text(instant: datetime, now: Now) -> str:
    """A moment as short as it stays clear: ``06:05`` today, ``Mon 06:05`` within six days, ``2026-02-14`` beyond."""
    local, today = now.zone.local(instant), now.zone.day(now.at)
    if local.date() == today:
        return f"{local:%H:%M}"
    near = abs(instant - now.at) < _NEAR
    return f"{_DAYS[local.weekday()]} {local:%H:%M}" if near else local.date().isoformat()


def occurrence_text(occurrence: str) -> str:
    """A planned occurrence as people say it: "early shift of Mon 2026-03-02", a day, a number of strokes, an extra."""
    match occurrence_of(occurrence):
        case Strokes(number=number):
            return f"{number:,} strokes"
        case OfShift(day=day, shift=shift):
            return f"{shift} shift of {day_text(day)}"
        case Day(day=day):
            return day_text(day)
    return "as an extra" if occurrence == EXTRA else occurrence


def age_text(age: timedelta) -> str:
    """An age in one unit: ``40 min``, ``26 h``, ``12 days``; rounded down, never negative."""
    minutes = max(int(age.total_seconds()) // 60, 0)
    if minutes < 60:
        return f"{minutes} min"
    return f"{minutes // 60} h" if minutes < 48 * 60 else f"{minutes // 1440:,} days"

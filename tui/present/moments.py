"""Moments and ages as people at the press read them, in the plant's wall time."""

from __future__ import annotations

from dataclasses import field
from datetime import datetime, timedelta

from upkeep.frozen import frozen
from upkeep.plant.names import Names
from upkeep.said import DayName, Said, Weekday, said
from upkeep.units.instants import NEVER, Zone
from upkeep.wording.sentences import ENGLISH, Reader

_NEAR = timedelta(days=6)


@frozen
class Now:
    """The instant a screen stands at, the zone in which it says so, the names of people by id, and who reads it."""

    at: datetime
    zone: Zone
    names: Names = field(default_factory=Names)
    reader: Reader = ENGLISH


def moment_said(instant: datetime | None, zone: Zone) -> Said:
    """A moment with its day, ``Mon 2026-03-02 06:05``; "never" for None."""
    if instant is None or instant >= NEVER:
        return said("never")
    return said("{weekday} {moment}", weekday=DayName(zone.day(instant)), moment=zone.show(instant))


def wall_said(instant: datetime, zone: Zone) -> Said:
    """The wall clock as it hangs in the head of a screen, to the minute: ``Mon 2026-03-02 06:05``."""
    return said("{day} {clock}", day=Weekday(zone.day(instant)), clock=clock_text(instant, zone))


def clock_text(instant: datetime, zone: Zone) -> str:
    """The wall clock at a moment, ``06:05``."""
    return f"{zone.local(instant):%H:%M}"


def near_said(instant: datetime, now: Now) -> Said:
    """A moment as short as it stays clear: ``06:05`` today, ``Mon 06:05`` within six days, ``2026-02-14`` beyond."""
    day, clock = now.zone.day(instant), clock_text(instant, now.zone)
    if day == now.zone.day(now.at):
        return said("{clock}", clock=clock)
    if abs(instant - now.at) < _NEAR:
        return said("{weekday} {clock}", weekday=DayName(day), clock=clock)
    return said("{day}", day=day)


def age_said(age: timedelta) -> Said:
    """An age in one unit: ``40 min``, ``26 h``, ``12 days``; rounded down, never negative."""
    minutes = max(int(age.total_seconds()) // 60, 0)
    if minutes < 60:
        return said("{n} min", n=minutes)
    return said("{n} h", n=minutes // 60) if minutes < 48 * 60 else said("{n} days", n=minutes // 1440)

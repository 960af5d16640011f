"""Moments as a page shows them: the wall clock alone where the day is clear."""

from __future__ import annotations

from dataclasses import field
from datetime import datetime

from upkeep.frozen import frozen
from upkeep.said import Clock, DayOf, Said, Voice, said
from upkeep.units.instants import Zone


@frozen
class ClockTime:
    """The wall clock at an instant (UTC), ``06:05``, in the reader's zone; in that of the plant for who has none."""

    at: datetime
    zone: Clock = field(compare=False)

    def shown(self, voice: Voice) -> str:
        """Hours and minutes."""
        return (voice.zone or self.zone).minute(self.at)[-5:]


def near(at: datetime, now: datetime, zone: Zone) -> Said:
    """A moment as short as it stays clear: ``06:05`` today, ``2026-02-14 06:05`` on any other day."""
    clock = said("{clock}", clock=ClockTime(at, zone))
    return clock if zone.day(at) == zone.day(now) else said("{day} {clock}", day=DayOf(at, zone), clock=clock)

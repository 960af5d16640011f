"""Moments as a page shows them: the wall clock alone where the day is clear."""

from __future__ import annotations

from dataclasses import field
from datetime import datetime

from upkeep.entries.occurrences import Day, OfShift, Strokes, occurrence_of
from upkeep.frozen import frozen
from upkeep.said import Clock, DayOf, Said, Voice, Weekday, said
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes


@frozen
class ClockTime:
    """The wall clock at an instant (UTC), ``06:05``, in the reader's zone; in that of the plant for who has none."""

    at: datetime
    zone: Clock = field(compare=False)

    def shown(self, voice: Voice) -> str:
        """Hours and minutes."""
        return (voice.zone or self.zone).minute(self.at)[-5:]


def occurrence_said(occurrence: str) -> Said:
    """A planned occurrence as people say it: a shift of a day, a day, a number of strokes."""
    match occurrence_of(occurrence):
        case Strokes(number=number):
            return in_strokes(number)
        case OfShift(day=day, shift=shift):
            return said("the {shift} shift of {day}", shift=shift, day=Weekday(day))
        case Day(day=day):
            return said("{day}", day=Weekday(day))
    return said("{occurrence}", occurrence=occurrence)


def near(at: datetime, now: datetime, zone: Zone) -> Said:
    """A moment as short as it stays clear: ``06:05`` today, ``2026-02-14 06:05`` on any other day."""
    clock = said("{clock}", clock=ClockTime(at, zone))
    return clock if zone.day(at) == zone.day(now) else said("{day} {clock}", day=DayOf(at, zone), clock=clock)

"""The hours there are in a week: people on their shifts, less who is absent, less what is kept for breakdowns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from functools import cached_property

from upkeep.frozen import frozen
from upkeep.keeping.context import Context
from upkeep.plant.people import Person
from upkeep.plant.values.planning import Away
from upkeep.units.shifts import ShiftSpan
from upkeep.units.weeks import week_days


@frozen
class Attendance:
    """Somebody on one shift: ``minutes`` are those of the shift that planned work has, no reserve taken off yet."""

    person: Person
    shift: ShiftSpan
    minutes: int


class WeekHours:
    """Who works when in a week."""

    def __init__(self, context: Context, week: str) -> None:
        self._context, self.week = context, week
        self.first, self.last = week_days(week)

    @cached_property
    def shifts(self) -> tuple[ShiftSpan, ...]:
        """The shifts that begin in the week, in order; a plant without shifts has one from 0 to 24 on each day."""
        zone = self._context.known.zone
        start, end = zone.start_of(self.first), zone.start_of(self.last + timedelta(days=1))
        spans = self._context.known.calendar.between(start, end)
        found = tuple(span for span in spans if self.first <= span.day <= self.last)
        return found or tuple(self._whole_days())

    def _whole_days(self) -> Iterator[ShiftSpan]:
        known = self._context.known
        if known.facts.shifts:
            return
        for passed in range(5):
            day = self.first + timedelta(days=passed)
            if day not in known.facts.days_off:
                start = known.zone.start_of(day) + timedelta(hours=8)
                yield ShiftSpan(day, "day", start, start + timedelta(hours=8))

    @cached_property
    def people(self) -> tuple[Person, ...]:
        """Those who sign in the week, each human being once, in the order of people.csv."""
        every = self._context.known.people.values()
        return tuple(one for one in every if one.signs_on(self.first) and one.same_as is None)

    @cached_property
    def away(self) -> dict[str, tuple[Away, ...]]:
        """The days on which people do not work, as people.csv and entries say."""
        told: dict[str, list[Away]] = {one.id: list(one.away) for one in self.people}
        for row in self._context.plans.absences(self.first.isoformat(), self.last.isoformat()):
            told.setdefault(row.person, []).append(Away(date.fromisoformat(row.first), date.fromisoformat(row.last)))
        touching = {
            person: tuple(one for one in days if one.first <= self.last and self.first <= one.last)
            for person, days in told.items()
        }
        return {person: days for person, days in touching.items() if days}

    def without_shift(self) -> int:
        """How many people have no shift named."""
        return sum(not one.shifts for one in self.people)

    @cached_property
    def attendances(self) -> tuple[Attendance, ...]:
        """Everybody on each shift they work, shifts in order."""
        return tuple(attendance for shift in self.shifts for attendance in self._on(shift))

    def _on(self, shift: ShiftSpan) -> Iterable[Attendance]:
        length = round((shift.end - shift.start).total_seconds() / 60)
        for one in self.people:
            if self._works(one, shift) and one.signs_on(shift.day):
                yield Attendance(one, shift, length * self._share(one) // 100)

    def _works(self, person: Person, shift: ShiftSpan) -> bool:
        if any(days.holds(shift.day) for days in self.away.get(person.id, ())):
            return False
        named = person.shift_in(self.first.isocalendar().week)
        return shift.name == named if named is not None else shift is self._first_of_day[shift.day]

    @cached_property
    def _first_of_day(self) -> dict[date, ShiftSpan]:
        first: dict[date, ShiftSpan] = {}
        for shift in self.shifts:
            first.setdefault(shift.day, shift)
        return first

    def _share(self, person: Person) -> int:
        """The percent of a shift that planned work has: of the roles somebody has, that with most."""
        share = self._context.known.facts.planning.share
        return max((share.get(role, 100) for role in person.roles), default=100)

"""Who works in the demo plant, and who of them on which shift."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime, timedelta
from random import Random

from upkeep.plant.people import Person
from upkeep.units.shifts import ShiftSpan

_FIRST_JOB = timedelta(minutes=20)
"""Before that a shift takes over."""


class Crew:
    """Two crews that change between early and late every week; who is alone in a role works early.

    Everybody does one job after another: :meth:`time_for` gives the moment a job is done, or None when the shift is
    too short for it.
    """

    def __init__(self, people: Iterable[Person]) -> None:
        self._roles = {person.id: person.roles for person in people}
        self._crew: dict[str, int | None] = {}
        by_first_role: dict[str, list[str]] = {}
        for person, roles in self._roles.items():
            by_first_role.setdefault(roles[0], []).append(person)
        for members in by_first_role.values():
            for position, person in enumerate(members):
                self._crew[person] = position % 2 if len(members) > 1 else None
        self._busy_until: dict[tuple[str, str], datetime] = {}

    def on(self, shift: ShiftSpan, roles: Collection[str]) -> list[str]:
        """The people with one of the roles who work on a shift."""
        early = shift.name == "early"
        even_week = shift.day.isocalendar().week % 2 == 0
        present = {0 if early is even_week else 1, None if early else -1}
        fitting = [person for person, has in self._roles.items() if set(has) & set(roles)]
        return [person for person in fitting if self._crew[person] in present]

    def one(self, shift: ShiftSpan, role: str, number: int = 0) -> str:
        """Somebody with a role on a shift (the same for the same number); the first of all where nobody is there."""
        present = self.on(shift, [role]) or [self.alone(role)]
        return present[number % len(present)]

    def alone(self, role: str) -> str:
        """The first of those with a role, whatever the shift."""
        return next(person for person, has in self._roles.items() if role in has)

    def time_for(
        self, shift: ShiftSpan, roles: Collection[str], minutes: float, rng: Random
    ) -> tuple[str, datetime] | None:
        """Who does a job on a shift, and when it is done; None when nobody has the time."""
        present = self.on(shift, roles)
        if not present:
            return None
        person = min(rng.sample(present, min(3, len(present))), key=lambda candidate: self._free_at(candidate, shift))
        done = self._free_at(person, shift) + timedelta(minutes=round(minutes + rng.uniform(2, 15)))
        if done >= shift.end:
            return None
        self._busy_until[person, shift.key] = done
        return person, done

    def _free_at(self, person: str, shift: ShiftSpan) -> datetime:
        return self._busy_until.get((person, shift.key), shift.start + _FIRST_JOB)

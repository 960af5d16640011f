"""What there is to be levelled: jobs with their windows, and the shifts of people who may do them.

Turns are the shifts of the week in order, counted from 0; everything a plan says of time it says in turns.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from upkeep.frozen import frozen

PLAIN, CARRIED, FIRST = 1, 3, 10
"""How heavy a job weighs: any job; one that was carried over from an earlier week; one with a hard window, or that law
asks for (plant default, no source)."""


@frozen
class Job:
    """One job to be placed.

    Attributes:
        row: Its number on the list, from 1; breaks ties.
        line: The line it answers.
        place: The press or place where it is done: jobs of one place are joined in one stop.
        minutes: How long it takes by itself, whole minutes.
        who: The ids of those who may do it.
        opens: The first turn in which it may be done.
        due: The last turn in which it is not late.
        closes: The last turn in which it may be done at all; None: there is no such end.
        weight: :data:`PLAIN`, :data:`CARRIED` or :data:`FIRST`.
        stops: Whether its press has to stand for it.
    """

    row: int
    line: str
    place: str
    minutes: int
    who: frozenset[str]
    opens: int
    due: int
    closes: int | None = None
    weight: int = PLAIN
    stops: bool = False

    def may_be_in(self, turn: int) -> bool:
        """Whether its window holds a turn."""
        return self.opens <= turn and (self.closes is None or turn <= self.closes)


@frozen
class Slot:
    """One person on one shift: ``minutes`` are those left for planned work, the reserve already taken off."""

    person: str
    turn: int
    minutes: int


class Problem:
    """The jobs, the slots, and what a stop costs in time.

    ``between`` are the minutes from one job to the next, and belong to whoever does it; ``set_up`` are those that a
    stop takes before its first job, once a place and turn, and are taken from the hours of all who work in that turn.
    ``standing`` are the presses that stand anyway, each with the turn in which they do.
    """

    def __init__(
        self,
        jobs: tuple[Job, ...],
        slots: tuple[Slot, ...],
        between: int = 0,
        set_up: int = 0,
        standing: frozenset[tuple[str, int]] = frozenset(),
    ) -> None:
        self.jobs, self.slots = jobs, slots
        self.between, self.set_up, self.standing = between, set_up, standing

    def takes(self, job: Job) -> int:
        """The minutes a job takes of somebody's shift: its own and the way to it."""
        return job.minutes + self.between

    @cached_property
    def choices(self) -> tuple[tuple[int, ...], ...]:
        """For each job the slots it may go into, by their numbers."""
        by_person: dict[str, list[int]] = {}
        for number, slot in enumerate(self.slots):
            by_person.setdefault(slot.person, []).append(number)
        return tuple(
            tuple(
                sorted(
                    number
                    for person in job.who
                    for number in by_person.get(person, ())
                    if job.may_be_in(self.slots[number].turn) and self.takes(job) <= self.slots[number].minutes
                )
            )
            for job in self.jobs
        )

    @cached_property
    def turns(self) -> int:
        """How many turns there are."""
        return max((slot.turn for slot in self.slots), default=-1) + 1

    @cached_property
    def hours(self) -> tuple[int, ...]:
        """The minutes there are in each turn, of everybody."""
        minutes = [0] * self.turns
        for slot in self.slots:
            minutes[slot.turn] += slot.minutes
        return tuple(minutes)

    @cached_property
    def wanted(self) -> tuple[int, ...]:
        """The turn in which each job would lie if the week were level: every place gets the turn that is emptiest for
        its hours, places with most work first, the earliest of equal turns; jobs with more weight than others lie in
        the first turn of their window.
        """
        turn_of = self._turn_of_places()
        return tuple(
            min(job.opens, max(0, self.turns - 1)) if job.weight > PLAIN else self._within(at, turn_of[job.place])
            for at, job in enumerate(self.jobs)
        )

    def _turn_of_places(self) -> dict[str, int]:
        work: dict[str, list[int]] = {}
        for at, job in enumerate(self.jobs):
            work.setdefault(job.place, []).append(at)
        minutes = {place: self.set_up + sum(self.takes(self.jobs[at]) for at in jobs) for place, jobs in work.items()}
        filled, turn_of = [0] * self.turns, {}
        for place in sorted(work, key=lambda place: (-minutes[place], place)):
            open_turns = {self.slots[number].turn for at in work[place] for number in self.choices[at]}
            turns = sorted(open_turns, key=lambda turn: ((filled[turn] + minutes[place]) / self.hours[turn], turn))
            turn_of[place] = turns[0] if turns else 0
            if turns:
                filled[turns[0]] += minutes[place]
        return turn_of

    def _within(self, at: int, turn: int) -> int:
        """The turn nearest to one in which a job may be done."""
        turns = {self.slots[number].turn for number in self.choices[at]}
        return min(turns, key=lambda other: (abs(other - turn), other), default=turn)


Placed = tuple[int | None, ...]
"""A plan: for each job the number of its slot; None: it is not placed."""

Minutes = Mapping[int, int]
"""Minutes by the number of a slot, or by turn."""

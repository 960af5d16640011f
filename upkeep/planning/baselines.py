"""The first time of work that nobody knows the history of, spread over some weeks: what is riskiest first, inside the
hours there are, what is done on one item together.

Not all of it comes at once, for a list on which everything is due on the first day helps nobody (common practice, no
source).  A week takes no more than its even share of the minutes, nor more than the hours left in it; what fits in none
goes to the one with most left over, and is told.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field
from datetime import date

from upkeep.frozen import frozen


@frozen
class FirstWork:
    """A line whose first time is to be planned.  ``rank`` says how urgent it is, less first."""

    line: str
    item: str
    role: str
    minutes: int
    rank: tuple[int, ...]


@frozen
class OpenWeek:
    """A week with its working days and the minutes that each role has left in it."""

    days: tuple[date, ...]
    free: Mapping[str, int] = field(default_factory=dict)


@frozen
class Planned:
    """The day a line is planned for, in which of the weeks, and whether that has the hours for it."""

    work: FirstWork
    week: int
    day: date
    fits: bool


def spread(work: Iterable[FirstWork], weeks: Sequence[OpenWeek]) -> tuple[Planned, ...]:
    """The first time of each line, in the order of its days; ``weeks`` are those to come, each with a working day.

    A role of which no week says how many minutes there are is not held to any: people are not entered yet.
    """
    groups = _by_item(work)
    total: Counter[str] = Counter()
    for one in (one for group in groups for one in group):
        total[one.role] += one.minutes
    filling = [_Filling(week, total, len(weeks)) for week in weeks]
    planned = []
    for group in groups:
        place, fits = _place_of(group, filling)
        day = filling[place].take(group)
        planned += [Planned(one, place, day, fits) for one in group]
    return tuple(sorted(planned, key=lambda one: (one.day, one.work.rank, one.work.line)))


def _by_item(work: Iterable[FirstWork]) -> list[list[FirstWork]]:
    """The work of each item, the item with the most urgent line first."""
    items: dict[str, list[FirstWork]] = {}
    for one in sorted(work, key=lambda one: (one.rank, one.line)):
        items.setdefault(one.item, []).append(one)
    return list(items.values())


def _place_of(group: Sequence[FirstWork], weeks: Sequence[_Filling]) -> tuple[int, bool]:
    """The first week that takes it all: by the even share of all weeks up to it and by its hours, else by its hours
    alone, else the emptiest."""
    roles = {one.role for one in group}
    taken: Counter[str] = Counter()
    for place, week in enumerate(weeks):
        taken += week.taken
        if week.left(group) >= 0 and all(taken[role] < week.share(role) * (place + 1) for role in roles):
            return place, True
    hours = next((place for place, week in enumerate(weeks) if week.left(group) >= 0), None)
    if hours is not None:
        return hours, True
    return max(range(len(weeks)), key=lambda place: (weeks[place].left(group), -place)), False


class _Filling:
    """A week as it fills up; ``taken`` are the minutes by role so far."""

    def __init__(self, week: OpenWeek, total: Mapping[str, int], weeks: int) -> None:
        self._week, self._total, self._weeks = week, total, weeks
        self.taken: Counter[str] = Counter()
        self._days: Counter[date] = Counter(dict.fromkeys(week.days, 0))

    def share(self, role: str) -> float:
        """The minutes of a role that each week would have if all had as many."""
        return self._total[role] / self._weeks

    def left(self, group: Sequence[FirstWork]) -> int:
        """The minutes that the scarcest role of some work would have left; below 0: it has not enough."""
        wanted: Counter[str] = Counter()
        for one in group:
            wanted[one.role] += one.minutes
        return min(self._free(role) - self.taken[role] - minutes for role, minutes in wanted.items())

    def _free(self, role: str) -> int:
        return self._week.free.get(role, 0) if self._week.free else 2 * sum(self._total.values())

    def take(self, group: Sequence[FirstWork]) -> date:
        """Takes it on the day of the week that has least so far."""
        day = min(self._days, key=lambda day: (self._days[day], day))
        for one in group:
            self.taken[one.role] += one.minutes
            self._days[day] += one.minutes
        return day

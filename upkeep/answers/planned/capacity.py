"""Hours due in a week beside hours there are, by role and area.

A job counts for the role that its task names first, for that is whose work it is meant to be; the plan itself asks who
may do it at all.  A person counts for their first role, and for the area they work in, or for every one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from upkeep.answers.planned.hours import WeekHours
from upkeep.answers.planned.jobs import UNTIMED, WeekJobs, minutes_of
from upkeep.keeping.context import Context
from upkeep.views.board import BoardLine
from upkeep.views.planned.week_plan import Capacity, RoleHours


def capacity(
    context: Context, hours: WeekHours, listed: Sequence[BoardLine], called: Iterable[BoardLine], jobs: WeekJobs
) -> Capacity:
    """The hours of a week: ``listed`` are the jobs of its list, ``called`` all lines that call, work of every shift
    among them."""
    facts = context.known.facts.planning
    due = _job_minutes(listed, facts.between_stops, facts.set_up)
    care = _care(called, jobs)
    keys = {*due, *care}
    there = _there(jobs, {area for _, area in keys})
    roles = sorted({role for role, _ in keys})
    return Capacity(
        plant=context.known.facts.name,
        week=hours.week,
        first_day=hours.first,
        last_day=hours.last,
        roles=tuple(
            _hours(role, None, _sum(due, role), _sum(care, role), there[role, None], facts.reserve) for role in roles
        ),
        areas=tuple(
            _hours(role, area, due[role, area], care[role, area], there[role, area], facts.reserve)
            for role, area in sorted(keys)
        ),
        between_stops=facts.between_stops,
        set_up=facts.set_up,
        reserve_percent=facts.reserve,
        away=tuple(
            (context.names.now(person), days.first, days.last)
            for person, every in sorted(hours.away.items())
            for days in every
        ),
        untimed=sum(not line.minutes for line in listed),
        taken_as=UNTIMED,
        shifts_unknown=hours.without_shift(),
    )


def _hours(role: str, area: str | None, jobs: int, care: int, there: int, reserve: int) -> RoleHours:
    return RoleHours(role, area, jobs, care, there, there * reserve // 100)


def _sum(minutes: Counter[tuple[str, str]], role: str) -> int:
    return sum(number for (one, _), number in minutes.items() if one == role)


def _job_minutes(lines: Sequence[BoardLine], between: int, set_up: int) -> Counter[tuple[str, str]]:
    """Minutes by role and area: each job with the way to it, and the set-up once a place."""
    minutes: Counter[tuple[str, str]] = Counter()
    stops = set()
    for line in lines:
        key = line.roles[0], line.area
        minutes[key] += minutes_of(line) + between
        if (line.place, key) not in stops:
            stops.add((line.place, key))
            minutes[key] += set_up
    return minutes


def _care(called: Iterable[BoardLine], jobs: WeekJobs) -> Counter[tuple[str, str]]:
    """Minutes of work of every shift, for each shift that is still to come and everything that is in use now."""
    minutes: Counter[tuple[str, str]] = Counter()
    for line in called:
        if line.of_rounds:
            minutes[line.roles[0], line.area] += round(line.minutes * len(jobs.turns))
    return minutes


def _there(jobs: WeekJobs, areas: Iterable[str]) -> Counter[tuple[str, str | None]]:
    """Minutes of people on shifts still to come, by first role, in all (None) and in each area they may work in."""
    minutes: Counter[tuple[str, str | None]] = Counter()
    wanted = sorted(areas)
    for one in jobs.present:
        role = one.person.roles[0]
        minutes[role, None] += one.minutes
        for area in wanted if one.person.area is None else [one.person.area]:
            minutes[role, area] += one.minutes
    return minutes


def care_by_person(hours: WeekHours, called: Iterable[BoardLine], jobs: WeekJobs) -> dict[str, int]:
    """The minutes of work of every shift that somebody has on each of their shifts: shared by all of a role."""
    a_shift: Counter[str] = Counter()
    for line in called:
        if line.of_rounds:
            a_shift[line.roles[0]] += round(line.minutes)
    turns = max(1, len(jobs.turns))
    present = Counter(one.person.roles[0] for one in jobs.present)
    return {
        one.id: a_shift[one.roles[0]] * turns // present[one.roles[0]]
        for one in hours.people
        if present[one.roles[0]] and a_shift[one.roles[0]]
    }

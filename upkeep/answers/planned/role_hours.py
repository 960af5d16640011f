"""The minutes of planned work that each role has on a working day, by the shifts of this week and the next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import timedelta

from upkeep.answers.board import Boards
from upkeep.answers.planned.capacity import care_by_person
from upkeep.answers.planned.hours import WeekHours
from upkeep.answers.planned.jobs import WeekJobs
from upkeep.answers.week import calling
from upkeep.keeping.context import Context
from upkeep.planning.year.spreading import WEEK
from upkeep.units.weeks import iso_week

_WEEKS = 2
"""Two weeks, for people who change between shifts."""


def role_minutes(context: Context, roles: Iterable[str]) -> dict[str, float]:
    """Minutes by role, the reserve for breakdowns and work of every shift taken off; a role without people has none."""
    zone = context.known.zone
    monday = zone.day(context.moment) + timedelta(days=7 - zone.day(context.moment).weekday())
    minutes: Counter[str] = Counter()
    for number in range(_WEEKS):
        hours = WeekHours(context, iso_week(monday + timedelta(weeks=number)))
        jobs = WeekJobs(context, hours)
        ends = zone.start_of(hours.last + timedelta(days=1))
        care = care_by_person(hours, calling(Boards(context), context.moment, ends, None), jobs)
        kept = 100 - context.known.facts.planning.reserve
        for one in jobs.present:
            minutes[one.person.roles[0]] += max(0, one.minutes * kept // 100 - care.get(one.person.id, 0))
    return {role: minutes[role] / (_WEEKS * WEEK) for role in sorted(roles)}

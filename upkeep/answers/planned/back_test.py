"""What plans would have done in the past, against what was done: each past week is planned as it stood at its first
moment, by all that was known then, and held against the signatures of that week.

The plans are those of the simple rule, for a month of them is to be made while somebody waits; the search could only
better them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Protocol

from upkeep.answers.planned.steps import answered_since
from upkeep.answers.planned.week_plans import WeekPlans
from upkeep.keeping.context import Context
from upkeep.planning.levelling.greedy import greedy
from upkeep.progress import Progress, Watch, nobody
from upkeep.units.weeks import iso_week, week_days
from upkeep.views.planned.year import BackTest, PastWeek


class AsKnown(Protocol):
    """Gives the book as it stood at a moment, by what was known at another."""

    def __call__(self, at: datetime, known_at: datetime | None = None, /) -> Context:
        """The context of that moment."""


def back_test(seen: AsKnown, at: datetime, weeks: int, watch: Watch = nobody) -> BackTest:
    """The last so many whole weeks in the book before a moment; ``watch`` is told how many are gone through."""
    now = seen(at)
    monday, _ = week_days(iso_week(now.known.zone.day(at)))
    begun = now.entries.by_number(0)
    since = begun.entry.at if begun is not None else at
    names = [iso_week(monday - timedelta(weeks=back)) for back in range(weeks, 0, -1)]
    found = []
    for number, name in enumerate(names, 1):
        start = now.known.zone.start_of(week_days(name)[0])
        if start >= since:
            found.append(_past_week(seen(start, start), now, name))
        watch(Progress("weeks", number, len(names)))
    return BackTest(now.known.facts.name, tuple(found))


def _past_week(then: Context, now: Context, week: str) -> PastWeek:
    lines, problem, days = WeekPlans(then, week).outline()
    plan = greedy(problem)
    ends = now.known.zone.start_of(week_days(week)[1] + timedelta(days=1))
    by_day: Counter[date] = Counter()
    planned = late = 0
    for job, number in zip(problem.jobs, plan, strict=True):
        if number is not None:
            turn = problem.slots[number].turn
            planned, late = planned + 1, late + (turn > job.due)
            by_day[days[turn]] += problem.takes(job)
    done_by_day: Counter[date] = Counter()
    done = done_late = 0
    for line, job in zip(lines, problem.jobs, strict=True):
        moment = answered_since(now, line.line, then.moment)
        if moment is not None and moment < ends:
            done, done_late = done + 1, done_late + (line.overdue_at is not None and moment >= line.overdue_at)
            done_by_day[now.known.calendar.shift_day(moment)] += problem.takes(job)
    return PastWeek(
        week, len(lines), planned, late, done, done_late, _peak(by_day), _peak(done_by_day), len(by_day),
        len(done_by_day),
    )  # fmt: skip


def _peak(minutes: Mapping[date, int]) -> int:
    return max(minutes.values(), default=0)

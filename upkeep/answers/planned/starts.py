"""First days of all that was never done, so that the weeks to come are level."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from upkeep.answers.planned.recurring import Paced, RecurringLines
from upkeep.keeping.context import Context
from upkeep.planning.year.spreading import Recurring, spread, together
from upkeep.views.planned.year import Start, Starts

DAYS = 260
"""Working days over which weeks are made level: a year of 52 weeks of five."""


def starts(context: Context) -> Starts:
    """The first days after the moment of a context; what was done before, or is late, keeps its day and only counts."""
    recurring = RecurringLines(context)
    lines = [line for line in recurring.lines if line.every is not None]
    works = [_work(line, context) for line in lines]
    made = spread(works, DAYS)
    now = together([replace(work, first=work.latest) for work in works], DAYS)
    workdays = context.known.workdays
    first = workdays.on_or_after(recurring.today + timedelta(days=1))
    return Starts(
        plant=context.known.facts.name,
        first_day=first,
        starts=tuple(
            Start(line.line.line, line.line.item, line.line.task, workdays.add(first, day) if day else first)
            for line, work, day in zip(lines, works, made.firsts, strict=True)
            if work.first is None
        ),
        kept=sum(work.first is not None for work in works),
        hours=tuple(minutes / 60 for minutes in made.weeks),
        hours_now=tuple(minutes / 60 for minutes in now),
        bound=made.bound / 60,
    )


def _work(line: Paced, context: Context) -> Recurring:
    """A line with its days counted from the first working day to come."""
    due = max(0, (line.first or 0) - 1)
    return Recurring(
        line.line.line, line.minutes, line.every or 1, None if _is_free(line, context) else due, latest=due
    )


def _is_free(line: Paced, context: Context) -> bool:
    """Whether a line may begin on any day until it is due: it floats, and was never done nor stated."""
    task = context.known.task(line.line.task)
    return (
        task.every is not None
        and line.line.last_done_at is None
        and context.rows.last_stated(line.line.item, line.line.task) is None
        and (line.first or 0) > 0
    )

"""First days of all that was never done, so that the weeks to come are level."""

from __future__ import annotations

from upkeep.answers.planned.recurring import Paced, RecurringLines
from upkeep.keeping.context import Context
from upkeep.planning.year.spreading import Recurring, spread, together
from upkeep.views.planned.year import Start, Starts

DAYS = 260
"""Working days over which weeks are made level: a year of 52 weeks of five."""


def starts(context: Context) -> Starts:
    """The first days of the moment of a context; what was done before, or is late, keeps its day and only counts."""
    recurring = RecurringLines(context)
    lines = [line for line in recurring.lines if line.every is not None]
    free = [_is_free(line, context) for line in lines]
    works = [
        Recurring(
            line.line.line, line.minutes, line.every or 1, None if is_free else max(0, line.first or 0), line.first
        )
        for line, is_free in zip(lines, free, strict=True)
    ]
    made = spread(works, DAYS)
    now = together(
        [Recurring(w.line, w.minutes, w.every, max(0, p.first or 0)) for w, p in zip(works, lines, strict=True)], DAYS
    )
    workdays = context.known.workdays
    first = workdays.on_or_after(recurring.today)
    return Starts(
        plant=context.known.facts.name,
        first_day=first,
        starts=tuple(
            Start(line.line.line, line.line.item, line.line.task, workdays.add(first, day) if day else first)
            for line, is_free, day in zip(lines, free, made.firsts, strict=True)
            if is_free
        ),
        kept=len(free) - sum(free),
        hours=tuple(minutes / 60 for minutes in made.weeks),
        hours_now=tuple(minutes / 60 for minutes in now),
        bound=made.bound / 60,
    )


def _is_free(line: Paced, context: Context) -> bool:
    """Whether a line may begin on any day until it is due: it floats, and was never done nor stated."""
    task = context.known.task(line.line.task)
    return (
        task.every is not None
        and line.line.last_done_at is None
        and context.rows.last_stated(line.line.item, line.line.task) is None
        and (line.first or 0) >= 0
    )

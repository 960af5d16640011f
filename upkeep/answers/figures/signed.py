"""What was signed in some days: in minutes, and as a frozen week had scheduled it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from itertools import pairwise

from upkeep.answers.planned.steps import WeekSteps, answered_since
from upkeep.due.compliance import Share
from upkeep.keeping.context import Context
from upkeep.keeping.in_force import DefinedThen
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Role
from upkeep.units.instants import utc_text
from upkeep.units.weeks import iso_week, week_days
from upkeep.views.overview.indicators import Minutes
from upkeep.views.planned.week_plan import Mark


def minutes(
    context: Context, definitions: DefinedThen, start: datetime, end: datetime, item: str | None, area: str | None,
    repairs: float,
) -> Minutes:  # fmt: skip
    """The minutes of work signed over [start, end), by what its tasks planned when it was signed; ``repairs`` beside.

    Work counts for the area where its item is at the moment of the context.
    """
    planned = by_operators = 0.0
    untimed = 0
    for since, until in pairwise([start, *definitions.moments_between(start, end), end]):
        known = definitions.at(since)
        for row in context.tallied.signed(utc_text(since), utc_text(until)):
            task = known.tasks.get(row.task)
            if item not in (None, row.item) or not _is_in(context, row.item, area) or task is None:
                continue
            untimed += row.number * (not task.minutes)
            planned += row.number * task.minutes
            who = known.people.get(row.by)
            by_operators += row.number * task.minutes * (who is not None and who.roles[:1] == (Role.OPERATOR,))
    return Minutes(planned, repairs, by_operators, untimed)


def _is_in(context: Context, item: str, area: str | None) -> bool:
    known = context.known.items.get(item)
    if area is None or known is None:
        return area is None
    return context.whereabouts.area_and_route(context.whereabouts.place_of(known))[0] == area


def as_scheduled(context: Context, first: date, last: date, item: str | None, area: str | None) -> Share:
    """Jobs that frozen weeks promised and that were done in their week, of the weeks that ended within some days."""
    promised = done = 0
    for week in _weeks_ended(first, last):
        for line in _promised(context, week):
            name = LineName.read(line)
            if item in (None, name.item) and _is_in(context, name.item, area):
                promised += 1
                done += _done_in(context, line, week)
    return Share(done, promised)


def _weeks_ended(first: date, last: date) -> Iterator[str]:
    day = first + timedelta(days=6 - first.weekday())
    while day <= last:
        yield iso_week(day)
        day += timedelta(weeks=1)


def _promised(context: Context, week: str) -> list[str]:
    steps = WeekSteps(context, week)
    if steps.frozen is None:
        return []
    return [row.line for row, mark in steps.rows() if row.shift is not None and mark is not Mark.REMOVED]


def _done_in(context: Context, line: str, week: str) -> bool:
    first, last = week_days(week)
    zone = context.known.zone
    done = answered_since(context, line, zone.start_of(first))
    return done is not None and done < zone.start_of(last + timedelta(days=1))

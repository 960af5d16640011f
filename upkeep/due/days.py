"""Calendar triggers: floating from the day done, fixed by an RFC 5545 rule, or due since a finding."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import lru_cache
from math import ceil

from upkeep.due.edges import Edges, Window, calendar_edges, window_of
from upkeep.due.facts import Deferral, FirstTime, How, LineFacts, Setting, Trigger, names_day
from upkeep.due.reasons import AfterFinding, Fixed, Floating, Origin, PlannedFirst, Spread
from upkeep.entries.occurrences import Day, occurrence_of
from upkeep.plant.model import Task
from upkeep.units.instants import Zone
from upkeep.units.planned_days import PlannedDays
from upkeep.units.recurrence import interval_after
from upkeep.units.workdays import WorkingDays

OnDay = Floating | Spread | PlannedFirst | Fixed
"""The reasons of a planned day."""


def floating(facts: LineFacts, every: str, setting: Setting) -> Trigger:
    """Due an interval after the day it was done; where it never was, after the day the item came into the book.

    What was stated about the time before the book stands for the day done until the work is signed.  A spread line that
    was never done comes due after its share of the working days of the first interval.  In storage the interval counts
    from the day storage began; off every press, with nobody's word, from the day it left the last one, and not before
    it has lain long enough to rest.
    """
    start, origin = _counted_from(facts, setting.zone)
    due = interval_after(start, every)
    interval = (due - start).days
    reason: Floating | Spread = Floating(due, every, start, origin)
    if facts.counted_from is None and facts.task.spread:
        due = _first_day(facts, start, interval, setting.workdays)
        reason = Spread(due, every)
    if facts.lain_by is not None:
        due = max(due, setting.zone.day(facts.lain_by))
        reason = replace(reason, due=due)
    working = setting.workdays.moved(due, facts.task.day_off_move)
    if working <= start:  # moved before a shutdown onto the day it counts from, it would be due again at once
        working = setting.workdays.on_or_after(due)
    return _on_day(facts, (due, working), window_of(facts.task, interval), reason, setting)


def _first_day(facts: LineFacts, start: date, interval: int, workdays: WorkingDays) -> date:
    """The place of a spread line in its first interval: a working day, unless it is due on days off as well."""
    worked = workdays.count(start + timedelta(days=1), start + timedelta(days=interval + 1))
    if facts.task.on_day_off == "keep" or not worked:
        return start + timedelta(days=max(1, ceil(interval * facts.share)))
    return workdays.add(start, max(1, ceil(worked * facts.share)))


def _counted_from(facts: LineFacts, zone: Zone) -> tuple[date, Origin]:
    """The day an interval counts from, and what that day was."""
    answered = facts.counted_from
    start: date = zone.day(facts.since)
    origin: Origin = "came"
    if answered is not None:
        start, origin = zone.day(answered.at), "stated" if answered.how is How.STATED else "done"
        if answered.how is How.CANCELLED:
            start, origin = _answered_day(answered.occurrence) or start, "cancelled"
    if facts.rests_since is not None and zone.day(facts.rests_since) > start:
        start, origin = zone.day(facts.rests_since), "stored"
    return start, origin


_OPENS_BEFORE = 6
"""Days before its planned first time at which work opens: in the week for which it is planned."""


def first_time(facts: LineFacts, planned: FirstTime, setting: Setting) -> Trigger:
    """Due on the day planned for its first time in this book, whatever was or was not done before.

    Where the task has a hard stop of any kind and nobody knows what was done before, it comes as soon as the work is
    overdue.
    """
    task = facts.task
    working = setting.workdays.moved(planned.day, task.day_off_move)
    window = Window(max(_OPENS_BEFORE, task.early_days), task.late_days)
    reason = PlannedFirst(planned.day, planned.entry, planned.is_stated)
    trigger = _on_day(facts, (planned.day, working), window, reason, setting)
    if task.stop_at is None or task.stop_days is not None or planned.is_stated:
        return trigger
    return replace(trigger, edges=replace(trigger.edges, stop=trigger.edges.overdue))


def fixed(facts: LineFacts, setting: Setting) -> Trigger | None:
    """Due on the planned day that is not yet answered; None where the rule has ended."""
    rule = planned_days(facts.task, setting.zone.day(facts.since))
    day = _fixed_day(facts, rule, setting)
    if day is None:
        return None
    days = day, setting.workdays.moved(day, facts.task.day_off_move)
    return _on_day(facts, days, fixed_window(facts.task, rule, day), Fixed(day, facts.task.rule or ""), setting)


def fixed_window(task: Task, rule: PlannedDays, day: date) -> Window:
    """The window around a planned day of a fixed task; percents are of the days since the planned one before."""
    if not (task.early_percent or task.late_percent):
        return Window(task.early_days, task.late_days)
    before = rule.before(day)
    return window_of(task, (day - before).days if before else 0)


def _on_day(facts: LineFacts, days: tuple[date, date], window: Window, reason: OnDay, setting: Setting) -> Trigger:
    """The trigger of a planned day and the working day it moves to where it falls on a day off."""
    planned, due = days
    if due != planned:
        reason = replace(reason, moved=due)
    edges = calendar_edges(facts.task, due, window, setting.zone)
    if facts.opens_at_once:
        edges = replace(edges, opens=min(edges.opens, facts.since))
    deferral = next((deferred for deferred in facts.deferrals if deferred.occurrence == planned.isoformat()), None)
    if deferral is not None:
        edges = _deferred(edges, deferral, setting.zone)
        reason = replace(reason, deferred=deferral.reason)
    return Trigger(edges, planned.isoformat(), reason, due, deferral)


def _deferred(edges: Edges, deferral: Deferral, zone: Zone) -> Edges:
    """A deferral moves overdue and stop behind the day it names; due stays where it was, so late stays late."""
    day = _answered_day(deferral.to)
    if day is None:
        return edges
    moved = zone.start_of(day + timedelta(days=1))
    return Edges(edges.opens, edges.due, max(edges.overdue, moved), max(edges.stop, moved))


def _fixed_day(facts: LineFacts, rule: PlannedDays, setting: Setting) -> date | None:
    """The first planned day not yet answered: later than those answered, and not yet open when work was done.

    Work answers as many days ahead as its early window is wide, or as covering work was declared to cover.  Days off
    that move to one working day are answered together.
    """
    zone, move = setting.zone, facts.task.day_off_move
    work = facts.works or ((facts.worked,) if facts.worked else ())
    named = [day for answer in (*work, *facts.cancelled) if (day := _answered_day(answer.occurrence))]
    reached = [zone.day(done.at) + timedelta(days=max(facts.task.early_days, done.reach)) for done in work]
    if not (named or reached):
        return rule.after(zone.day(facts.since), inclusive=True)
    day = rule.after(max(named + reached))
    answered = max([*reached, *(setting.workdays.moved(day, move) for day in named)])
    while day is not None and setting.workdays.moved(day, move) <= answered:
        day = rule.after(day)
    return day


def _answered_day(occurrence: str) -> date | None:
    named = occurrence_of(occurrence)
    return named.day if isinstance(named, Day) else None


def planned_days(task: Task, since: date) -> PlannedDays:
    """The planned days of a fixed task, from its start (or the day the item came into the book)."""
    return _planned(task.rule or "", task.start or since, task.also_on, task.not_on)


@lru_cache(maxsize=4096)
def _planned(rule: str, start: date, also: tuple[date, ...], never: tuple[date, ...]) -> PlannedDays:
    """One for all items of a task: what it has worked out once it knows."""
    return PlannedDays(rule, start, also, never)


def interval_of(task: Task, start: date) -> int:
    """The days between the first two times a task by the calendar is due from a day on; 0 where it is due once."""
    if task.every:
        return (interval_after(start, task.every) - start).days
    days = planned_days(task, start)
    first = days.after(start, inclusive=True)
    second = days.after(first) if first else None
    return (second - first).days if first and second else 0


def planned_after(task: Task, since: datetime, day: date, now: datetime, setting: Setting) -> int:
    """On how many working days after a day planned ones have come due by ``now``, of an item in the book ``since``."""
    rule, today = planned_days(task, setting.zone.day(since)), setting.zone.day(now)
    return _come_due(rule, day, today, setting.workdays, task.day_off_move)


@lru_cache(maxsize=4096)
def _come_due(rule: PlannedDays, day: date, today: date, workdays: WorkingDays, move: str) -> int:
    """The same; many items stand at the same day of the same task."""
    come, planned = set(), rule.after(day)
    while planned is not None and (due := workdays.moved(planned, move)) <= today:
        come.add(due)
        planned = rule.after(planned)
    return len(come - {day})


def after_finding(facts: LineFacts, setting: Setting) -> Trigger | None:
    """Due since an inspection of the item found the grade the task waits for; None while it has not."""
    finding = facts.finding
    answered = facts.answered(names_day)
    if finding is None or (answered is not None and answered.at >= finding.at):
        return None
    day = setting.zone.day(finding.at)
    window = Window(facts.task.early_days, facts.task.late_days)
    edges = replace(calendar_edges(facts.task, day, window, setting.zone), opens=finding.at, due=finding.at)
    reason = AfterFinding(finding.at, finding.entry, finding.grade, finding.point)
    return Trigger(edges, day.isoformat(), reason, day)

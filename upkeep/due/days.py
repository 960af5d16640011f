"""Calendar triggers: floating from the day done, fixed by an RFC 5545 rule, or due since a finding."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from functools import lru_cache

from upkeep.due import why
from upkeep.due.edges import calendar_edges
from upkeep.due.facts import LineFacts, Setting, Trigger
from upkeep.plant.model import Task
from upkeep.units.instants import Zone
from upkeep.units.recurrence import Recurrence, interval_after


def floating(facts: LineFacts, every: str, setting: Setting) -> Trigger:
    """Due an interval after the day it was done (or the day the item came into the book)."""
    start = setting.zone.day(facts.last.at if facts.last else facts.since)
    return _on_day(facts, interval_after(start, every), setting)


def fixed(facts: LineFacts, setting: Setting) -> Trigger | None:
    """Due on the planned day that is not yet answered; None where the rule has ended."""
    day = _fixed_day(facts, setting.zone)
    return None if day is None else _on_day(facts, day, setting)


def _on_day(facts: LineFacts, due: date, setting: Setting) -> Trigger:
    reason = why.on_day(facts, due, setting.zone)
    return Trigger(calendar_edges(facts.task, due, setting.zone), due.isoformat(), reason, due)


def _fixed_day(facts: LineFacts, zone: Zone) -> date | None:
    """The first planned day not yet answered: later than the one last answered and not yet open when that was done."""
    task = facts.task
    rule = fixed_rule(task, zone.day(facts.since))
    if facts.last is None:
        first = rule.next_after(_wall(zone.day(facts.since)), inclusive=True)
        return None if first is None else first.date()
    done = zone.day(facts.last.at).toordinal() + task.early_days
    answered = _answered_day(facts.last.occurrence)
    after = max(done, answered.toordinal() if answered else 0)
    following = rule.next_after(_wall(date.fromordinal(after + 1)), inclusive=True)
    return None if following is None else following.date()


def _answered_day(occurrence: str) -> date | None:
    try:
        return date.fromisoformat(occurrence)
    except ValueError:
        return None


def fixed_rule(task: Task, since: date) -> Recurrence:
    """The RFC 5545 rule of a fixed task on local days, from its start (or the day the item came into the book)."""
    return _rule_from(task.rule or "", task.start or since)


@lru_cache(maxsize=1024)
def _rule_from(rule: str, start: date) -> Recurrence:
    """Kept, since many items share a rule and a start, and a rule remembers how far it has walked."""
    return Recurrence(rule, _wall(start))


def planned_after(facts: LineFacts, day: date, now: datetime, zone: Zone) -> int:
    """How many planned days lie after a day and have come by ``now``."""
    rule = fixed_rule(facts.task, zone.day(facts.since))
    until = zone.local(now).replace(tzinfo=None)
    return sum(1 for planned in rule.between(_wall(day), until) if planned.date() > day)


def _wall(day: date) -> datetime:
    return datetime(day.year, day.month, day.day)


def after_finding(facts: LineFacts, setting: Setting) -> Trigger | None:
    """Due since an inspection of the item found the grade the task waits for; None while it has not."""
    finding = facts.finding
    if finding is None or (facts.last is not None and facts.last.at >= finding.at):
        return None
    day = setting.zone.day(finding.at)
    edges = replace(calendar_edges(facts.task, day, setting.zone), opens=finding.at, due=finding.at)
    return Trigger(edges, day.isoformat(), why.finding(finding, setting.zone), day)

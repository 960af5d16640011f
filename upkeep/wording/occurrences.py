"""What a sign-off is for, in words, and how often a task is planned."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import UTC, datetime, timedelta

from upkeep.entries.occurrences import EXTRA, Day, OfEvent, OfShift, OfShutdown, Strokes, occurrence_of
from upkeep.errors import Unreadable
from upkeep.said import DayName, Numeral, Said, Weekday, enumerated, said, said_many, term
from upkeep.units.quantities import in_strokes
from upkeep.units.recurrence import interval_parts
from upkeep.units.rule_parts import rule_parts

EXTRA_SAID = said("Its window is not open yet: this is kept as an extra and does not move its due date.")
"""What a form tells of work that answers nothing planned."""


def occurrence_said(occurrence: str) -> Said:
    """A planned occurrence as people say it: "the early shift of Mon 2026-03-02", a day, a number of strokes, an event;
    a word that is none of these as it stands."""
    match occurrence_of(occurrence):
        case Strokes(number=number):
            return in_strokes(number)
        case OfShift(day=day, shift=shift):
            return said("the {shift} shift of {day}", shift=shift, day=Weekday(day))
        case Day(day=day):
            return said("{day}", day=Weekday(day))
        case OfEvent(event=event, entry=entry):
            return said("the {event} (#{entry})", event=term(event, "event"), entry=Numeral(entry))
        case OfShutdown(last_day=day):
            return said("the shutdown until {day}", day=Weekday(day))
    return said("an extra") if occurrence == EXTRA else said("{occurrence}", occurrence=occurrence)


def every_said(every: str) -> Said:
    """An interval of the calendar, ``7 days``, as :func:`upkeep.units.recurrence.interval_parts` reads it."""
    number, unit = interval_parts(every)
    match unit:
        case "day":
            return said_many("{n} day", "{n} days", n=number)
        case "week":
            return said_many("{n} week", "{n} weeks", n=number)
        case "month":
            return said_many("{n} month", "{n} months", n=number)
    return said_many("{n} year", "{n} years", n=number)


def rule_said(rule: str) -> Said:
    """A rule of the calendar in words, "every week on Mon and Thu"; as it is written where it says more than that."""
    try:
        parts = rule_parts(rule, _A_MONDAY)
    except Unreadable:
        return said("by the rule {rule}", rule=rule)
    numbered = any(ordinal is not None for _, ordinal in parts.days)
    if numbered or parts.numbers or parts.count is not None or parts.until is not None or parts.freq not in _OFTEN:
        return said("by the rule {rule}", rule=rule)
    often = _OFTEN[parts.freq](parts.interval)
    if not parts.days:
        return often
    days = enumerated(DayName((_A_MONDAY + timedelta(days=weekday)).date()) for weekday, _ in parts.days)
    return said("{often} on {days}", often=often, days=days)


_A_MONDAY = datetime(2024, 1, 1, tzinfo=UTC)
_OFTEN: Mapping[str, Callable[[int], Said]] = {
    "DAILY": lambda n: said_many("every day", "every {n} days", n=n),
    "WEEKLY": lambda n: said_many("every week", "every {n} weeks", n=n),
    "MONTHLY": lambda n: said_many("every month", "every {n} months", n=n),
    "YEARLY": lambda n: said_many("every year", "every {n} years", n=n),
}

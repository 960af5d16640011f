"""Recurrence: when a fixed rule (RFC 5545 RRULE) comes round next, in the wall time of the plant.

dateutil walks a rule from its start, so a rule ten years old would cost ten years of steps.  A rule that only says how
often is answered by division.  Every other one is started anew at a period near the asked moment, a whole number of
intervals after its own start, with everything it takes from that start (the 31st, the weekday, the hour) written out,
so that it comes out exactly as from the start.  Where it has a COUNT, its end is counted first; a few rare rules whose
end can only be walked to are walked from their start.  A rule that never comes round is told from the calendar, and
not looked for.  All moments are naive wall times, whole seconds.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from threading import Lock
from typing import Protocol

from upkeep.errors import Unreadable
from upkeep.said import Quoted, said
from upkeep.units.rule_counts import is_countable, last_occurrence
from upkeep.units.rule_occurrences import comes_round, occurrences, occurrences_from_start
from upkeep.units.rule_parts import CLOCK_PARTS, STEPS, RuleDay, RuleParts, rule_parts

_WALKED_ON = 8
"""Periods up to which walking on costs less than starting a rule anew.  Measured with dateutil 2.9."""

_KEPT = 4096
"""Occurrences one walk remembers before another is begun."""

_END_OF_TIME = datetime.combine(date.max, time.max)


class Recurrence:
    """The occurrences of a rule from ``start``, whose wall time and day fill what the rule leaves open.

    The start itself occurs only where the rule says so.  A day UNTIL means its 00:00.  Safe to share between threads.
    Raises :class:`Unreadable` naming the part of the rule that is wrong.
    """

    def __init__(self, rule: str, start: datetime) -> None:
        start = start.replace(microsecond=0)
        parts = rule_parts(rule, start)
        self._course = _course(parts, start)

    def next_after(self, moment: datetime, inclusive: bool = False) -> datetime | None:
        """The first occurrence after the moment (at it as well when ``inclusive``); None when the rule has ended."""
        return self._course.after(moment, inclusive)

    def before(self, moment: datetime, inclusive: bool = False) -> datetime | None:
        """The last occurrence before the moment (at it as well when ``inclusive``); None when it is the first."""
        return self._course.before(moment, inclusive)

    def between(self, start: datetime, end: datetime) -> Iterator[datetime]:
        """The occurrences in [start, end), in order."""
        occurrence = self.next_after(start, inclusive=True)
        while occurrence is not None and occurrence < end:
            yield occurrence
            occurrence = self.next_after(occurrence)


class _Course(Protocol):
    def after(self, moment: datetime, inclusive: bool) -> datetime | None: ...

    def before(self, moment: datetime, inclusive: bool) -> datetime | None: ...


def _course(rule: RuleParts, start: datetime) -> _Course:
    if rule.plain and rule.freq in STEPS:
        return _EvenSteps(rule, start)
    rule = _with_start_written_out(rule, start)
    if rule.count is not None and is_countable(rule):
        last = last_occurrence(rule, start)
        if last is None:
            return _Never()
        rule = replace(rule, count=None, until=last)
    elif not comes_round(rule, start):
        return _Never()
    return _Walks(rule, start)


class _Never:
    """A rule that the calendar never lets come round, like 30 February, or that ended before it came."""

    def after(self, moment: datetime, inclusive: bool) -> datetime | None:
        return None

    def before(self, moment: datetime, inclusive: bool) -> datetime | None:
        return None


class _EvenSteps:
    """A rule that only says "every so many weeks, days, hours": occurrence n is the start and n steps."""

    def __init__(self, rule: RuleParts, start: datetime) -> None:
        self._start = start
        self._step = STEPS[rule.freq] * rule.interval
        last = ((rule.until or _END_OF_TIME) - start) // self._step
        self._last = last if rule.count is None else min(last, rule.count - 1)

    def after(self, moment: datetime, inclusive: bool) -> datetime | None:
        steps, rest = divmod(moment - self._start, self._step)
        return self._occurrence(max(0, steps if inclusive and not rest else steps + 1))

    def before(self, moment: datetime, inclusive: bool) -> datetime | None:
        steps, rest = divmod(moment - self._start, self._step)
        return self._occurrence(min(self._last, steps if inclusive or rest else steps - 1))

    def _occurrence(self, number: int) -> datetime | None:
        return self._start + number * self._step if 0 <= number <= self._last else None


class _Walks:
    """Any other rule, its start written out: the walk nearest to the last question is kept, since the next question is
    mostly near by."""

    def __init__(self, rule: RuleParts, start: datetime) -> None:
        self._rule = rule
        self._start = start
        self._first_period = _period_of(start, self._rule)
        self._walk: _Walk | None = None

    def after(self, moment: datetime, inclusive: bool) -> datetime | None:
        if moment > (self._rule.until or _END_OF_TIME):
            return None
        return self._near(moment, back=0).after(moment, inclusive)

    def before(self, moment: datetime, inclusive: bool) -> datetime | None:
        end = self._rule.until or _END_OF_TIME
        if moment > end:
            moment, inclusive = end, True
        walk, back = self._near(moment, back=1), 1
        last = walk.before(moment, inclusive)
        while last is None and not walk.from_start:
            back *= 4
            walk = self._walk = self._begun(moment, back)
            last = walk.before(moment, inclusive)
        return last

    def _near(self, moment: datetime, back: int) -> _Walk:
        walk = self._walk
        if walk is None or not walk.reaches(moment):
            walk = self._walk = self._begun(moment, back)
        return walk

    def _begun(self, moment: datetime, back: int) -> _Walk:
        """A new walk from ``back`` periods before the one that holds the moment, or from the start if that is later."""
        rule = self._rule
        periods = _periods_between(self._first_period, moment, rule) - back
        if rule.count is not None or periods <= 0:
            return _Walk(rule, self._start, from_start=True)
        return _Walk(rule, _period_after(self._first_period, periods, rule), from_start=False)


class _Walk:
    """The occurrences from ``since`` on, walked as far as somebody has asked, and remembered."""

    def __init__(self, rule: RuleParts, since: datetime, *, from_start: bool) -> None:
        self.from_start = from_start
        self._since = since
        self._endless = rule.count is None
        self._reach = _longest_period(rule) * _WALKED_ON
        self._rest = (
            occurrences_from_start(rule, since, _period_of(since, rule)) if from_start else occurrences(rule, since)
        )
        self._known: list[datetime] = []
        self._ended = False
        self._lock = Lock()

    def reaches(self, moment: datetime) -> bool:
        """Whether asking this walk is right, and costs no more than beginning another."""
        if moment < self._since and not self.from_start:
            return False
        if self._ended or not self._endless or not self._known or moment < self._known[-1]:
            return True
        return len(self._known) < _KEPT and moment - self._known[-1] < self._reach

    def after(self, moment: datetime, inclusive: bool) -> datetime | None:
        self._go_past(moment)
        index = bisect_left(self._known, moment) if inclusive else bisect_right(self._known, moment)
        return self._known[index] if index < len(self._known) else None

    def before(self, moment: datetime, inclusive: bool) -> datetime | None:
        self._go_past(moment)
        index = bisect_right(self._known, moment) if inclusive else bisect_left(self._known, moment)
        return self._known[index - 1] if index else None

    def _go_past(self, moment: datetime) -> None:
        if self._ended or (self._known and self._known[-1] > moment):
            return
        with self._lock:
            remember = self._known.append
            for occurrence in self._rest:
                remember(occurrence)
                if occurrence > moment:
                    return
            self._ended = True


def _with_start_written_out(rule: RuleParts, start: datetime) -> RuleParts:
    """The same rule with all it takes from its start as BY parts: only its phase still depends on the start."""
    numbers = dict(rule.numbers)
    days = rule.days
    if not days and not numbers.keys() & {"BYYEARDAY", "BYMONTHDAY"}:
        if "BYWEEKNO" in numbers or rule.freq == "WEEKLY":
            days = ((start.weekday(), None),)
        elif rule.freq in ("YEARLY", "MONTHLY"):
            numbers["BYMONTHDAY"] = (start.day,)
            if rule.freq == "YEARLY":
                numbers.setdefault("BYMONTH", (start.month,))
    for part, value in zip(CLOCK_PARTS, (start.hour, start.minute, start.second), strict=True):
        if part not in rule.clock_parts:
            numbers.setdefault(part, (value,))
    return replace(rule, days=_days_alike(days, rule.last_ordinal), numbers=numbers)


def _days_alike(days: tuple[RuleDay, ...], last_ordinal: int) -> tuple[RuleDay, ...]:
    """Plain days beside numbered ones ("MO,1TU") as numbered ones: dateutil would only take days that are both."""
    if all(ordinal is None for _, ordinal in days):
        return days
    every = range(1, last_ordinal + 1)
    return tuple((weekday, number) for weekday, ordinal in days for number in ([ordinal] if ordinal else every))


def _period_of(moment: datetime, rule: RuleParts) -> datetime:
    """The beginning of the year, month, week, day, hour ... of the rule's frequency that holds the moment."""
    midnight = datetime.combine(moment.date(), time())
    if rule.freq == "YEARLY":
        return midnight.replace(month=1, day=1)
    if rule.freq == "MONTHLY":
        return midnight.replace(day=1)
    if rule.freq == "WEEKLY":
        return midnight - timedelta(days=(moment.weekday() - rule.week_start) % 7)
    return midnight + (moment - midnight) // STEPS[rule.freq] * STEPS[rule.freq]


def _periods_between(period: datetime, moment: datetime, rule: RuleParts) -> int:
    """How many intervals of the rule lie between the beginning of a period and a moment, rounded down."""
    if rule.freq in STEPS:
        return (moment - period) // (STEPS[rule.freq] * rule.interval)
    months = (moment.year - period.year) * 12 + moment.month - period.month
    return months // _months(rule)


def _period_after(period: datetime, intervals: int, rule: RuleParts) -> datetime:
    if rule.freq in STEPS:
        return period + intervals * (STEPS[rule.freq] * rule.interval)
    years, month = divmod(period.month - 1 + intervals * _months(rule), 12)
    return period.replace(year=period.year + years, month=month + 1)


def _months(rule: RuleParts) -> int:
    return rule.interval * (12 if rule.freq == "YEARLY" else 1)


def _longest_period(rule: RuleParts) -> timedelta:
    return STEPS[rule.freq] * rule.interval if rule.freq in STEPS else timedelta(days=31) * _months(rule)


_INTERVAL = re.compile(r"(\d{1,5}) (day|week|month|year)s?\Z", re.ASCII)


def interval_after(day: date, every: str) -> date:
    """The day that lies an interval after ``day``: "7 days", "2 weeks", "1 month", "1 year".

    A month or year later is the same day of the month, or the month's last where it has no such day (31 January and
    a month is 28 or 29 February).  Raises :class:`Unreadable` for any other interval, or one past the year 9999.
    """
    number, unit = interval_parts(every)
    try:
        if unit in ("day", "week"):
            return day + timedelta(days=number * (7 if unit == "week" else 1))
        return _months_after(day, number * (12 if unit == "year" else 1))
    except (OverflowError, ValueError):
        raise Unreadable(said("{every} from {day} goes past the year 9999.", every=Quoted(every), day=day)) from None


def _months_after(day: date, months: int) -> date:
    from dateutil.relativedelta import relativedelta

    return day + relativedelta(months=months)


@lru_cache(maxsize=256)
def interval_parts(every: str) -> tuple[int, str]:
    """How many of which unit ("day", "week", "month", "year") an interval is; raises :class:`Unreadable` for others."""
    match = _INTERVAL.match(every.strip())
    if not match or int(match[1]) == 0:
        raise Unreadable(
            said(
                "{every} is not an interval; write it like '7 days', '2 weeks', '1 month' or '1 year'.",
                every=Quoted(every),
            )
        )
    return int(match[1]), match[2]

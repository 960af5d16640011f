"""Where a rule with COUNT ends, counted year by year instead of walked to.

On which days of a year a rule falls depends on three things alone: the weekday the year begins with, whether it is a
leap year, and how far into an interval of the rule its 1 January is.  So a few tables serve all years, a year is
counted by the size of its table, and only in the first and the last one does it matter which day is which.  Once the
last occurrence is known, COUNT is no more than an UNTIL.
"""

from __future__ import annotations

from bisect import bisect_left
from calendar import isleap
from collections.abc import Iterator, Sequence
from datetime import MAXYEAR, date, datetime, timedelta
from itertools import pairwise, product
from typing import NamedTuple

from upkeep.frozen import frozen
from upkeep.units.rule_parts import RuleParts

_MONTHS = range(1, 13)
_STARTS = tuple([date(year, month, 1).timetuple().tm_yday - 1 for month in _MONTHS] for year in (2023, 2024))
"""The day of the year, from 0, with which each month begins: in a common year, in a leap year."""


def is_countable(rule: RuleParts) -> bool:
    """Whether the occurrences of a rule can be counted by the year.

    Not where weeks of two years mix (BYSETPOS by the week; BYWEEKNO, which dateutil reads in a way of its own at the
    turn of a year), where the hours shift from day to day, nor for rules by the minute and second, which no care
    follows.
    """
    if rule.freq == "HOURLY":
        return 24 % rule.interval == 0 and "BYSETPOS" not in rule.numbers
    if rule.freq == "WEEKLY":
        return "BYSETPOS" not in rule.numbers
    return rule.freq in ("YEARLY", "MONTHLY", "DAILY") and "BYWEEKNO" not in rule.numbers


def last_occurrence(rule: RuleParts, start: datetime) -> datetime | None:
    """The last occurrence of a rule with COUNT that is countable or by the week, all from its start written out in it.

    The one before the end of the year 9999 where the count leads further; None where the rule never comes round.
    """
    assert rule.count is not None
    years, left = _Years(rule, start), rule.count
    last: tuple[_Year, int] | None = None
    for number in range(start.year, MAXYEAR + 1):
        year = years.year(number)
        first = year.number_before(start) if number == start.year else 0
        here = len(year.chosen) - first
        if here >= left:
            return year.occurrence(number, first + left - 1)
        if here:
            last, left = (year, number), left - here
    return last[0].occurrence(last[1], -1) if last else None


@frozen
class _Year:
    """The occurrences in a year: its days on which the rule falls (from 0), the seconds of such a day at which it
    does, and the ``chosen`` ones of all these moments, which are numbered through."""

    days: Sequence[int]
    times: Sequence[int]
    chosen: Sequence[int]

    def occurrence(self, year: int, number: int) -> datetime:
        """One of the chosen by its number, from 0."""
        day, moment = divmod(self.chosen[number], len(self.times))
        return datetime(year, 1, 1) + timedelta(days=self.days[day], seconds=self.times[moment])

    def number_before(self, start: datetime) -> int:
        """How many of the chosen lie before a moment of the year."""
        today = start.timetuple().tm_yday - 1
        day = bisect_left(self.days, today)
        moment = day * len(self.times)
        if day < len(self.days) and self.days[day] == today:
            moment += bisect_left(self.times, _second(start.hour, start.minute, start.second))
        return bisect_left(self.chosen, moment)


class _Kind(NamedTuple):
    """What the days of a rule in a year depend on.

    The weekday it begins with (0 where none is asked for), whether it is a leap year, how many periods of an interval
    have passed, and, where weeks are asked for, whether it follows a leap year.
    """

    weekday: int
    leap: bool
    offset: int
    follows_leap: bool


class _Years:
    """The tables of a rule, each made when the first year asks for it."""

    def __init__(self, rule: RuleParts, start: datetime) -> None:
        self._rule, self._start = rule, start
        self._times = _times(rule, start)
        self._known: dict[_Kind, _Year] = {}

    def year(self, year: int) -> _Year:
        """The occurrences of a year, as if the rule had begun before it."""
        begins, by_week = date(year, 1, 1), "BYWEEKNO" in self._rule.numbers
        kind = _Kind(
            begins.weekday() if self._rule.days or by_week else 0,
            isleap(year),
            self._offset(begins),
            follows_leap=by_week and isleap(year - 1),
        )
        if kind not in self._known:
            days = sorted(_days(self._rule, kind))
            self._known[kind] = _Year(days, self._times, self._chosen(days, kind.leap))
        return self._known[kind]

    def _offset(self, begins: date) -> int:
        """How many of the periods (by the week: of the days) of an interval have passed when a year begins."""
        rule, start = self._rule, self._start
        if rule.freq == "YEARLY":
            return (begins.year - start.year) % rule.interval
        if rule.freq == "MONTHLY":
            return ((begins.year - start.year) * 12 + 1 - start.month) % rule.interval
        if rule.freq == "WEEKLY":
            week = start.toordinal() - (start.weekday() - rule.week_start) % 7
            return (begins.toordinal() - week) % (7 * rule.interval)
        return (begins.toordinal() - start.toordinal()) % rule.interval if rule.freq == "DAILY" else 0

    def _chosen(self, days: Sequence[int], leap: bool) -> Sequence[int]:
        """The numbers of the moments that BYSETPOS leaves, where it does not choose from one day alone."""
        rule, size = self._rule, len(self._times)
        every = range(len(days) * size)
        if "BYSETPOS" not in rule.numbers or rule.freq == "DAILY":
            return every
        if rule.freq == "YEARLY":
            return _picked(every, rule)
        edges = [bisect_left(days, start) * size for start in _STARTS[leap]]
        months = pairwise([*edges, len(every)])
        return [number for first, end in months for number in _picked(every[first:end], rule)]


def _days(rule: RuleParts, kind: _Kind) -> set[int]:
    """The days of a year, from 0, on which a rule falls."""
    first, *others = _limits(rule, kind)
    days = first.intersection(*others) if others else first
    if rule.interval > 1 and rule.freq in ("WEEKLY", "DAILY"):
        period = 7 if rule.freq == "WEEKLY" else 1
        return {day for day in days if (kind.offset + day) // period % rule.interval == 0}
    return days


def _limits(rule: RuleParts, kind: _Kind) -> Iterator[set[int]]:
    """The days of a year that each part of a rule leaves by itself."""
    starts, year = [*_STARTS[kind.leap], 365 + kind.leap], range(365 + kind.leap)
    spans = [range(starts[month - 1], starts[month]) for month in _months(rule, kind.offset)]
    if "BYMONTHDAY" in rule.numbers:
        yield {day for span in spans for day in _at(span, rule.numbers["BYMONTHDAY"])}
    elif len(spans) < len(_MONTHS) or not rule.days:
        yield set().union(*spans)
    if "BYYEARDAY" in rule.numbers:
        yield set(_at(year, rule.numbers["BYYEARDAY"]))
    if rule.days:
        of_months = rule.days[0][1] is not None and (rule.freq == "MONTHLY" or "BYMONTH" in rule.numbers)
        within = spans if of_months else [year]
        yield set().union(*(days for span in within for days in _weekdays(rule, span, kind.weekday)))
    if "BYWEEKNO" in rule.numbers:
        yield _days_of_weeks(rule, kind)


def _days_of_weeks(rule: RuleParts, kind: _Kind) -> set[int]:
    """The days of a year in the weeks of BYWEEKNO; at both ends they may belong to weeks of the year beside it."""
    lengths = 365 + kind.follows_leap, 365 + kind.leap
    first = _first_week(kind.weekday, rule.week_start)
    before = _first_week(kind.weekday - lengths[0], rule.week_start) - lengths[0]
    after = _first_week(kind.weekday + lengths[1], rule.week_start) + lengths[1]
    next_first = after + 52 * 7  # the last week of the year after is not reached
    found: set[int] = set()
    for begin, end in ((before, first), (first, after), (after, next_first)):
        for week in _at(range(begin, end, 7), rule.numbers["BYWEEKNO"]):
            found.update(range(week, week + 7))
    return found & set(range(lengths[1]))


def _first_week(weekday: int, week_start: int) -> int:
    """The day, from that which begins a year with this weekday, on which its week 1 begins: that with four of its days
    or more (ISO 8601)."""
    first = (week_start - weekday) % 7
    return first if first < 4 else first - 7


def _months(rule: RuleParts, offset: int) -> Sequence[int]:
    """The months of a year in which a rule may fall."""
    months = rule.numbers.get("BYMONTH", _MONTHS)
    if rule.freq == "YEARLY":
        return () if offset else months
    if rule.freq == "MONTHLY":
        return [month for month in months if (offset + month - 1) % rule.interval == 0]
    return months


def _weekdays(rule: RuleParts, span: range, weekday: int) -> Iterator[Sequence[int]]:
    """The days of each part of BYDAY in a month or year, in a year that begins with ``weekday``."""
    for wanted, ordinal in rule.days:
        such = range(span.start + (wanted - weekday - span.start) % 7, span.stop, 7)
        yield such if ordinal is None else _at(such, (ordinal,))


def _at(span: Sequence[int], numbers: Sequence[int]) -> list[int]:
    """What stands at places counted from 1, or from the end with -1; nothing for a place past either end."""
    return [span[number - (number > 0)] for number in numbers if abs(number) <= len(span)]


def _picked(moments: Sequence[int], rule: RuleParts) -> Sequence[int]:
    chosen = _at(moments, rule.numbers["BYSETPOS"])
    return chosen if len(chosen) < 2 else sorted(set(chosen))


def _times(rule: RuleParts, start: datetime) -> Sequence[int]:
    """The seconds of a day at which a rule falls, on the days it does."""
    hours = rule.numbers.get("BYHOUR", range(24))
    if rule.freq == "HOURLY":
        hours = tuple(hour for hour in hours if (hour - start.hour) % rule.interval == 0)
    times = sorted({_second(*parts) for parts in product(hours, rule.numbers["BYMINUTE"], rule.numbers["BYSECOND"])})
    return _picked(times, rule) if rule.freq == "DAILY" and "BYSETPOS" in rule.numbers else times


def _second(hour: int, minute: int, second: int) -> int:
    return (hour * 60 + minute) * 60 + second

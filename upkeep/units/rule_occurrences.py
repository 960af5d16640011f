"""The occurrences of a rule as dateutil walks them, read as RFC 5545 3.3.10 has it where dateutil reads otherwise.

Everything a rule takes from its start is written out in it before (``upkeep/units/recurrence.py``).  dateutil and the
section differ in three places, and the section is followed:

- BYSETPOS in a WEEKLY rule: "A set of recurrence instances starts at the beginning of the interval defined by the
  FREQ rule part."  dateutil lets the first week begin at the start, so its first may be another day, and the end of a
  COUNT another one.
- BYWEEKNO without a day: "Information, not contained in the rule, necessary to determine the various recurrence
  instance start time and dates are derived from the Start Time", here its weekday; dateutil takes all seven days.
- Plain days beside numbered ones ("MO,1TU") are both meant; dateutil takes only days that are both.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from itertools import dropwhile, islice
from math import prod
from typing import Any

from upkeep.units.rule_counts import is_countable, last_occurrence
from upkeep.units.rule_parts import CLOCK_PARTS, FREQUENCIES, RuleParts

_ONE_A_DAY = dict.fromkeys(CLOCK_PARTS, (0,))


def occurrences(rule: RuleParts, since: datetime) -> Iterator[datetime]:
    """The occurrences of a rule, walked from ``since`` on as if that were its start; its COUNT counts from there."""
    from dateutil import rrule  # costs more to load than the rest of this floor

    given: dict[str, Any] = {part.lower(): numbers for part, numbers in rule.numbers.items()}
    if rule.days:
        given["byweekday"] = [rrule.weekday(weekday, ordinal) for weekday, ordinal in rule.days]
    given.update(freq=FREQUENCIES.index(rule.freq), interval=rule.interval, wkst=rule.week_start)
    try:
        yield from rrule.rrule(dtstart=since, count=rule.count, until=rule.until, **given)
    except ValueError:  # dateutil steps over the end of the year 9999
        return


def occurrences_from_start(rule: RuleParts, start: datetime, first_period: datetime) -> Iterator[datetime]:
    """All occurrences of a rule; ``first_period`` is where the week, month ... begins that holds its start."""
    if rule.freq != "WEEKLY" or "BYSETPOS" not in rule.numbers:
        return occurrences(rule, start)
    whole_weeks = occurrences(replace(rule, count=None), first_period)
    return islice(dropwhile(lambda occurrence: occurrence < start, whole_weeks), rule.count)


def comes_round(rule: RuleParts, start: datetime) -> bool:
    """Whether a rule has an occurrence at all, up to its UNTIL or the year 9999.

    Of rules by the minute or second, and by hours that shift from day to day, it is only asked whether a day suits
    them and whether their set is large enough.
    """
    is_by_year = is_countable(rule) or "BYWEEKNO" in rule.numbers
    if "BYSETPOS" in rule.numbers and not is_by_year:
        if min(map(abs, rule.numbers["BYSETPOS"])) > _size_of_set(rule):
            return False
        numbers = {part: value for part, value in rule.numbers.items() if part != "BYSETPOS"}
        return comes_round(replace(rule, numbers=numbers), start)
    if not is_by_year:
        rule = replace(rule, freq="DAILY", interval=1, numbers={**_ONE_A_DAY, **rule.numbers})
    first = last_occurrence(replace(rule, count=1), start)
    return first is not None and (rule.until is None or first <= rule.until)


def _size_of_set(rule: RuleParts) -> int:
    """From how many moments BYSETPOS chooses at most: those of a week, an hour, a minute, a second."""
    finer = CLOCK_PARTS[max(0, FREQUENCIES.index(rule.freq) - FREQUENCIES.index("DAILY")) :]
    times = prod(len(set(rule.numbers[part])) for part in finer)
    return times * len(set(rule.days)) if rule.freq == "WEEKLY" else times

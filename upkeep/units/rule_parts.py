"""The parts of a recurrence rule, read and checked: RFC 5545, section 3.3.10 (September 2009).

A rule that breaks one of the section's "MUST NOT" sentences is refused here, in words, instead of meaning something
else than its writer thought.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import field
from datetime import datetime, timedelta
from math import gcd
from typing import Any, NoReturn

from upkeep.errors import Unreadable
from upkeep.frozen import frozen
from upkeep.said import Numeral, Quoted, Said, listed, said
from upkeep.units.shifts import DAY_CODES

FREQUENCIES = ("YEARLY", "MONTHLY", "WEEKLY", "DAILY", "HOURLY", "MINUTELY", "SECONDLY")
"""From coarse to fine."""

STEPS: Mapping[str, timedelta] = {
    "WEEKLY": timedelta(weeks=1),
    "DAILY": timedelta(days=1),
    "HOURLY": timedelta(hours=1),
    "MINUTELY": timedelta(minutes=1),
    "SECONDLY": timedelta(seconds=1),
}
"""The frequencies whose periods are all of one length on the wall clock."""

CLOCK_PARTS = ("BYHOUR", "BYMINUTE", "BYSECOND")

_DAY_SECONDS = 86400
_UNTIL = re.compile(r"(\d{8})(?:T(\d{6}))?(Z?)\Z", re.ASCII)
_DAY = re.compile(rf"([+-]?\d{{1,2}})?({'|'.join(DAY_CODES)})\Z", re.ASCII)
_NUMBER = re.compile(r"[+-]?\d{1,9}\Z", re.ASCII)


RuleDay = tuple[int, int | None]
"""A day of BYDAY: the weekday, Monday 0, and its ordinal (1 the first, -1 the last, None every one)."""


@frozen
class RuleParts:
    """A rule taken apart.

    ``days`` is BYDAY; ``numbers`` holds the other BY lists under their RFC names.  ``count`` and ``until`` are None
    where the rule goes on for ever.
    """

    freq: str
    interval: int = 1
    count: int | None = None
    until: datetime | None = None
    week_start: int = 0
    days: tuple[RuleDay, ...] = ()
    numbers: Mapping[str, tuple[int, ...]] = field(default_factory=dict)

    @property
    def plain(self) -> bool:
        """Whether the rule has no BY part: it only says how often."""
        return not self.days and not self.numbers

    @property
    def last_ordinal(self) -> int:
        """How often a day of the week can come in what a numbered BYDAY counts in: a month, or else the year."""
        return 5 if self.freq == "MONTHLY" or "BYMONTH" in self.numbers else 53

    @property
    def clock_parts(self) -> tuple[str, ...]:
        """The parts of the clock the rule itself steps through; the others stand still unless BY parts name them."""
        return CLOCK_PARTS[: max(0, FREQUENCIES.index(self.freq) - FREQUENCIES.index("DAILY"))]


def rule_parts(text: str, start: datetime) -> RuleParts:
    """The parts of a rule text; a leading ``RRULE:`` is taken as well.

    Raises :class:`Unreadable` naming the part that is wrong, or that the rule can never meet from ``start``.
    """
    parts = _written(text)
    if "FREQ" not in parts:
        _refuse(text, "FREQ", said("it is missing; write how often, like FREQ=WEEKLY"))
    values = {name: _value(text, name, value) for name, value in parts.items()}
    named = {_FIELDS[name]: values.pop(name) for name in list(values) if name in _FIELDS}
    parsed = RuleParts(**named, numbers=values)
    _check_together(text, parsed)
    _check_clock(text, parsed, start)
    return parsed


def _written(text: str) -> dict[str, str]:
    parts: dict[str, str] = {}
    for part in text.strip().upper().removeprefix("RRULE:").split(";"):
        name, equals, value = part.partition("=")
        if not equals or name not in _READERS:
            _refuse(text, part, said("there is no such part; the parts of a rule: {parts}", parts=listed(_READERS)))
        if name in parts:
            _refuse(text, part, said("this part is given twice"))
        parts[name] = value
    return parts


def _value(text: str, name: str, value: str) -> Any:
    try:
        return _READERS[name](value)
    except _Unfit as error:
        _refuse(text, f"{name}={value}", error.why)


def _refuse(text: str, part: str, why: Said) -> NoReturn:
    raise Unreadable(
        said("The rule {text} cannot be read at {part}: {why}.", text=Quoted(text), part=Quoted(part), why=why)
    )


class _Unfit(Exception):
    """The value of a part cannot be read; what to write instead."""

    def __init__(self, why: Said) -> None:
        self.why = why


def _frequency(value: str) -> str:
    if value not in FREQUENCIES:
        raise _Unfit(said("write one of {frequencies}", frequencies=listed(FREQUENCIES)))
    return value


def _number(low: int, high: int, *, signed: bool = False) -> Callable[[str], int]:
    ends = {"low": Numeral(low), "high": Numeral(high)}
    wanted = (
        said("write a whole number from {low} to {high} or from -{high} to -{low}", **ends)
        if signed
        else said("write a whole number from {low} to {high}", **ends)
    )

    def read(value: str) -> int:
        number = int(value) if _NUMBER.match(value) else None
        if number is None or not low <= (abs(number) if signed else number) <= high:
            raise _Unfit(wanted)
        return number

    return read


def _list(read: Callable[[str], Any]) -> Callable[[str], tuple[Any, ...]]:
    return lambda value: tuple(read(number) for number in value.split(","))


def _weekday(value: str) -> int:
    if value not in DAY_CODES:
        raise _Unfit(said("write one of {day_codes}", day_codes=listed(DAY_CODES)))
    return DAY_CODES.index(value)


def _day(value: str) -> RuleDay:
    match = _DAY.match(value)
    if not match:
        raise _Unfit(said("write {day_codes}; 1MO is the first Monday, -1MO the last", day_codes=listed(DAY_CODES)))
    ordinal = _number(1, 53, signed=True)(match[1]) if match[1] else None
    return DAY_CODES.index(match[2]), ordinal


def _until(value: str) -> datetime:
    match = _UNTIL.match(value)
    if not match:
        raise _Unfit(said("write a day like 20261231 or a local moment like 20261231T220000"))
    if match[3]:
        raise _Unfit(said("this is UTC; the rule runs on the plant's wall clock, so write local time without Z"))
    try:
        return datetime.fromisoformat(f"{match[1]}T{match[2] or '000000'}")
    except ValueError:
        raise _Unfit(said("this is not a real date and time")) from None


_READERS: Mapping[str, Callable[[str], Any]] = {
    "FREQ": _frequency,
    "INTERVAL": _number(1, 1_000_000),
    "COUNT": _number(1, 1_000_000),
    "UNTIL": _until,
    "WKST": _weekday,
    "BYDAY": _list(_day),
    "BYMONTH": _list(_number(1, 12)),
    "BYMONTHDAY": _list(_number(1, 31, signed=True)),
    "BYYEARDAY": _list(_number(1, 366, signed=True)),
    "BYWEEKNO": _list(_number(1, 53, signed=True)),
    "BYHOUR": _list(_number(0, 23)),
    "BYMINUTE": _list(_number(0, 59)),
    "BYSECOND": _list(_number(0, 59)),
    "BYSETPOS": _list(_number(1, 366, signed=True)),
}

_FIELDS: Mapping[str, str] = {
    "FREQ": "freq",
    "INTERVAL": "interval",
    "COUNT": "count",
    "UNTIL": "until",
    "WKST": "week_start",
    "BYDAY": "days",
}


def _check_together(text: str, rule: RuleParts) -> None:
    if rule.count is not None and rule.until is not None:
        _refuse(text, "COUNT", said("COUNT and UNTIL cannot be used together; keep one"))
    for part, freqs in _ONLY_IN.items():
        if part in rule.numbers and rule.freq not in freqs:
            _refuse(text, part, said("it has no meaning in a {freq} rule", freq=rule.freq))
    if "BYSETPOS" in rule.numbers and not rule.days and len(rule.numbers) == 1:
        _refuse(text, "BYSETPOS", said("it selects from what another BY part gives; add one"))
    ordinals = [abs(ordinal) for _, ordinal in rule.days if ordinal is not None]
    if ordinals:
        _check_ordinals(text, rule, max(ordinals))


def _check_ordinals(text: str, rule: RuleParts, highest: int) -> None:
    if rule.freq not in ("MONTHLY", "YEARLY"):
        _refuse(text, "BYDAY", said("a numbered day (1MO) has no meaning in a {freq} rule", freq=rule.freq))
    if "BYWEEKNO" in rule.numbers:
        _refuse(text, "BYDAY", said("a numbered day (1MO) has no meaning beside BYWEEKNO"))
    if highest > rule.last_ordinal:
        _refuse(
            text,
            "BYDAY",
            said("no day of the week comes more than {most} times in a month", most=rule.last_ordinal),
        )


_ONLY_IN: Mapping[str, tuple[str, ...]] = {
    "BYWEEKNO": ("YEARLY",),
    "BYYEARDAY": ("YEARLY", "HOURLY", "MINUTELY", "SECONDLY"),
    "BYMONTHDAY": tuple(freq for freq in FREQUENCIES if freq != "WEEKLY"),
}


def _check_clock(text: str, rule: RuleParts, start: datetime) -> None:
    """Refuses a rule whose steps from the start never come to the hours, minutes or seconds it names."""
    asked = [part for part in rule.clock_parts if part in rule.numbers]
    if not asked:
        return
    unit = int(STEPS[rule.freq].total_seconds())
    step = unit * rule.interval
    first = (start.hour * 3600 + start.minute * 60 + start.second) // unit * unit
    times = ((first + turn * step) % _DAY_SECONDS for turn in range(_DAY_SECONDS // gcd(step, _DAY_SECONDS)))
    if not any(_meets(rule, asked, second) for second in times):
        begins = start.strftime("%H:%M:%S")
        _refuse(text, asked[0], said("counting from {start}, the rule never reaches such a time", start=begins))


def _meets(rule: RuleParts, asked: list[str], second: int) -> bool:
    clock = {"BYHOUR": second // 3600, "BYMINUTE": second // 60 % 60, "BYSECOND": second % 60}
    return all(clock[part] in rule.numbers[part] for part in asked)

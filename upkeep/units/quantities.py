"""Numbers as people here read them: thousands grouped, the unit beside."""

from __future__ import annotations

import re

from upkeep.said import Said, said, said_many

_FIGURE = re.compile(
    r"\d{1,18}|\d{1,3}(?:(?P<between>[, '\u2019\u00a0\u2009\u202f])\d{3}(?:(?P=between)\d{3}){0,4}|(?:\.\d{3}){2,5})",
    re.ASCII,
)
_MINUTE, _HOUR, _DAY = 60, 3600, 86400
_HOURS_SHOWN_UNTIL = 2 * _DAY


def grouped(n: int) -> str:
    """The number with its thousands grouped, ``1,204,300``."""
    return f"{n:,}"


def figure_of(text: str) -> int | None:
    """The whole number a person wrote, with its thousands grouped or not; None for any other text.

    Grouped by commas, spaces or apostrophes; by points only where it has two of them and so can be no decimal.
    """
    return int(re.sub(r"\D", "", text)) if _FIGURE.fullmatch(text) else None


def strokes(n: int) -> str:
    """The number of strokes with its unit, ``192,400 strokes``."""
    return str(in_strokes(n))


def in_strokes(n: int) -> Said:
    """The same as a part of a sentence."""
    return said_many("{n} stroke", "{n} strokes", n=n)


def span_text(seconds: float) -> str:
    """A length of time in seconds as an age: ``40 s``, ``12 min``, ``5 h 10 min``, ``3 days``; rounded down.

    Below two days hours and minutes are given.  A negative length (a moment still to come) keeps its sign.
    """
    return str(in_time(seconds))


def in_time(seconds: float) -> Said:
    """The same as a part of a sentence."""
    if seconds < 0:
        return said("-{length}", length=in_time(-seconds))
    whole = int(seconds)
    if whole < _MINUTE:
        return said("{seconds} s", seconds=whole)
    if whole < _HOUR:
        return said("{minutes} min", minutes=whole // _MINUTE)
    if whole >= _HOURS_SHOWN_UNTIL:
        return said("{days} days", days=whole // _DAY)
    hours, minutes = whole // _HOUR, whole % _HOUR // _MINUTE
    return said("{hours} h {minutes} min", hours=hours, minutes=minutes) if minutes else said("{hours} h", hours=hours)

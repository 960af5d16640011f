"""The planned days of a fixed rule: RFC 5545 RRULE with the days added (RDATE) and taken away (EXDATE)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta

from upkeep.units.recurrence import Recurrence

_DAY = timedelta(days=1)


class PlannedDays:
    """Days of a rule from a start on, with exceptions.  Raises :class:`upkeep.errors.Unreadable` for a bad rule."""

    def __init__(self, rule: str, start: date, also: Sequence[date] = (), never: Sequence[date] = ()) -> None:
        self._rule = Recurrence(rule, _wall(start))
        self._also, self._never = sorted(set(also)), frozenset(never)
        self._following: dict[date, date | None] = {}

    def after(self, day: date, *, inclusive: bool = False) -> date | None:
        """The first planned day after a day (or on it); None where the rule has ended."""
        if inclusive:
            return self._after(day, inclusive=True)
        if day not in self._following:
            self._following[day] = self._after(day, inclusive=False)
        return self._following[day]

    def _after(self, day: date, *, inclusive: bool) -> date | None:
        ruled = self._ruled_after(day, inclusive)
        added = [extra for extra in self._also if extra > day or (inclusive and extra == day)]
        candidates = [day for day in (ruled, next((day for day in added if day not in self._never), None)) if day]
        return min(candidates, default=None)

    def _ruled_after(self, day: date, inclusive: bool) -> date | None:
        ruled = self._rule.next_after(_wall(day if inclusive else day + _DAY), inclusive=True)
        while ruled is not None and ruled.date() in self._never:
            ruled = self._rule.next_after(_wall(ruled.date() + _DAY), inclusive=True)
        return None if ruled is None else ruled.date()

    def before(self, day: date) -> date | None:
        """The last planned day before a day; None where there is none."""
        ruled = self._rule.before(_wall(day))
        while ruled is not None and ruled.date() in self._never:
            ruled = self._rule.before(_wall(ruled.date()))
        added = [extra for extra in self._also if extra < day and extra not in self._never]
        candidates = [*added[-1:], *([ruled.date()] if ruled else [])]
        return max(candidates, default=None)

    def between(self, first: date, end: date) -> Iterator[date]:
        """The planned days from a day on and before another."""
        day = self.after(first, inclusive=True)
        while day is not None and day < end:
            yield day
            day = self.after(day)


def _wall(day: date) -> datetime:
    return datetime(day.year, day.month, day.day)

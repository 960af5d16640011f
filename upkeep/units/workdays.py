"""Working days: the days of a plant on which a shift begins.

A plant without shifts works every day.  A night shift that begins on Friday makes no working day of Saturday.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime, timedelta

from upkeep.units.shifts import ShiftCalendar

_SOME_TIME = datetime(2000, 1, 1, tzinfo=UTC)
_FIRST_YEAR, _LAST_YEAR = date.min.year, date.max.year


class WorkingDays:
    """The working days of a shift calendar, each year of them worked out when it is first asked for.

    Raises :class:`OverflowError`, as date arithmetic does, where an answer would lie outside the calendar.
    """

    def __init__(self, calendar: ShiftCalendar) -> None:
        self._calendar = calendar
        self._has_shifts = calendar.next_from(_SOME_TIME) is not None
        self._years: dict[int, Sequence[int]] = {}

    def is_working(self, day: date) -> bool:
        """Whether a shift begins on the day."""
        days, ordinal = self._year(day.year), day.toordinal()
        position = bisect_left(days, ordinal)
        return position < len(days) and days[position] == ordinal

    def on_or_before(self, day: date) -> date:
        """The day itself when it is a working day, else the last one before it."""
        return day if self.is_working(day) else self.add(day, -1)

    def on_or_after(self, day: date) -> date:
        """The day itself when it is a working day, else the first one after it."""
        return day if self.is_working(day) else self.add(day, 1)

    def moved(self, day: date, move: str) -> date:
        """Where a due day comes to lie: off a day off to the working day "before" or "after" it, or "keep"."""
        if move == "keep":
            return day
        return self.on_or_before(day) if move == "before" else self.on_or_after(day)

    def add(self, day: date, n: int) -> date:
        """The n-th working day after a day, or before it where n is negative; the day itself (working or not) for 0."""
        if n == 0:
            return day
        return self._after(day, n) if n > 0 else self._before(day, -n)

    def starting(self, day: date) -> Iterator[date]:
        """The working days from a day on, without end."""
        for year in range(day.year, _LAST_YEAR + 1):
            days = self._year(year)
            for ordinal in days[bisect_left(days, day.toordinal()) :]:
                yield date.fromordinal(ordinal)

    def count(self, start: date, end: date) -> int:
        """How many working days lie in [start, end); 0 when end is not after start."""
        if end <= start:
            return 0
        whole = sum(len(self._year(year)) for year in range(start.year, end.year))
        return whole + self._position(end) - self._position(start)

    def _position(self, day: date) -> int:
        """How many working days of its year lie before a day."""
        return bisect_left(self._year(day.year), day.toordinal())

    def _after(self, day: date, n: int) -> date:
        year, passed = day.year, bisect_right(self._year(day.year), day.toordinal())
        while passed + n > len(self._year(year)):
            n -= len(self._year(year)) - passed
            year, passed = _within(year + 1), 0
        return date.fromordinal(self._year(year)[passed + n - 1])

    def _before(self, day: date, n: int) -> date:
        year, left = day.year, self._position(day)
        while n > left:
            n -= left
            year = _within(year - 1)
            left = len(self._year(year))
        return date.fromordinal(self._year(year)[left - n])

    def _year(self, year: int) -> Sequence[int]:
        """The ordinals of a year's working days, in order."""
        if year not in self._years:
            first, last = date(year, 1, 1), date(year, 12, 31)
            every = range(first.toordinal(), last.toordinal() + 1)
            self._years[year] = self._begun(first, last) if self._has_shifts else every
        return self._years[year]

    def _begun(self, first: date, last: date) -> Sequence[int]:
        start, end = (datetime(day.year, day.month, day.day, tzinfo=UTC) for day in (first, last))
        if first > date.min:
            start -= timedelta(days=1)  # a zone east of UTC begins the first day's shift on the day before
        if last < date.max:
            end += timedelta(days=2)  # and one to the west the last day's on the day after
        begun = {span.day.toordinal() for span in self._calendar.between(start, end) if first <= span.day <= last}
        return tuple(sorted(begun))


def _within(year: int) -> int:
    if not _FIRST_YEAR <= year <= _LAST_YEAR:
        raise OverflowError("no such working day in the calendar")
    return year

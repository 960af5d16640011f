"""Shifts: which one runs at an instant, and the day it belongs to.

A shift belongs to the day it begins; a night shift that begins on Monday is Monday's until it ends.  Its length follows
the wall clock: 22:00 to 06:00 is 7 hours in the spring night and 9 in the autumn night.  Spans are [start, end) in UTC.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Collection, Iterator, Sequence
from datetime import UTC, date, datetime, time, timedelta
from operator import attrgetter

from upkeep.errors import Unreadable
from upkeep.frozen import frozen
from upkeep.said import Quoted, Said, listed, said
from upkeep.units.instants import Zone

DAY_CODES = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
"""The days of the week as RFC 5545 (section 3.3.10, "weekday") writes them, Monday first."""

_FIRST, _LAST = date.min.toordinal() + 3, date.max.toordinal() - 3
"""Days this calendar answers for: a shift of the outermost days would leave the range of ``datetime``."""

_WEEKS_SEARCHED = 3
"""A shift that exists at all begins in one of these, unless the plant is closed."""

_DAYS_REMEMBERED = 4000

_WALL_TIME = re.compile(r"([01]\d|2[0-3]):([0-5]\d)\Z", re.ASCII)


@frozen
class ShiftRule:
    """A shift as the plant defines it: local start and end, and the RFC 5545 codes of the days it begins on.

    "22:00" to "06:00" runs over midnight; "06:00" to "06:00" is a whole day.
    """

    name: str
    start: str
    end: str
    days: tuple[str, ...]


@frozen
class ShiftSpan:
    """One shift of one day, from its first instant to the one after its last (UTC)."""

    day: date
    name: str
    start: datetime
    end: datetime

    @property
    def key(self) -> str:
        """What a sign-off names it by: ``2026-03-02/early``; :meth:`ShiftCalendar.named` gives the span back."""
        return f"{self.day.isoformat()}/{self.name}"


@frozen
class _Shift:
    name: str
    start: time
    end: time
    weekdays: frozenset[int]

    def on(self, day: date, zone: Zone) -> ShiftSpan:
        end_day = day if self.end > self.start else day + timedelta(days=1)
        start = zone.instant(datetime.combine(day, self.start))
        return ShiftSpan(day, self.name, start, zone.instant(datetime.combine(end_day, self.end)))


class ShiftCalendar:
    """The shifts of a plant in its zone.  No shift begins on a ``closed`` day.

    Where shifts overlap, the one that began last counts as running.  A shift that lies wholly in the hour the clock is
    put forward over does not take place that day.  Raises :class:`Unreadable` for a shift that cannot be read.
    """

    def __init__(self, zone: Zone, shifts: Sequence[ShiftRule], closed: Collection[date] = ()) -> None:
        self._zone = zone
        self._shifts = tuple(_read(rule) for rule in shifts)
        self._closed = frozenset(closed)
        self._refuse_twins()
        self._runs = any(shift.weekdays for shift in self._shifts)
        self._spans_of: dict[int, tuple[ShiftSpan, ...]] = {}
        self._changes_of: dict[date, tuple[list[datetime], list[ShiftSpan | None]]] = {}

    def at(self, instant: datetime) -> ShiftSpan | None:
        """The shift running at an instant; None when none does."""
        instant = instant.astimezone(UTC)
        day = instant.date()
        changes = self._changes_of.get(day) or self._changes_on(day)
        return changes[1][bisect_right(changes[0], instant) - 1]

    def shift_day(self, instant: datetime) -> date:
        """The day the running shift began; the calendar day on the wall when no shift runs."""
        running = self.at(instant)
        return running.day if running else self._zone.day(instant)

    def worked_by(self, start: datetime, time: timedelta) -> datetime:
        """The moment by which shifts have run for so long since an instant; by the clock where the plant has none, or
        none for weeks."""
        left, since = time, start
        for span in self.between(start, start + timedelta(weeks=_WEEKS_SEARCHED)):
            begins = max(since, span.start)
            if span.end - begins >= left:
                return begins + left
            left, since = left - max(span.end - begins, timedelta()), max(since, span.end)
        return start + time

    def worked_between(self, start: datetime, end: datetime) -> timedelta:
        """How long shifts ran over [start, end), each moment once; by the clock where the plant has none."""
        if not self._runs:
            return max(end - start, timedelta())
        worked, since = timedelta(), start
        for span in self.between(start, end):
            worked += max(min(span.end, end) - max(since, span.start), timedelta())
            since = max(since, min(span.end, end))
        return worked

    def next_from(self, instant: datetime) -> ShiftSpan | None:
        """The first shift that begins at the instant or later; None when the plant has none."""
        if not self._runs:
            return None
        first = instant.date().toordinal()
        for span in self._spans(first - 2, self._search_end(first)):
            if span.start >= instant:
                return span
        return None

    def before(self, instant: datetime) -> ShiftSpan | None:
        """The last shift that has ended by the instant; None when the plant has none."""
        if not self._runs:
            return None
        last = instant.date().toordinal()
        for ordinal in range(min(last + 1, _LAST), max(self._search_start(last), _FIRST) - 1, -1):
            if any(span.end <= instant for span in self._spans_on(ordinal)):
                ended = (span for span in self._spans(ordinal - 1, ordinal) if span.end <= instant)
                return max(ended, key=attrgetter("end", "start"))
        return None

    def between(self, start: datetime, end: datetime) -> Iterator[ShiftSpan]:
        """The shifts that overlap [start, end), in the order they begin."""
        if not self._runs:
            return
        for span in self._spans(start.date().toordinal() - 3, end.date().toordinal() + 1):
            if span.start < end and start < span.end:
                yield span

    def named(self, key: str) -> ShiftSpan:
        """The shift behind a key like ``2026-03-02/early``; raises :class:`Unreadable` when there is none."""
        day_text, _, name = key.partition("/")
        try:
            day = date.fromisoformat(day_text)
        except ValueError:
            raise Unreadable(
                said("{key} is not a shift; write the day and the shift like '2026-03-02/early'.", key=Quoted(key))
            ) from None
        for span in self._spans(day.toordinal(), day.toordinal()):
            if span.name == name:
                return span
        raise Unreadable(said("{key} is not a shift: {why}", key=Quoted(key), why=self._why_none(day, name)))

    def _why_none(self, day: date, name: str) -> Said:
        names = [shift.name for shift in self._shifts]
        if name not in names:
            return said("the plant has {names}.", names=listed(names)) if names else said("the plant has no shifts.")
        if day in self._closed:
            return said("the plant is closed on {day}.", day=day)
        return said("no {name} shift begins on {day}.", name=name, day=day)

    def _refuse_twins(self) -> None:
        names = [shift.name for shift in self._shifts]
        for name in names:
            if names.count(name) > 1:
                raise Unreadable(said("Two shifts are called {name}; give each shift its own name.", name=Quoted(name)))

    def _search_end(self, first: int) -> int:
        return max([first, *(day.toordinal() for day in self._closed)]) + 7 * _WEEKS_SEARCHED

    def _search_start(self, last: int) -> int:
        return min([last, *(day.toordinal() for day in self._closed)]) - 7 * _WEEKS_SEARCHED

    def _spans(self, first: int, last: int) -> Iterator[ShiftSpan]:
        """The spans that begin on the days with these ordinals, both included."""
        for ordinal in range(max(first, _FIRST), min(last, _LAST) + 1):
            yield from self._spans_on(ordinal)

    def _spans_on(self, ordinal: int) -> tuple[ShiftSpan, ...]:
        spans = self._spans_of.get(ordinal)
        if spans is None:
            if len(self._spans_of) >= _DAYS_REMEMBERED:
                self._spans_of.clear()
            spans = self._spans_of[ordinal] = self._spans_begun(date.fromordinal(ordinal))
        return spans

    def _spans_begun(self, day: date) -> tuple[ShiftSpan, ...]:
        if day in self._closed:
            return ()
        begun = [shift.on(day, self._zone) for shift in self._shifts if day.weekday() in shift.weekdays]
        return tuple(sorted((span for span in begun if span.start < span.end), key=attrgetter("start", "end")))

    def _changes_on(self, day: date) -> tuple[list[datetime], list[ShiftSpan | None]]:
        """The instants of a UTC day from which another shift (or none) runs, and what runs from each."""
        if len(self._changes_of) >= _DAYS_REMEMBERED:
            self._changes_of.clear()
        midnight = datetime.combine(day, time(), UTC)
        spans = list(self._spans(day.toordinal() - 3, day.toordinal() + 1))
        edges = {edge for span in spans for edge in (span.start, span.end) if edge.date() == day}
        changes = sorted({midnight, *edges})
        running = [_running(spans, change) for change in changes]
        self._changes_of[day] = changes, running
        return changes, running


def _running(spans: Sequence[ShiftSpan], instant: datetime) -> ShiftSpan | None:
    running = (span for span in reversed(spans) if span.start <= instant < span.end)
    return next(running, None)


def _read(rule: ShiftRule) -> _Shift:
    for day in rule.days:
        if day not in DAY_CODES:
            raise Unreadable(
                said(
                    "Shift {shift}: {day} is not a day of the week; write {codes}.",
                    shift=Quoted(rule.name),
                    day=Quoted(day),
                    codes=listed(DAY_CODES),
                )
            )
    weekdays = frozenset(DAY_CODES.index(day) for day in rule.days)
    return _Shift(rule.name, _wall_time(rule.name, rule.start), _wall_time(rule.name, rule.end), weekdays)


def _wall_time(name: str, text: str) -> time:
    match = _WALL_TIME.match(text)
    if not match:
        raise Unreadable(
            said(
                "Shift {name}: {text} is not a time of day; write it like '06:00' or '22:30'.",
                name=Quoted(name),
                text=Quoted(text),
            )
        )
    return time(int(match[1]), int(match[2]))

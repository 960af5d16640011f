"""Work of every shift, kept by hand: which shift a sign-off answers, which one is open, what became of each.

The slow, plain way: a list of shifts as they hang on the wall, each ticked where the machine ran, and a list of what
was signed for which of them.  Nothing of the engine's rules is used.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

AFTER_SHIFT = timedelta(hours=1)
"""So long after its end a shift may still be named."""

DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")


@dataclass
class Shift:
    """A shift on the wall.  ``ran`` is None until the count at its end tells."""

    name: str
    start: datetime
    end: datetime
    ran: bool | None = None


@dataclass(frozen=True)
class Signed:
    """Work for a shift: when it was done, when somebody wrote it down, and whether bigger work did it."""

    shift: str
    at: datetime
    written: datetime
    covers: bool = False


def shifts_of(
    patterns: Sequence[tuple[str, str, str]], days: Sequence[str], first: date, number: int, zone: ZoneInfo
) -> list[Shift]:
    """The shifts of some days in order: each pattern is its name, start and end on the wall; past midnight it ends on
    the next day, however many hours that night has."""
    found = []
    for day in (first + timedelta(days=n) for n in range(number)):
        for name, start, end in patterns:
            if DAYS[day.weekday()] in days:
                ends = day if start < end else day + timedelta(days=1)
                found.append(Shift(f"{day}/{name}", _moment(day, start, zone), _moment(ends, end, zone)))
    return sorted(found, key=lambda shift: shift.start)


def _moment(day: date, wall: str, zone: ZoneInfo) -> datetime:
    hour, minute = map(int, wall.split(":"))
    return datetime(day.year, day.month, day.day, hour, minute, tzinfo=zone).astimezone(UTC)


@dataclass
class Wall:
    """The wall by the machine."""

    shifts: list[Shift]
    works: list[Signed] = field(default_factory=list)

    def running(self, now: datetime) -> Shift | None:
        """The shift of a moment; None between two."""
        return next((shift for shift in self.shifts if shift.start <= now < shift.end), None)

    def last_answered(self, now: datetime) -> int:
        """The place of the last shift that somebody signed for, by what is written; -1: none."""
        names = {work.shift for work in self.works if work.written <= now}
        return max((place for place, shift in enumerate(self.shifts) if shift.name in names), default=-1)

    def open(self, now: datetime) -> Shift:
        """The first shift nobody answered in which the machine ran, else the one that may still be worked."""
        rest = self.shifts[self.last_answered(now) + 1 :]
        for shift in rest:
            if shift.end <= now and shift.ran:
                return shift
        return next(shift for shift in rest if now < shift.end)

    def state(self, now: datetime) -> str:
        """How the line stands."""
        shift = self.open(now)
        if shift.end <= now:
            return "overdue"
        return "due" if shift.start <= now else "later"

    def missed(self, now: datetime) -> int:
        """How many shifts after the open one are missed as well."""
        after = self.shifts[self.shifts.index(self.open(now)) + 1 :]
        return sum(1 for shift in after if shift.end <= now and shift.ran) if self.state(now) == "overdue" else 0

    def answered_by_signing(self, now: datetime) -> str:
        """For which shift work is that is done now and names none: the running one, else what is open."""
        shift, running = self.open(now), self.running(now)
        return running.name if running is not None and shift.end <= running.start else shift.name

    def may_name(self, name: str, at: datetime, now: datetime) -> bool:
        """Whether work may be signed for a shift: for the open one, or for the one it was done in."""
        shift = next(shift for shift in self.shifts if shift.name == name)
        return name == self.open(now).name or shift.start <= at < shift.end + AFTER_SHIFT

    def verdict(self, shift: Shift, now: datetime) -> str:
        """What became of a shift."""
        done = [work.at for work in self.works if work.shift == shift.name]
        if not shift.ran:
            return "count unchanged"
        if not done:
            return "not done" if shift.end <= now else "still in time"
        return "on time" if min(done) < shift.end else "late"

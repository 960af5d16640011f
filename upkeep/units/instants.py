"""Instants: UTC inside, the plant's wall clock at the edge.

Every instant in the engine is an aware ``datetime`` in UTC with whole seconds.  People read and write wall time in the
plant's zone, ``2026-03-02 06:00`` (seconds only where they are not zero).  A wall time that exists twice in autumn
carries its offset, ``2026-10-25 02:30+01:00``; one that does not exist in spring is refused.  Spans are [start, end).
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from upkeep.errors import Unreadable
from upkeep.said import Quoted, said

NEVER = datetime(9999, 12, 31, tzinfo=UTC)
"""Stands for "no such moment", later than every real one, so that instants stay comparable."""

_WALL = re.compile(r"(\d{4}-\d\d-\d\d)[ T](\d\d:\d\d(?::\d\d)?)(Z|[+-]\d\d:\d\d)?\Z")


@lru_cache(maxsize=1024)
def utc_text(instant: datetime) -> str:
    """The instant as stored in the book, ``2026-03-02T05:00:00Z``; sorts as text in order of time."""
    return f"{instant.isoformat()[:19]}Z"  # strftime takes three times as long, and this is asked a great deal


@lru_cache(maxsize=4096)
def from_utc_text(text: str) -> datetime:
    """The instant behind a stored text (the inverse of :func:`utc_text`).

    The same few thousand stand in all rows of a board, and an instant that is kept is hashed once.
    """
    return datetime.fromisoformat(text)


class Zone:
    """The plant's time zone: wall time to instant and back.  Raises :class:`Unreadable` for an unknown name."""

    def __init__(self, name: str) -> None:
        try:
            self._info = ZoneInfo(name)
        except (ZoneInfoNotFoundError, ValueError, OSError):
            raise Unreadable(
                said(
                    "{name} is not the name of a time zone; write one like 'Europe/Berlin' or 'UTC'.", name=Quoted(name)
                )
            ) from None
        self.name = name
        self._read = lru_cache(maxsize=1024)(self._instant_of)  # a file names one moment for many presses

    def __repr__(self) -> str:
        return f"Zone({self.name!r})"

    def local(self, instant: datetime) -> datetime:
        """The wall clock (aware, in this zone) at an instant."""
        return instant.astimezone(self._info)

    def day(self, instant: datetime) -> date:
        """The calendar day on the wall at an instant."""
        return self.local(instant).date()

    def instant(self, wall: datetime) -> datetime:
        """The instant of a naive wall time; the first of two in autumn, the moment after the gap in spring."""
        return wall.replace(tzinfo=self._info).astimezone(UTC)

    def start_of(self, day: date) -> datetime:
        """The instant at which a calendar day begins."""
        return self.instant(datetime.combine(day, time()))

    def show(self, instant: datetime) -> str:
        """The instant as people here write it; :meth:`read` gives the same instant back."""
        local = self.local(instant)
        text = f"{local:%Y-%m-%d %H:%M:%S}" if local.second else f"{local:%Y-%m-%d %H:%M}"
        return text + self._offset_text(local) if self._is_ambiguous(local) else text

    def minute(self, instant: datetime) -> str:
        """The instant to the minute, for people to read; not meant to be read back."""
        return f"{self.local(instant):%Y-%m-%d %H:%M}"

    def read(self, text: str) -> datetime:
        """The instant a person wrote; raises :class:`Unreadable` with what is wrong and an example."""
        return self._read(text)

    def _instant_of(self, text: str) -> datetime:
        match = _WALL.match(text.strip())
        if not match:
            raise Unreadable(
                said(
                    "{text} is not a date and time; write it like '2026-03-02 06:00' (local time of the plant).",
                    text=Quoted(text),
                )
            )
        try:
            wall = datetime.fromisoformat(f"{match[1]}T{match[2]}")
            if match[3]:
                return datetime.fromisoformat(f"{match[1]}T{match[2]}{match[3]}").astimezone(UTC)
            return self._unambiguous(wall, text)
        except (ValueError, OverflowError):
            raise Unreadable(said("{text} is not a real date and time.", text=Quoted(text))) from None

    def _unambiguous(self, wall: datetime, text: str) -> datetime:
        early = wall.replace(tzinfo=self._info)
        instant = early.astimezone(UTC)
        if instant.astimezone(self._info).replace(tzinfo=None) != wall:
            raise Unreadable(
                said(
                    "{text} does not exist in {zone}: the clocks skip it going forward.",
                    text=Quoted(text),
                    zone=self.name,
                )
            )
        if self._is_ambiguous(early):
            late = early.replace(fold=1)
            raise Unreadable(
                said(
                    "{text} comes twice in {zone}; write {first} for the first or {second} for the second.",
                    text=Quoted(text),
                    zone=self.name,
                    first=text + self._offset_text(early),
                    second=text + self._offset_text(late),
                )
            )
        return instant

    @staticmethod
    def _is_ambiguous(local: datetime) -> bool:
        first, second = local.replace(fold=0).utcoffset(), local.replace(fold=1).utcoffset()
        return first is not None and second is not None and first > second

    @staticmethod
    def _offset_text(local: datetime) -> str:
        offset = local.utcoffset() or timedelta()
        minutes = int(offset.total_seconds()) // 60
        sign = "-" if minutes < 0 else "+"
        return f"{sign}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"

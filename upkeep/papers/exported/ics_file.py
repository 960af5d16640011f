"""The jobs of a week as a calendar (RFC 5545): one event a row, for a program that shows or subscribes to it.

An event keeps its UID as long as it is the same occurrence of the same line, and its SEQUENCE is the number of the
book's last entry: it only rises, so a later file always replaces an earlier one.  A row that was taken off a frozen
list is there as cancelled.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from hashlib import sha256

from upkeep.papers.week.week_facts import due_said, window_said
from upkeep.said import Said, said
from upkeep.units.instants import Zone
from upkeep.views.week import WeekList, WeekRow
from upkeep.wording.sentences import Reader, of_plant, text
from upkeep.wording.text import visible

_OCTETS = 75
"""The longest line (RFC 5545, 3.1), in octets without its end."""

REMOVED = "removed"


def week_calendar(week: WeekList, reader: Reader, person: str | None = None) -> bytes:
    """The calendar of a weekly list, or of what somebody (a name) is to do in it."""
    rows = [row for row in week.rows if person is None or row.person == person]
    made = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Strokebook//EN", "CALSCALE:GREGORIAN", "METHOD:PUBLISH"]
    made.append(f"X-WR-CALNAME:{_escaped(f'{week.plant} {week.week}')}")
    for row in rows:
        made += _event(row, week, reader)
    made.append("END:VCALENDAR")
    return "".join(f"{piece}\r\n" for line in made for piece in _folded(line)).encode()


def _event(row: WeekRow, week: WeekList, reader: Reader) -> Iterator[str]:
    zone = Zone(week.zone)
    title = said("{item}: {title}", item=row.item, title=visible(of_plant(row.title, reader)))
    about: list[Said] = [due_said(row, zone), window_said(row, zone)]
    yield "BEGIN:VEVENT"
    yield f"UID:{_uid(row, week)}"
    yield f"DTSTAMP:{_moment(week.printed_at)}"
    yield f"SEQUENCE:{max(week.revision, 0)}"
    yield from _when(row, week)
    yield f"SUMMARY:{_escaped(text(title, reader))}"
    yield f"LOCATION:{_escaped(visible(row.place))}"
    yield f"DESCRIPTION:{_escaped('; '.join(text(one, reader) for one in about))}"
    yield "STATUS:CANCELLED" if row.mark == REMOVED else "STATUS:CONFIRMED"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def _uid(row: WeekRow, week: WeekList) -> str:
    """The same for the same occurrence of a line in the same plant, whatever else changes."""
    named = f"{week.plant}\0{row.line}\0{row.occurrence}"
    return f"{sha256(named.encode()).hexdigest()[:32]}@strokebook"


def _when(row: WeekRow, week: WeekList) -> Iterator[str]:
    """The shift it is planned for, else the day or moment it is due; what goes by strokes alone spans the week."""
    planned = None if row.shift is None else date.fromisoformat(row.shift.partition("/")[0])
    day = planned or row.due_day
    if day is None and row.due_at is not None:
        yield f"DTSTART:{_moment(row.due_at)}"
        yield f"DTEND:{_moment(row.due_at + timedelta(minutes=max(row.minutes, 1)))}"
        return
    first, last = (day, day) if day is not None else (week.first_day, week.last_day)
    yield f"DTSTART;VALUE=DATE:{first:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{last + timedelta(days=1):%Y%m%d}"


def _moment(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _escaped(words: str) -> str:
    """Text as RFC 5545, 3.3.11 has it."""
    escaped = words.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    return escaped.replace("\r\n", "\\n").replace("\n", "\\n").replace("\r", "\\n")


def _folded(line: str) -> Iterator[str]:
    """The line in pieces of at most 75 octets, no letter torn, the later ones after a blank."""
    piece, room = "", _OCTETS
    for letter in line:
        wide = len(letter.encode())
        if wide > room:
            yield piece
            piece, room = " ", _OCTETS - 1
        piece += letter
        room -= wide
    yield piece

"""The rows of a weekly list that came back, as whoever types them writes them: row, day and time, initials.

One line for each row that was ticked (``#`` begins a remark of whoever types); in place of its number the code of the
row, or its line (item/task)::

    ROW [DAY] TIME INITIALS [count N [rolled-over | after-reset]] [remark ...]

    12 2026-03-04 10:20 ana
    14 Wed 10.45 tom count 1,204,300 remark nozzle was clogged
    15 4.3. ? tom
    16 8:00 ?
    *R812.17.KX4QP 8:10 tom
    M-12/lube 8:20 tom

A day is one as ISO 8601 writes it, the day and the month with full stops, or the beginning of a weekday's English name,
which is that day of the printed week.  Left out, it is the one day given for the whole sheet.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, timedelta

from upkeep.errors import Refused, Unreadable
from upkeep.frozen import frozen
from upkeep.said import Numeral, Quoted, Said, said
from upkeep.scan_codes import is_like_a_code
from upkeep.units.quantities import figure_of

UNKNOWN = "?"

_REST = re.compile(
    r"(?P<initials>\S+)"
    r"(?:\s+count\s+(?P<count>\S+)(?:\s+(?P<how>rolled[ -]over|after[ -]reset))?)?(?:\s+remark\s+(?P<remark>\S.*))?\Z",
    re.ASCII,
)
_TIME = re.compile(r"(?P<hour>\d{1,2})[:.](?P<minute>\d{2})\Z|(?P<short>\d{4})\Z", re.ASCII)
_DAY_MONTH = re.compile(r"(?P<day>\d{1,2})\.(?P<month>\d{1,2})\.?(?P<year>\d{4})?\Z", re.ASCII)
_LINE = re.compile(r"[^/\s]+/[^/\s]+\Z")
_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


@frozen
class Ticked:
    """One row as it came back: its number (0: it is named by ``named``, the line it answers or its code), day ("" where
    the sheet's own is meant), time ("?" where none was written),
    initials ("?" where none were), count and remark.

    ``rolled_over``: the counter passed its last figure since it was read before; ``after_reset``: it was set back to
    zero.
    """

    row: int
    day: str
    time: str
    initials: str
    count: int | None
    rolled_over: bool
    after_reset: bool
    remark: str
    named: str = ""

    def __str__(self) -> str:
        return " ".join(filter(None, (self.day, self.time, self.initials)))


def rows_of(lines: Iterable[str]) -> tuple[list[Ticked], list[Said]]:
    """The rows in the lines of a text, and a sentence for each line that is none."""
    ticked: list[Ticked] = []
    problems: list[Said] = []
    for number, line in enumerate(lines, 1):
        text = line.strip()
        if not text or text.startswith("#"):
            continue
        tick = row_of(text)
        if tick is None:
            problems.append(said("line {line}: {what}", line=Numeral(number), what=not_a_row(text)))
        else:
            ticked.append(tick)
    return ticked, problems


def not_a_row(text: str) -> Said:
    """Why a text is no row, and how one is written."""
    return said(
        "{text} is not a row; write row (its number, its code or its line), date, time (or ?) and initials like "
        "'12 2026-03-04 10:20 ana', then 'count 1,204,300' and 'remark ...' where the sheet has them.",
        text=Quoted(text[:60]),
    )


def row_of(text: str) -> Ticked | None:
    """The row that a line tells; None: it tells none."""
    number, *words = text.split(maxsplit=3)
    named = "" if number.isdecimal() else number
    if len(words) < 2 or (named and not is_like_a_code(named) and not _LINE.match(named)):
        return None
    dated = len(words) == 3 and (words[1] == UNKNOWN or _TIME.match(words[1]) is not None)
    day, time = (words[0], words[1]) if dated else ("", words[0])
    match = _REST.match(text.split(maxsplit=3 if dated else 2)[-1])
    count = figure_of(match["count"] or "") if match else None
    if match is None or (match["count"] is not None and count is None) or not (time == UNKNOWN or _TIME.match(time)):
        return None
    how = match["how"] or ""
    return Ticked(
        0 if named else int(number), day, time, match["initials"], count, how.startswith("rolled"),
        how.startswith("after"), (match["remark"] or "").strip(), named,
    )  # fmt: skip


def day_of(written: str, monday: date) -> date:
    """The day that is meant in a list of the week that begins on `monday`: without a year the one nearest to it.

    Raises :class:`Unreadable` for a text that is no day.
    """
    weekdays = [place for place, name in enumerate(_WEEKDAYS) if len(written) > 1 and name.startswith(written.lower())]
    if len(weekdays) == 1:
        return monday + timedelta(days=weekdays[0])
    match = _DAY_MONTH.match(written)
    try:
        if match is None:
            return date.fromisoformat(written)
        years = [int(match["year"])] if match["year"] else [monday.year - 1, monday.year, monday.year + 1]
        days = [date(year, int(match["month"]), int(match["day"])) for year in years]
    except ValueError:
        raise Unreadable(
            said("{text} is not a date; write it like 2026-03-04, 4.3. or Wed.", text=Quoted(written))
        ) from None
    return min(days, key=lambda day: abs(day - monday))


def clock_of(written: str) -> str:
    """A time as people write it, as ``08:00``; it may still be none of a real day."""
    match = _TIME.match(written)
    assert match is not None  # a row without a time is none
    if match["short"]:
        return f"{written[:2]}:{written[2:]}"
    return f"{int(match['hour']):02d}:{match['minute']}"


def day_or_refused(ticked: Ticked, whole_sheet: date | None, monday: date) -> date:
    """The day of a row; raises :class:`Refused` where neither it nor the sheet has one."""
    if ticked.day:
        return day_of(ticked.day, monday)
    if whole_sheet is None:
        raise Refused(said("it has no date, and none was given for the whole sheet."))
    return whole_sheet

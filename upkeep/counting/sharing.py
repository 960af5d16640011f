"""How the strokes between two readings are shared where a count was not taken at a change.

First by quantities made, if somebody wrote them; else by the time the shifts ran; else by the clock.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from upkeep.units.shifts import ShiftCalendar


class Quantity(NamedTuple):
    """Pieces made over [start, end)."""

    start: datetime
    end: datetime
    pieces: int


QUANTITIES, RUNNING_TIME, CLOCK = "quantities made", "running time of the shifts", "the clock"


def share_of(
    start: datetime, instant: datetime, end: datetime, made: Sequence[Quantity], calendar: ShiftCalendar
) -> tuple[Fraction, str]:
    """The part of the strokes of [start, end) done by an instant, 0 to 1, and what it was shared by."""
    by_pieces = _part(lambda a, b: pieces_made(made, a, b), start, instant, end) if made else None
    if by_pieces is not None:
        return by_pieces, QUANTITIES
    return _by_time(start, instant, end, calendar)


@lru_cache(maxsize=1024)
def _by_time(start: datetime, instant: datetime, end: datetime, calendar: ShiftCalendar) -> tuple[Fraction, str]:
    """The same where nobody wrote quantities; presses that are read at one hour share alike."""
    by_shifts = _part(lambda a, b: Fraction(running_seconds(calendar, a, b)), start, instant, end)
    if by_shifts is not None:
        return by_shifts, RUNNING_TIME
    return Fraction(_seconds(start, instant), _seconds(start, end)), CLOCK


def _part(
    amount: Callable[[datetime, datetime], Fraction], start: datetime, instant: datetime, end: datetime
) -> Fraction | None:
    """The part of an amount that lies before an instant; None where there is none of it in the whole span."""
    whole = amount(start, end)
    return amount(start, instant) / whole if whole > 0 else None


def _seconds(start: datetime, end: datetime) -> int:
    """Moments in a book are whole seconds."""
    return int((end - start).total_seconds())


def pieces_made(made: Iterable[Quantity], start: datetime, end: datetime) -> Fraction:
    """How many of the pieces were made over [start, end), as evenly as a run makes them."""
    pieces = Fraction(0)
    for run in made:
        overlap, length = _seconds(max(run.start, start), min(run.end, end)), _seconds(run.start, run.end)
        if overlap > 0 and length > 0:
            pieces += Fraction(run.pieces * overlap, length)
    return pieces


def running_seconds(calendar: ShiftCalendar, start: datetime, end: datetime) -> int:
    """Seconds of [start, end) in which a shift ran; overlapping shifts count once."""
    seconds, until = 0, start
    spans: Iterable[tuple[datetime, datetime]] = ((shift.start, shift.end) for shift in calendar.between(start, end))
    for begins, ends in sorted(spans):
        begins, ends = max(begins, until), min(ends, end)
        if begins < ends:
            seconds += _seconds(begins, ends)
            until = ends
    return seconds

"""Running totals: what a press has really done, from what its counter showed.

A *mark* is a reading with the strokes the press has done since its first reading.  Totals never go back; the counter
may (a six-figure counter passes 999,999 and starts again at 0).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple

from upkeep.errors import Refused
from upkeep.units.quantities import grouped, strokes


class Band(NamedTuple):
    """A number of strokes that may have had to be guessed: the least, the best and the most it can be."""

    low: int
    best: int
    high: int

    @property
    def estimated(self) -> bool:
        """Whether the number had to be guessed."""
        return self.low != self.high

    def __add__(self, other: object) -> Band:
        if not isinstance(other, Band):
            return NotImplemented
        return Band(self.low + other.low, self.best + other.best, self.high + other.high)


NOTHING = Band(0, 0, 0)


def exactly(number: int) -> Band:
    """A band without doubt."""
    return Band(number, number, number)


@dataclass(frozen=True, slots=True)
class Reading:
    """A counter reading in effect: when, the figure, the entry that says so, and whether the counter rolled over."""

    at: datetime
    value: int
    entry: int
    rolled_over: bool = False

    @property
    def order(self) -> tuple[datetime, int]:
        """Readings follow one another by moment, then by entry."""
        return self.at, self.entry


@dataclass(frozen=True, slots=True)
class Mark:
    """A reading with the running total of its press, in strokes since the first reading."""

    reading: Reading
    total: int

    @property
    def at(self) -> datetime:
        """When the counter was read."""
        return self.reading.at


def increment(before: int, value: int, *, rolled_over: bool, digits: int | None) -> int:
    """Strokes between two figures of one counter.

    With ``rolled_over`` the counter of ``digits`` figures passed its last one once.  Negative when it went back.
    """
    return value - before + (10**digits if rolled_over and digits else 0)


def marks_from(before: Mark | None, readings: Iterable[Reading], digits: int | None) -> list[Mark]:
    """The marks of readings in order, continuing after ``before`` (None: the press's first readings)."""
    marks = []
    for reading in readings:
        total = 0
        if before is not None:
            total = before.total + increment(
                before.reading.value, reading.value, rolled_over=reading.rolled_over, digits=digits
            )
        before = Mark(reading, total)
        marks.append(before)
    return marks


def interpolated(before: Mark | None, after: Mark | None, instant: datetime) -> Band:
    """The total at an instant between two neighbouring marks: time share as best, the marks as bounds.

    Before the first mark nothing is counted; after the last one the last total stands (more is not known).
    """
    if before is None:
        return NOTHING
    if after is None or before.total == after.total or instant <= before.at:
        return exactly(before.total)
    if instant >= after.at:
        return exactly(after.total)
    share = (instant - before.at) / (after.at - before.at)
    best = before.total + round((after.total - before.total) * share)
    return Band(before.total, best, after.total)


class Counter(NamedTuple):
    """What has to be known of a press to judge a reading: its id, counter figures and fastest rate (strokes/hour)."""

    press: str
    digits: int | None
    max_rate: int | None


def check_reading(
    counter: Counter, reading: Reading, before: Mark | None, after: Mark | None, shown: str, neighbours: Sequence[str]
) -> None:
    """Raises :class:`Refused` where a reading cannot be true between its neighbours in time.

    ``shown`` is the moment of the mark before, as people here write it; ``neighbours`` are presses whose counter
    the figure would fit ("P-08 (last 2,094,050)").
    """
    if counter.digits is not None and reading.value >= 10**counter.digits:
        raise Refused(
            f"{grouped(reading.value)} has more figures than the counter of {counter.press} ({counter.digits}). "
            "Read it again, figure by figure."
        )
    if before is not None:
        _check_step(
            counter, before.reading, reading, f"the reading {grouped(before.reading.value)} of {shown}", neighbours
        )
    if after is not None:
        later = f"the later reading {grouped(after.reading.value)} already in the book (entry #{after.reading.entry})"
        _check_step(counter, reading, after.reading, later, neighbours)


def _check_step(counter: Counter, first: Reading, second: Reading, against: str, neighbours: Sequence[str]) -> None:
    strokes_done = increment(first.value, second.value, rolled_over=second.rolled_over, digits=counter.digits)
    hours = (second.at - first.at).total_seconds() / 3600
    hint = f" It would fit {' or '.join(neighbours)}: is it that press?" if neighbours else ""
    if strokes_done < 0:
        raise Refused(_backwards(counter, first, second, against, hours, hint))
    if counter.max_rate is not None and strokes_done > counter.max_rate * hours + _SLACK_STROKES:
        rate = f"{grouped(round(strokes_done / hours))} strokes an hour" if hours > 0 else "no time between them"
        raise Refused(
            f"{counter.press}: {strokes(strokes_done)} against {against} would be {rate}; "
            f"this press does at most {grouped(counter.max_rate)} an hour. Nothing was changed; "
            f"read the counter again, figure by figure.{hint}"
        )


_SLACK_STROKES = 60
"""Strokes a rate check forgives, since readings are written down to the minute.  Plant default, no source."""


def _backwards(counter: Counter, first: Reading, second: Reading, against: str, hours: float, hint: str) -> str:
    sentence = (
        f"{counter.press}: the count goes back from {grouped(first.value)} to {grouped(second.value)} ({against})."
    )
    if counter.digits is not None and not second.rolled_over and not hint:
        rolled = increment(first.value, second.value, rolled_over=True, digits=counter.digits)
        if counter.max_rate is None or rolled <= counter.max_rate * hours + _SLACK_STROKES:
            return (
                f"{sentence} If the {counter.digits}-figure counter rolled over, that is {strokes(rolled)}: "
                "confirm with 'rolled over'."
            )
    return f"{sentence} Nothing was changed; read the counter again, figure by figure.{hint}"

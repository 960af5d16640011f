"""Running totals: what a press has really done, from what its counter showed.

A *mark* is a reading with the strokes the press has done since its first reading.  Totals never go back; the counter
may: a six-figure counter passes 999,999 and starts again at 0, somebody sets it back, a new one takes its place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from itertools import pairwise
from typing import NamedTuple, Protocol

from upkeep.frozen import frozen


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


@frozen
class Reading:
    """A counter reading in effect: when, the figure, the entry that says so.

    ``rolled_over`` and ``after_reset`` say how the counter came to it; ``restart`` is the figure it shows from then on
    where that is another one (None: the same); ``pieces`` counts instead of the figure on a press without a counter.
    """

    at: datetime
    value: int
    entry: int
    rolled_over: bool = False
    after_reset: bool = False
    restart: int | None = None
    pieces: int | None = None

    @property
    def order(self) -> tuple[datetime, int]:
        """Readings follow one another by moment, then by entry."""
        return self.at, self.entry

    @property
    def base(self) -> int:
        """The figure the next reading counts from."""
        return self.value if self.restart is None else self.restart


@frozen
class Mark:
    """A reading with the running total of its press, in strokes since the first reading.

    Where a count is no whole number of strokes, ``rest`` is what the rounded total left away, in :data:`PARTS` of a
    stroke: below 0 where it was rounded up.
    """

    reading: Reading
    total: int
    rest: int = 0

    @property
    def at(self) -> datetime:
        """When the counter was read."""
        return self.reading.at


RUNNING, RESETTABLE, COUNTDOWN, NONE = "running", "resettable", "countdown", "none"
WAYS = (RUNNING, RESETTABLE, COUNTDOWN, NONE)
"""How counters count: a running total, a total that is set back to zero, a number that falls, not at all."""


@frozen
class CounterConfiguration:
    """How a counter counts from a moment on: its way, its figures, and the strokes to each count."""

    way: str = RUNNING
    digits: int | None = None
    times: float = 1.0


ConfigurationAt = Callable[[datetime], CounterConfiguration]
"""The configuration in force at a moment."""


PARTS = 10**9
"""Parts of a stroke that are counted on: strokes to a count have so many decimals at the most that say something."""


def increment(before: Reading, reading: Reading, configuration: CounterConfiguration) -> int:
    """Strokes between two readings of one counter, to the nearest; negative where it went back without a reason.

    The configuration is that in force at the first of the two: a step is counted the way it began.
    """
    return _whole(_parts(before, reading, configuration))


def _parts(before: Reading, reading: Reading, configuration: CounterConfiguration) -> int:
    """Parts of strokes between two readings."""
    if reading.pieces is not None:
        return reading.pieces * PARTS
    if reading.after_reset:
        counts = reading.value
    elif configuration.way == COUNTDOWN:
        counts = before.base - reading.value
    else:
        counts = (
            reading.value
            - before.base
            + (10**configuration.digits if reading.rolled_over and configuration.digits else 0)
        )
    return counts * round(configuration.times * PARTS)


def _whole(parts: int) -> int:
    """The nearest whole number of strokes; half a stroke is not done yet."""
    return (2 * parts + PARTS - 1) // (2 * PARTS)


def mark_after(before: Mark | None, reading: Reading, configuration_at: ConfigurationAt) -> Mark:
    """The mark of a reading after another mark (None: it is the first of its press).

    The total is rounded and not the step, so that it does not hang on how often the counter was read on the way.
    """
    if before is None:
        return Mark(reading, reading.pieces or 0)
    parts = before.total * PARTS + before.rest + _parts(before.reading, reading, configuration_at(before.at))
    total = _whole(parts)
    return Mark(reading, total, parts - total * PARTS)


def marks_from(before: Mark | None, readings: Iterable[Reading], configuration_at: ConfigurationAt) -> list[Mark]:
    """The marks of readings in order, continuing after ``before`` (None: the press's first readings)."""
    marks = []
    for reading in readings:
        before = mark_after(before, reading, configuration_at)
        marks.append(before)
    return marks


class Totalled(Protocol):
    """A moment at which the total of a press is known."""

    @property
    def at(self) -> datetime:
        """The moment."""
        ...

    @property
    def total(self) -> int:
        """Strokes of the press since its first reading."""
        ...


Share = Callable[[datetime, datetime, datetime], float]
"""The part of a span's strokes done by an instant within it: (start, instant, end) to a number 0 to 1."""


def interpolated(before: Totalled | None, after: Totalled | None, instant: datetime, share: Share) -> Band:
    """The total at an instant between two neighbouring marks: a share of the step as best, the marks as bounds.

    Before the first mark nothing is counted; after the last one the last total stands (more is not known).
    """
    if before is None:
        return NOTHING
    if after is None or before.total == after.total or instant <= before.at:
        return exactly(before.total)
    if instant >= after.at:
        return exactly(after.total)
    done = share(before.at, instant, after.at)
    return Band(before.total, before.total + round((after.total - before.total) * done), after.total)


def risen(readings: Sequence[tuple[datetime, int]]) -> list[tuple[datetime, datetime]]:
    """Of (moment, total) in order, those at which the total had risen since the moment before: (before, moment)."""
    spans: list[tuple[datetime, datetime]] = []
    before: datetime | None = None
    for (since, total), (at, following) in pairwise(readings):
        if at > since or before is None:
            before = since
        if following > total and not (spans and spans[-1][1] == at):
            spans.append((before, at))
    return spans

"""Running totals: what a press has really done, from what its counter showed.

A *mark* is a reading with the strokes the press has done since its first reading.  Totals never go back; the counter
may: a six-figure counter passes 999,999 and starts again at 0, somebody sets it back, a new one takes its place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from enum import StrEnum
from fractions import Fraction
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


PARTS = 10**9
"""Parts of a stroke that are counted on: strokes to a count have so many decimals at the most that say something, and
shares of strokes add up to within one of them."""


_CUT_OFF = PARTS // 10**6
"""More than the parts that the shares of one number can have lost together."""


def whole(parts: int) -> int:
    """The nearest whole number of strokes; half a stroke is not done yet, of whatever shares it was put together."""
    return (2 * (parts - _CUT_OFF) + PARTS - 1) // (2 * PARTS)


def least_parts(strokes: int) -> int:
    """The fewest parts that make so many whole strokes."""
    return strokes * PARTS - PARTS // 2 + 1 + _CUT_OFF


class Done(NamedTuple):
    """Strokes that are still to be added to others: the least and the most, and the best in :data:`PARTS`, which is
    rounded once, when it is told."""

    low: int
    parts: int
    high: int

    @property
    def band(self) -> Band:
        """The same in whole strokes."""
        return Band(self.low, whole(self.parts), self.high)

    def __add__(self, other: object) -> Done:
        if not isinstance(other, Done):
            return NotImplemented
        return Done(self.low + other.low, self.parts + other.parts, self.high + other.high)


NOTHING = Done(0, 0, 0)


class Total(NamedTuple):
    """What a press had done by an instant, in strokes since its first reading.

    ``low`` is the least it had done at the last reading, ``low_next`` that at the next one; ``high_last`` and ``high``
    are the most at these two; at a reading they are the same.  ``parts`` is the best, in :data:`PARTS`.
    """

    low: int
    low_next: int
    parts: int
    high_last: int
    high: int

    @property
    def best(self) -> int:
        """The best in whole strokes."""
        return whole(self.parts)

    @property
    def estimated(self) -> bool:
        """Whether it lies in a step, of which nobody knows how much was done by then."""
        return (self.low, self.high_last) != (self.low_next, self.high)


def exactly(total: int, less: int, more: int) -> Total:
    """The total of a press at a reading, by which it may have done so many strokes less or more."""
    return Total(total - less, total - less, total * PARTS, total + more, total + more)


AT_FIRST = Total(0, 0, 0, 0, 0)
"""The total of a press that nobody has read yet."""


class StrokeDoubt(StrEnum):
    """Why strokes had to be guessed: a count was not taken where something moved; a counter was replaced and nobody
    knows what it showed; it was set back, and nobody read it before; it may have rolled over more than once; it stood
    still while pieces were made."""

    NOT_TAKEN = "not taken"
    UNKNOWN = "unknown figure"
    SET_BACK = "set back"
    ROLLED_OVER = "rolled over"
    STOOD_STILL = "stood still"


@frozen
class Reading:
    """A counter reading in effect: when, the figure, the entry that says so.

    ``rolled_over`` and ``after_reset`` say how the counter came to it; ``restart`` is the figure it shows from then on
    where that is another one (None: the same); ``pieces`` counts instead of the figure on a press without a counter.
    ``fastest`` is the most strokes an hour the press can do, where more may have been done than the figure tells (None:
    nobody said, and no more is taken to have been done); ``rate`` the strokes an hour taken to have been done where
    nobody knows what the counter showed (None: it was read).
    """

    at: datetime
    value: int
    entry: int
    rolled_over: bool = False
    after_reset: bool = False
    restart: int | None = None
    pieces: int | None = None
    fastest: int | None = None
    rate: int | None = None

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
    stroke: below 0 where it was rounded up.  ``less`` and ``more`` are by how much all steps so far together may have
    been fewer or more strokes; ``doubt`` is why the last of them may have been.
    """

    reading: Reading
    total: int
    rest: int = 0
    less: int = 0
    more: int = 0
    doubt: StrokeDoubt | None = None

    @property
    def at(self) -> datetime:
        """When the counter was read."""
        return self.reading.at

    @property
    def exact(self) -> Total:
        """The total of the press at this very moment."""
        return exactly(self.total, self.less, self.more)


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


def increment(before: Reading, reading: Reading, configuration: CounterConfiguration) -> int:
    """Strokes between two readings of one counter, to the nearest; negative where it went back without a reason.

    The configuration is that in force at the first of the two: a step is counted the way it began.
    """
    return _nearest(_parts(before, reading, configuration))


def _parts(before: Reading, reading: Reading, configuration: CounterConfiguration) -> int:
    """Parts of strokes between two readings."""
    if reading.pieces is not None:
        return reading.pieces * PARTS
    if reading.rate is not None:
        return int(min(reading.rate, reading.fastest or reading.rate) * _hours(before, reading)) * PARTS
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


def _nearest(parts: int) -> int:
    """The nearest whole number of strokes of a counter, whose counts have no more decimals than there are parts."""
    return (2 * parts + PARTS - 1) // (2 * PARTS)


def _hours(before: Reading, reading: Reading) -> Fraction:
    return Fraction(int((reading.at - before.at).total_seconds()), 3600)


def in_doubt(
    before: Reading, reading: Reading, configuration: CounterConfiguration, step: int
) -> tuple[int, int, StrokeDoubt | None]:
    """By how much a step of so many strokes may have been fewer or more, and why: what nobody read, up to what the
    press can have done meanwhile at its fastest, by the clock."""
    most = step if reading.fastest is None else max(step, int(reading.fastest * _hours(before, reading)))
    if reading.rate is not None:
        return step, most - step, StrokeDoubt.UNKNOWN if most else None
    if reading.after_reset:
        return 0, most - step, StrokeDoubt.SET_BACK if most > step else None
    if reading.rolled_over and configuration.digits is not None:
        turn = _nearest(10**configuration.digits * round(configuration.times * PARTS))
        more = (most - step) // turn * turn
        return 0, more, StrokeDoubt.ROLLED_OVER if more else None
    return 0, 0, None


def mark_after(before: Mark | None, reading: Reading, configuration_at: ConfigurationAt) -> Mark:
    """The mark of a reading after another mark (None: it is the first of its press).

    The total is rounded and not the step, so that it does not hang on how often the counter was read on the way.
    """
    if before is None:
        return Mark(reading, reading.pieces or 0)
    configuration = configuration_at(before.at)
    parts = before.total * PARTS + before.rest + _parts(before.reading, reading, configuration)
    total = _nearest(parts)
    less, more, doubt = in_doubt(before.reading, reading, configuration, total - before.total)
    return Mark(reading, total, parts - total * PARTS, before.less + less, before.more + more, doubt)


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

    @property
    def exact(self) -> Total:
        """The same with its bounds."""
        ...


Share = Callable[[datetime, datetime, datetime], Fraction]
"""The part of a span's strokes done by an instant within it: (start, instant, end) to a number 0 to 1."""


def interpolated(before: Totalled | None, after: Totalled | None, instant: datetime, share: Share) -> Total:
    """The total at an instant between two neighbouring marks: a share of the step as best, the marks as bounds.

    Before the first mark nothing is counted; after the last one the last total stands (more is not known).
    """
    if before is None:
        return AT_FIRST
    if after is None or instant <= before.at:
        return before.exact
    if instant >= after.at:
        return after.exact
    start, end, parts = before.exact, after.exact, before.total * PARTS
    if after.total > before.total:
        done = share(before.at, instant, after.at)
        parts += (after.total - before.total) * PARTS * done.numerator // done.denominator
    return Total(start.low, end.low, parts, start.high, end.high)


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

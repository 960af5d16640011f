"""Pieces made while a counter stood still: the strokes go on by them, as an estimate.

A counter that showed one figure before the pieces were begun and after they were finished did not count them.  Once it
is known to stand still, it is taken to do so until it is read with another figure.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from fractions import Fraction
from typing import NamedTuple

from upkeep.counting.marks import NOTHING, PARTS, Done, Mark


class Uncounted(NamedTuple):
    """Pieces made on a press over [start, end) while its counter stood still at a running total of strokes."""

    press: str
    start: datetime
    end: datetime
    pieces: int
    total: int


def stood_still(before: Mark, after: Mark) -> bool:
    """Whether a counter counted nothing from one reading to another, and is known to have missed nothing else."""
    without_counter = before.reading.pieces is not None or after.reading.pieces is not None
    return not without_counter and before.total == after.total and before.more == after.more


class Hung(NamedTuple):
    """An item hung on a press over [start, end); ``end`` None: to this day."""

    press: str
    start: datetime
    end: datetime | None


def strokes_of_pieces(
    made: Iterable[Uncounted],
    hung: Callable[[Uncounted], Iterable[Hung]],
    told: Iterable[tuple[datetime, Fraction]],
    still_at: Callable[[Uncounted, datetime], bool],
    over: tuple[datetime, datetime],
) -> Iterator[tuple[datetime, Done]]:
    """The strokes of an item over [start, end) of ``over`` by pieces made while it hung there, each with the moment by
    which they were done.

    It may have done none of them, since the counter saw none, and all of them, if it hung there for any of the time.
    ``told`` are strokes that people told of the item while a counter stood still, in order, each with its moment; they
    stand for as many of the pieces (``still_at``: whether that counter still stood so at a moment).
    """
    left = list(told)
    for one in sorted(made, key=lambda one: (one.end, one.start)):
        spans = [
            (max(stay.start, one.start), one.end if stay.end is None else min(stay.end, one.end)) for stay in hung(one)
        ]
        whole = Fraction(one.pieces * _seconds(spans), _seconds([(one.start, one.end)]))
        rest = whole - _taken(left, one, whole, still_at)
        within = [(max(since, over[0]), min(until, over[1])) for since, until in spans]
        within = [(since, until) for since, until in within if since < until]
        if rest > 0 and within:
            part = rest * Fraction(_seconds(within), _seconds(spans))
            most = one.pieces - int(whole - rest)
            yield max(until for _, until in within), Done(0, int(part * PARTS), most)


def _taken(
    left: list[tuple[datetime, Fraction]],
    one: Uncounted,
    whole: Fraction,
    still_at: Callable[[Uncounted, datetime], bool],
) -> Fraction:
    """How much of the strokes of some pieces people have told themselves; what is used up is taken off ``left``."""
    taken = Fraction(0)
    for place, (moment, strokes) in enumerate(left):
        if strokes and taken < whole and moment > one.start and still_at(one, moment):
            used = min(strokes, whole - taken)
            taken += used
            left[place] = moment, strokes - used
    return taken


def _seconds(spans: Iterable[tuple[datetime, datetime]]) -> int:
    return sum(int((until - since).total_seconds()) for since, until in spans if since < until)


def together(strokes: Iterable[tuple[datetime, Done]]) -> Done:
    """Strokes added up."""
    return sum((done for _, done in strokes), NOTHING)

"""What an item can have done that was taken out and put back between two counts: never more than its presses did.

All that a press did from one moment at which it was read to the next is one step, however often it was read in the
minute that ends it: what was done before the first count of a minute and between its counts cannot be told apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from fractions import Fraction
from itertools import pairwise
from math import ceil
from typing import NamedTuple

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.plants import at
from upkeep.counting.marks import Mark, Reading
from upkeep.counting.strokes import Span, possibly_reached, stays_of, strokes_between, strokes_since_new
from upkeep.keeping.lookups import LookedUp
from upkeep.keeping.rows.counted import mark_row, stay_row
from upkeep.keeping.rows_in_memory import RowsInMemory
from upkeep.units.instants import NEVER, Zone
from upkeep.units.shifts import ShiftCalendar

START = at("2026-03-02 00:00")
MINUTE = timedelta(minutes=1)
PRESSES = ("P-1", "P-2")
minutes = st.integers(0, 60).map(lambda number: START + number * MINUTE)


class Rise(NamedTuple):
    """What a press did since it was read before: at best, and by how much it may have been fewer or more."""

    strokes: int
    fewer: int = 0
    more: int = 0


_doubted = st.tuples(st.integers(0, 500), st.integers(0, 500), st.integers(0, 2000))
rises = st.one_of(st.integers(0, 500).map(Rise), _doubted.map(lambda one: Rise(one[0], min(one[:2]), one[2])))
counts = st.lists(st.tuples(minutes, rises), min_size=2, max_size=6)
"""Now and then several counts in one minute."""
moves = st.lists(st.tuples(minutes, st.sampled_from((*PRESSES, None))), max_size=12, unique_by=lambda one: one[0])


Told = list[tuple[datetime, Rise]]


class Shop(RowsInMemory):
    """Two presses that were read, and one item that hung on them."""

    def __init__(self, read: dict[str, Told], moved: list[tuple[datetime, str | None]]) -> None:
        self.read = {press: sorted(told, key=lambda one: one[0]) for press, told in read.items()}
        self._marks = {press: [mark_row(press, mark) for mark in _marks(told)] for press, told in self.read.items()}
        self._moments = {press: [row.at for row in rows] for press, rows in self._marks.items()}
        self._totals = {press: [row.total for row in rows] for press, rows in self._marks.items()}
        self._made, self._uncounted, self._made_while_still = {}, {}, []
        self.counts = LookedUp(self, ShiftCalendar(Zone("UTC"), []))
        self.spans = list(_spans(sorted(moved, key=lambda one: one[0])))
        stays = stays_of("DS-1", self.spans, self.counts.total_at)
        self._stays = {"DS-1": [stay_row(stay) for stay in stays]}
        self._starts = {"DS-1": [row.start for row in self._stays["DS-1"]]}
        self._begun = {"DS-1": [(row.before_best, row.before_rest) for row in self._stays["DS-1"]]}

    def bounds(self, start: datetime, end: datetime) -> tuple[int, int, int]:
        """Least, best and most over [start, end), minute by minute: of a step all, if it hung there in one minute of
        it; none, if it was away in one; at best as much of it as of its minutes."""
        least, best, most = 0, Fraction(0), 0
        for press, told in self.read.items():
            steps = _steps(told)
            since, first = steps[0]  # what several counts in the first minute tell was done when that was over
            if any(max(span.start, start) < since <= min(span.end or NEVER, end) for span in self._on(press)):
                least, best, most = least + first.strokes - first.fewer, best + first.strokes, most + sum(first[::2])
            for (since, _), (moment, step) in pairwise(steps):
                hung = [self._hung(press, since + n * MINUTE, start, end) for n in range((moment - since) // MINUTE)]
                best += Fraction(step.strokes * sum(hung), len(hung))
                most += step.strokes + step.more if any(hung) else 0
                least += step.strokes - step.fewer if all(hung) else 0
        return least, ceil(best - Fraction(1, 2)), most

    def _on(self, press: str) -> Sequence[Span]:
        return [span for span in self.spans if span.press == press]

    def _hung(self, press: str, minute: datetime, start: datetime, end: datetime) -> bool:
        over = (one for one in self._on(press) if one.start <= minute < (one.end or NEVER))
        return start <= minute < end and any(over)


def _steps(told: Told) -> list[tuple[datetime, Rise]]:
    """Each moment at which a press was read, with all it did since the one before; nothing before its first count."""
    steps: dict[datetime, Rise] = {}
    for number, (moment, rise) in enumerate(told):
        so_far = steps.get(moment, Rise(0))
        steps[moment] = Rise(*(one + other for one, other in zip(so_far, rise, strict=True))) if number else so_far
    return list(steps.items())


def _marks(told: Told) -> list[Mark]:
    total = Rise(0)
    marks = []
    for number, (moment, rise) in enumerate(told):
        total = Rise(*(one + other for one, other in zip(total, rise, strict=True))) if number else total
        marks.append(Mark(Reading(moment, total.strokes, number + 1), total.strokes, 0, total.fewer, total.more))
    return marks


def _spans(moved: Sequence[tuple[datetime, str | None]]) -> list[Span]:
    found: list[Span] = []
    ends = [*(start for start, _ in moved[1:]), None]
    for (start, press), end in zip(moved, ends, strict=False):
        if press and found and found[-1].press == press and found[-1].end == start:
            found[-1] = Span(press, found[-1].start, end)
        elif press:
            found.append(Span(press, start, end))
    return found


@settings(max_examples=150, deadline=None)
@given(one=counts, other=counts, moved=moves, first=minutes, last=minutes)
def test_bounds_of_a_span_are_those_of_its_steps_together(
    one: Told, other: Told, moved: list[tuple[datetime, str | None]], first: datetime, last: datetime
) -> None:
    """However often it went and came back, and wherever the span is cut: neither wider than can be, nor too tight."""
    shop = Shop(dict(zip(PRESSES, (one, other), strict=True)), moved)
    start, end = sorted((first, last))
    assert tuple(strokes_between(shop.counts, "DS-1", start, end)) == shop.bounds(start, end)
    assert tuple(strokes_since_new(shop.counts, "DS-1", end)) == shop.bounds(START - MINUTE, end)


@settings(max_examples=150, deadline=None)
@given(one=counts, other=counts, moved=moves, start=minutes, number=st.integers(1, 900))
def test_a_number_can_have_been_reached_when_that_was_shown_and_not_before(
    one: Told, other: Told, moved: list[tuple[datetime, str | None]], start: datetime, number: int
) -> None:
    """At the first count, or the first departure from a press, up to which it may have done so many."""
    shop = Shop(dict(zip(PRESSES, (one, other), strict=True)), moved)
    told = {span.end for span in shop.spans} | {
        moment
        for span in shop.spans
        for moment, _ in shop.read[span.press]
        if span.start < moment <= (span.end or NEVER)
    }
    shown = sorted(moment for moment in told if moment and moment > start)
    wanted = next((moment for moment in shown if shop.bounds(start, moment)[2] >= number), None)
    assert possibly_reached(shop.counts, "DS-1", start, number) == wanted


def test_counts_of_one_minute_end_one_step() -> None:
    """By hand: a five-figure counter shows 98,000 at 00:00; at 00:30 it has rolled over to 95,750, and in the same
    minute somebody reads 95,752.  From 98,000 to the roll-over are 2,000, from 0 on 95,752: 97,752 strokes in all.
    A set that hung there from 00:15 on may have done none of them and all of them, at best half.
    """
    at_first, rolled_over, again = Rise(0), Rise(97_750), Rise(2)
    read = [(START, at_first), (START + 30 * MINUTE, rolled_over), (START + 30 * MINUTE, again)]
    shop = Shop({"P-1": read}, [(START + 15 * MINUTE, "P-1")])
    assert tuple(strokes_since_new(shop.counts, "DS-1", NEVER)) == (0, 48_876, 97_752)


def test_what_was_done_before_is_dated_by_its_own_press_and_not_by_the_next_one() -> None:
    """Fitted to P-1 at 00:10, over to P-2 at 00:20; P-1 showed 5 strokes more at 00:20, P-2 was read at 00:00 only: one
    stroke can have been reached at 00:20, when it left P-1, and not when P-2 was read last.
    """
    read = {"P-1": [(START, Rise(0)), (START + 20 * MINUTE, Rise(5))], "P-2": [(START, Rise(0))]}
    shop = Shop(read, [(START + 10 * MINUTE, "P-1"), (START + 20 * MINUTE, "P-2")])
    assert possibly_reached(shop.counts, "DS-1", START, 1) == START + 20 * MINUTE

"""What an item can have done that was taken out and put back between two counts: never more than its presses did."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.plants import at
from upkeep.counting.marks import CounterConfiguration, Mark, Reading, marks_from
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
counts = st.lists(st.tuples(minutes, st.integers(0, 500)), min_size=2, max_size=5, unique_by=lambda one: one[0])
moves = st.lists(st.tuples(minutes, st.sampled_from((*PRESSES, None))), max_size=12, unique_by=lambda one: one[0])


class Shop(RowsInMemory):
    """Two presses that were read, and one item that hung on them."""

    def __init__(self, read: dict[str, list[tuple[datetime, int]]], moved: list[tuple[datetime, str | None]]) -> None:
        self.read = {press: sorted(moments) for press, moments in read.items()}
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

    def bounds(self, start: datetime, end: datetime) -> tuple[int, int]:
        """Least and most over [start, end), minute by minute: of a step all, if it hung there in one minute of it;
        none, if it was away in one."""
        least = most = 0
        for press, told in self.read.items():
            total = 0
            for (since, _), (moment, strokes) in pairwise(told):
                hung = [self._hung(press, since + n * MINUTE, start, end) for n in range((moment - since) // MINUTE)]
                total += strokes
                most += strokes if any(hung) else 0
                least += strokes if all(hung) else 0
        return least, most

    def _hung(self, press: str, minute: datetime, start: datetime, end: datetime) -> bool:
        over = (one for one in self.spans if one.press == press and one.start <= minute < (one.end or NEVER))
        return start <= minute < end and any(over)


def _marks(told: Sequence[tuple[datetime, int]]) -> list[Mark]:
    total, readings = 0, []
    for number, (moment, strokes) in enumerate(told):
        total += strokes if number else 0
        readings.append(Reading(moment, total, number + 1))
    return marks_from(None, readings, lambda moment: CounterConfiguration())


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
    one: list[tuple[datetime, int]], other: list[tuple[datetime, int]], moved: list[tuple[datetime, str | None]],
    first: datetime, last: datetime,
) -> None:  # fmt: skip
    """However often it went and came back, and wherever the span is cut: neither wider than can be, nor too tight."""
    shop = Shop(dict(zip(PRESSES, (one, other), strict=True)), moved)
    start, end = sorted((first, last))
    low, best, high = strokes_between(shop.counts, "DS-1", start, end)
    assert (low, high) == shop.bounds(start, end)
    assert low <= best <= high
    assert strokes_since_new(shop.counts, "DS-1", end)[::2] == shop.bounds(START, end)


@settings(max_examples=150, deadline=None)
@given(one=counts, other=counts, moved=moves, start=minutes, number=st.integers(1, 900))
def test_a_number_can_have_been_reached_when_that_was_shown_and_not_before(
    one: list[tuple[datetime, int]], other: list[tuple[datetime, int]], moved: list[tuple[datetime, str | None]],
    start: datetime, number: int,
) -> None:  # fmt: skip
    """At the first count, or the first departure from a press, up to which it may have done so many."""
    shop = Shop(dict(zip(PRESSES, (one, other), strict=True)), moved)
    told = {span.end for span in shop.spans} | {
        moment
        for span in shop.spans
        for moment, _ in shop.read[span.press]
        if span.start < moment <= (span.end or NEVER)
    }
    shown = sorted(moment for moment in told if moment and moment > start)
    wanted = next((moment for moment in shown if shop.bounds(start, moment)[1] >= number), None)
    assert possibly_reached(shop.counts, "DS-1", start, number) == wanted

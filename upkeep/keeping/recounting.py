"""Counting again: the marks, fittings and stays of what an entry touched, from the moment it touched it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from functools import cache, partial
from itertools import pairwise
from typing import NamedTuple

from upkeep.counting.fittings import Fitting, Move, fittings_from, overlapping
from upkeep.counting.judgement import Counter, check_reading, is_plausible
from upkeep.counting.marks import NOTHING, ConfigurationAt, Mark, Reading, Total, marks_from
from upkeep.counting.strokes import BEGINNING, Span, Stay, spans_of, stays_of
from upkeep.entries.entry import Entry, Recorded
from upkeep.entries.fitting import Fit, Unfit
from upkeep.errors import Refused
from upkeep.keeping.count_hints import CountHints
from upkeep.keeping.definitions import Known
from upkeep.keeping.entry_rows import fitting_from, fitting_row, reading_of
from upkeep.keeping.lookups import LookedUp
from upkeep.keeping.rows.counted import configuration_at, mark_from, mark_row, stay_from_row, stay_row, still_rows
from upkeep.plant.model import Item, Kind
from upkeep.said import Moment, Numeral, said, term
from upkeep.store.entries import EntryStore
from upkeep.store.projections import Projections
from upkeep.store.rows.counts import MarkRow
from upkeep.units.instants import from_utc_text, utc_text

# Moments are whole seconds: what is asked for from a second before takes in what ended at the very moment.
_SECOND = timedelta(seconds=1)


_Pair = tuple[Reading | None, Reading]


def _pairs(before: Mark | None, marks: Sequence[Mark]) -> Iterator[_Pair]:
    """Each reading with the one before it."""
    readings = [before.reading if before else None, *(mark.reading for mark in marks)]
    for first, second in pairwise(readings):
        if second is not None:
            yield first, second


class Counted(NamedTuple):
    """New counts: by press the marks that follow its last one, and readings from before it, which move those after."""

    marks: dict[str, list[Mark]]
    late: list[tuple[str, Reading]]


class Recounter:
    """Brings marks, fittings and stays of one file up, inside one transaction.

    ``counted`` are the items whose strokes it moved, ``items`` those whose place it changed; ``now`` is when the write
    is made (None: nobody writes).
    """

    def __init__(self, rows: Projections, entries: EntryStore, known: Known, now: datetime | None = None) -> None:
        self._rows, self._entries, self.now = rows, entries, now
        self.known = known
        self._counts = LookedUp(rows, known.calendar)
        self._stays_from: dict[str, datetime] = {}
        self._still_from: dict[str, str] = {}
        self._steps: dict[str, tuple[str, set[_Pair]]] = {}
        self.counted: set[str] = set()
        self.items: set[str] = set()

    def learn(self, known: Known) -> None:
        """Definitions changed: a counter with other figures is recounted; other shifts share what was not read anew."""
        before, self.known = self.known, known
        self._counts = LookedUp(self._rows, known.calendar)
        for key, item in known.items.items():
            if key in before.items and before.items[key].digits != item.digits:
                self._recount(item)
                self._count_pieces(item)
        if before.facts != known.facts:
            for guessed in self._rows.items_with_guesses():
                self.remake_stays(guessed, BEGINNING)

    def _recount(self, press: Item) -> None:
        old = [mark_from(row) for row in self._rows.marks_since(press.id, "")]
        # How many figures a counter has matters only where it rolled over; all other steps stay as they were judged.
        if any(mark.reading.rolled_over for mark in old):
            same = {pair for pair in _pairs(None, old) if not pair[1].rolled_over}
            self._put_marks(press, None, [mark.reading for mark in old], utc_text(old[0].at), same)

    def _count_pieces(self, press: Item) -> None:
        """A press that turns out to have no counter is counted by the quantities already written of it."""
        quantities = self._entries.of_item(press.id, ("quantity",)) if press.digits == 0 else []
        read = (reading_of(quantity, self.known) for quantity in quantities)
        self.change_marks(press.id, [reading for _, reading in filter(None, read)], set())

    # Readings

    def last_mark(self, press: str) -> Mark | None:
        """The latest mark of a press; None where it was never counted."""
        row = self._rows.last_mark(press)
        return mark_from(row) if row else None

    def take(self, counted: Counted) -> None:
        """Takes new counts in: those after the last reading are added on, late ones move every total after them."""
        for press, added in counted.marks.items():
            self._continue_marks(press, added)
        for press, reading in counted.late:
            self.change_marks(press, [reading], set())

    def _continue_marks(self, press: str, added: list[Mark]) -> None:
        """Adds marks that follow the last one; stays that begin or end on that or later get their totals anew."""
        rows = [mark_row(press, mark) for mark in added]
        before = self._rows.mark_before(press, rows[0].at)
        self._rows.add_marks(rows)
        since = before.at if before else ""
        self.remake_still(press, since)
        if before is None:
            self._stays_from.setdefault(press, BEGINNING)
        for item in self._rows.items_with_edge_from(press, since):
            self.remake_stays(item, from_utc_text(since) if since else BEGINNING)
        self.counted.update(self._rows.items_staying(press, since), (press,))

    def change_marks(self, press: str, add: list[Reading], remove: set[int]) -> None:
        """Puts readings into, or takes them out of, the middle of a press's history; all that follows is made again.

        Whether they can be true is asked when all of a write is in, see :meth:`check_steps`.
        """
        old = [mark_from(row) for row in self._marks_from(press, add, remove)]
        if not old and not add:
            return
        kept = [mark.reading for mark in old if mark.reading.entry not in remove]
        readings = sorted([*kept, *add], key=lambda reading: reading.order)
        first = utc_text(min(reading.at for reading in [*readings, *(mark.reading for mark in old)]))
        row = self._rows.mark_before(press, first)
        before = mark_from(row) if row else None
        self._put_marks(self.known.counter(press), before, readings, first, set(_pairs(before, old)))

    def _put_marks(
        self, press: Item, before: Mark | None, readings: list[Reading], first: str, same: set[_Pair]
    ) -> None:
        """Replaces the marks from a moment on; pairs of readings that followed one another before are not judged."""
        marks = marks_from(before, readings, self.configuration_at(press.id))
        since_moment, steps = self._steps.get(press.id, (first, set()))
        self._steps[press.id] = (min(first, since_moment), steps | (set(_pairs(before, marks)) - same))
        self._rows.drop_marks(press.id, first)
        self._rows.add_marks([mark_row(press.id, mark) for mark in marks])
        since = before.at if before else BEGINNING
        # A total is shared between the reading before and the one after, so stays from the reading before on are wrong.
        self.remake_still(press.id, utc_text(since) if before else "")
        for staying in [*self._rows.items_staying(press.id, utc_text(since)), press.id]:
            self.remake_stays(staying, since)
            self.counted.add(staying)

    def _marks_from(self, press: str, add: list[Reading], remove: set[int]) -> list[MarkRow]:
        moments = [utc_text(reading.at) for reading in add]
        moments += [utc_text(recorded.entry.at) for entry in remove if (recorded := self._entries.by_number(entry))]
        return self._rows.marks_since(press, min(moments)) if moments else []

    def check_steps(self) -> None:
        """Raises :class:`Refused` where with all changes made a press would go back, or run faster than it can.

        A wrong figure may stand in several entries; corrected together they are judged together.
        """
        for press, (first, steps) in self._steps.items():
            row = self._rows.mark_before(press, first)
            marks = [mark_from(row) for row in self._rows.marks_since(press, first)]
            item, configuration_at = self.known.counter(press), self.configuration_at(press)
            for before, reading in _pairs(mark_from(row) if row else None, marks):
                if (before, reading) in steps:
                    configuration = configuration_at(before.at if before else reading.at)
                    self.check(Counter(press, configuration, item.max_rate), before, reading)

    def check(self, counter: Counter, before: Reading | None, reading: Reading) -> None:
        """Raises :class:`Refused` where a reading cannot follow another, with the presses it would fit better."""
        if not is_plausible(counter, before, reading):
            hints = CountHints(self._rows, self._entries, self.known, self.now)
            check_reading(counter, before, reading, hints.of(counter.press, before, reading))

    def configuration_at(self, press: str) -> ConfigurationAt:
        """How a counter counted at any moment: as its definition says, then as written in the book."""
        return configuration_at(self.known.counter(press), self._rows.configurations_of(press))

    def recount_from(self, press: str, since: datetime) -> None:
        """The configuration of a counter changed from a moment on: all that follows is counted again."""
        marks = [mark_from(row) for row in self._rows.marks_since(press, utc_text(since))]
        if marks:
            row = self._rows.mark_before(press, utc_text(since))
            before = mark_from(row) if row else None
            self._put_marks(self.known.counter(press), before, [m.reading for m in marks], utc_text(marks[0].at), set())

    def share_anew(self, press: str, start: datetime) -> None:
        """Quantities were written: what was guessed between the readings around them is guessed again.

        That is the totals at edges of stays, and those at sign-offs and shifts, of which only the lines know.
        """
        before = self._rows.mark_at(press, utc_text(start))
        since = before.at if before else ""
        self.remake_still(press, since)
        for item in self._rows.items_with_edge_from(press, since):
            self.remake_stays(item, from_utc_text(since) if since else BEGINNING)
        self.counted.update(self._rows.items_staying(press, since), (press,))

    # Fittings and stays

    def remake_fittings(self, item: str, since: datetime) -> list[Fitting]:
        """Makes the fittings of an item anew from a moment on, and asks for the stays of all it contains."""
        rows = self._rows.fittings_of(item, utc_text(since - _SECOND))
        self.items.update(above for row in rows for above in self.chain(row.inside))
        start = min([since, *(from_utc_text(row.start) for row in rows)])
        moves = [
            move_of(recorded) for recorded in self._entries.of_item(item, ("fit", "unfit"), from_at=utc_text(start))
        ]
        fittings = fittings_from(self._continued(item, start, sorted(moves, key=lambda move: move.order)))
        self._rows.replace_fittings(item, utc_text(start), [fitting_row(fitting) for fitting in fittings])
        for below in self._with_contents(item, start):
            self.remake_stays(below, start - _SECOND)
            self.items.add(below)
        self.items.update(above for fitting in fittings for above in self.chain(fitting.inside))
        return fittings

    def chain(self, item: str) -> list[str]:
        """An item and what it sits in now, up to the press: their tools were set when its contents changed."""
        holders, row = [item], self._rows.last_fitting(item)
        while row is not None and row.until is None:
            holders.append(row.inside)
            row = self._rows.last_fitting(row.inside)
        return holders

    def holders(self, items: Iterable[str]) -> set[str]:
        """What some items sit in now: the life of a set is that of its parts."""
        rows = (self._rows.last_fitting(item) for item in items)
        return {row.inside for row in rows if row is not None and row.until is None}

    def _continued(self, item: str, start: datetime, moves: list[Move]) -> list[Move]:
        """Moves without an unfit that ends a fitting kept before the start (both at the very same moment)."""
        before = self._rows.fittings_of(item, utc_text(start - _SECOND))
        kept = {row.ended_by for row in before if row.start < utc_text(start)}
        return [move for move in moves if move.entry not in kept]

    def check_slot(self, fitting: Fitting) -> None:
        """Raises :class:`Refused` where another item of the kind sits in the slot meanwhile."""
        kind = self.known.item(fitting.item).kind
        since = utc_text(fitting.start - _SECOND)
        others = [fitting_from(row) for row in self._rows.fittings_in(fitting.inside, since)]
        same = [other for other in others if self.known.item(other.item).kind is kind]
        other = overlapping(fitting, same)
        if other is not None:
            raise Refused(
                said(
                    "{inside} has held the {kind} {item} since {start} (entry #{started_by}), so "
                    "{fitting_item} cannot go in. Take {item} out first, or use --swap to do both at the same "
                    "moment.",
                    inside=fitting.inside,
                    kind=term(kind, "kind"),
                    item=other.item,
                    start=Moment(other.start, self.known.zone),
                    started_by=Numeral(other.started_by),
                    fitting_item=fitting.item,
                )
            )

    def _with_contents(self, item: str, since: datetime) -> list[str]:
        items = [item]
        for row in self._rows.fittings_in(item, utc_text(since - _SECOND)):
            if row.item not in items:
                items += [below for below in self._with_contents(row.item, since) if below not in items]
        return items

    def remake_stays(self, item: str, since: datetime) -> None:
        """Stays of an item from a moment on are wrong; what it contains is listed by whoever calls."""
        self._stays_from[item] = min(since, self._stays_from.get(item, since))

    def remake_still(self, press: str, after: str) -> None:
        """What was made on a press while its counter stood still, and finished after a moment, is wrong."""
        self._still_from[press] = min(after, self._still_from.get(press, after))

    def settle(self) -> None:
        """Makes the stays asked for, containers before contents: a part hung where its die set did; and what was made
        while counters stood still."""
        still, self._still_from = self._still_from, {}
        for press, after in still.items():
            rows = list(still_rows(self._rows, press, after, partial(self._rows.stood_still_at, press, after)))
            self._rows.replace_made_while_still(press, after, rows)
        waiting, self._stays_from = self._stays_from, {}
        total_at = cache(self._counts.total_at)  # parts of one die set come and go with it
        for item in sorted(waiting, key=self._depth):
            self._make_stays(item, waiting[item], total_at)

    def _depth(self, item: str) -> int:
        kind = self.known.item(item).kind
        return {Kind.PRESS: 0, Kind.MODULE: 1, Kind.DIE_SET: 2, Kind.CUT_OFF_BLADE: 2}.get(kind, 3)

    def _make_stays(self, item: str, since: datetime, total_at: Callable[[str, datetime], Total]) -> None:
        touched = [stay_from_row(row) for row in self._rows.stays_of(item, utc_text(since))]
        start = min([since, *(stay.start for stay in touched)])
        kept = self._rows.stay_ended_before(item, utc_text(since))
        before = stay_from_row(kept).after if kept else NOTHING
        spans = [span for span in self._spans(item, start) if span.end is None or span.end >= since]
        earlier_on = partial(self._stay_in_step, item, utc_text(since))
        stays = stays_of(item, spans, total_at, before, earlier_on)
        self._rows.replace_stays(item, utc_text(since), [stay_row(stay) for stay in stays])
        self.counted.add(item)

    def _stay_in_step(self, item: str, before: str, press: str, start: datetime) -> Stay | None:
        """The last stay on a press kept before a moment that ended since the press was last read before ``start``."""
        read = self._rows.mark_before(press, utc_text(start))
        row = self._rows.stay_ended_over(item, press, read.at if read else "", before)
        return stay_from_row(row) if row else None

    def _spans(self, item: str, since: datetime) -> list[Span]:
        if self.known.item(item).kind is Kind.PRESS:
            return [Span(item, BEGINNING, None)] if self._rows.last_mark(item) else []
        fittings = [fitting_from(row) for row in self._rows.fittings_of(item, utc_text(since - _SECOND))]
        return spans_of(fittings, lambda inside: self._parent_spans(inside, since))

    def _parent_spans(self, inside: str, since: datetime) -> list[Span]:
        if self.known.item(inside).kind is Kind.PRESS:
            return [Span(inside, BEGINNING, None)]
        stays = [stay_from_row(row) for row in self._rows.stays_of(inside, utc_text(since))]
        return [Span(stay.press, stay.start, stay.end) for stay in stays]

    def contents_at(self, item: str, instant: datetime) -> list[str]:
        """An item and all it contained at an instant, the outermost first."""
        items, at = [item], utc_text(instant)
        for row in self._rows.fittings_in(item, utc_text(instant - _SECOND)):
            if row.start <= at and (row.until is None or row.until > at):
                items += self.contents_at(row.item, instant)
        return items

    def press_at(self, item: str, instant: datetime) -> str | None:
        """The press an item hung on just before an instant (or hangs on from it); None: on none."""
        key: str | None = item
        while key is not None and self.known.item(key).kind is not Kind.PRESS:
            at = utc_text(instant)
            rows = [row for row in self._rows.fittings_of(key, utc_text(instant - _SECOND)) if row.start <= at]
            key = rows[-1].inside if rows else None
        return key


def move_of(recorded: Recorded) -> Move:
    """The move behind a fit or unfit entry."""
    entry: Entry = recorded.entry
    if isinstance(entry, Fit):
        return Move(entry.at, recorded.id, entry.item, entry.inside)
    assert isinstance(entry, Unfit)
    return Move(entry.at, recorded.id, entry.item, None, entry.to)

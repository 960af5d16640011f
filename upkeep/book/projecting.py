"""Keeping the projections up with each entry: only what the entry touches is made again, from the moment it touches.

The rules are the same that a full replay uses (:mod:`upkeep.book.replay`); here they are asked for a tail.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from upkeep.book.effect import effect_changes
from upkeep.book.judging import Judge, line_name
from upkeep.book.known import Known
from upkeep.book.lookups import LookedUp, mark_from, mark_row, stay_from_row, stay_row
from upkeep.book.rows import fitting_from, fitting_row, reading_of, sign_off_row, standing_rows
from upkeep.counting.fittings import Fitting, Move, fittings_from, overlapping
from upkeep.counting.marks import NOTHING, Counter, Mark, Reading, check_reading, marks_from
from upkeep.counting.strokes import Span, spans_of, stays_of
from upkeep.due.facts import BEGINNING
from upkeep.entries.kinds import EXTRA, Entry, Fault, Fit, Hold, Pause, Recorded, Release, Resume, Sign, Unfit, Verify
from upkeep.errors import Refused
from upkeep.plant.model import Item, Kind, Task
from upkeep.store.entries import EntryStore
from upkeep.store.file import BookFile
from upkeep.store.lines import LineStore
from upkeep.store.projections import Projections
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.units.quantities import grouped

_SECOND = timedelta(seconds=1)


class Projector:
    """Brings the projections of one file up with entries just appended, inside one transaction."""

    def __init__(self, file: BookFile, known: Known) -> None:
        self._entries, self._rows, self._lines = EntryStore(file), Projections(file), LineStore(file)
        self.known = known
        self._counts = LookedUp(self._rows)
        self._stays_from: dict[str, datetime] = {}
        self._counted: set[str] = set()
        self._touched: set[tuple[str, str]] = set()
        self._items: set[str] = set()
        self._everything = False

    def learn(self, known: Known) -> None:
        """Definitions changed: every line is judged again, and a counter with other figures than before recounted."""
        before, self.known = self.known, known
        self._everything = True
        for key, item in known.items.items():
            if key in before.items and before.items[key].digits != item.digits:
                self._recount(item)

    def _recount(self, press: Item) -> None:
        old = [mark_from(row) for row in self._rows.marks_since(press.id, "")]
        if any(mark.reading.rolled_over for mark in old):
            same = {pair for pair in _pairs(None, old) if not pair[1].rolled_over}
            self._put_marks(press, None, [mark.reading for mark in old], utc_text(old[0].at), same)

    # Readings

    def last_mark(self, press: str) -> Mark | None:
        """The latest mark of a press."""
        row = self._rows.last_mark(press)
        return mark_from(row) if row else None

    def continue_marks(self, press: str, added: list[Mark]) -> None:
        """Adds marks that follow the last one; stays that begin or end on that or later get their totals anew."""
        before = self._rows.last_mark(press)
        self._rows.add_marks([mark_row(press, mark) for mark in added])
        since = before[1] if before else ""
        if before is None:
            self._stays_from.setdefault(press, BEGINNING)
        for item in self._rows.items_with_edge_from(press, since):
            self._remake_stays(item, from_utc_text(since) if since else BEGINNING)
        self._counted.update(self._rows.items_staying(press, since), (press,))

    def change_marks(self, press: str, add: list[Reading], remove: set[int]) -> None:
        """Puts readings into, or takes them out of, the middle of a press's history; all that follows is made again.

        Raises :class:`Refused` where the press would go back, or run faster than it can.
        """
        old = [mark_from(row) for row in self._marks_from(press, add, remove)]
        if not old and not add:
            return
        kept = [mark.reading for mark in old if mark.reading.entry not in remove]
        readings = sorted([*kept, *add], key=lambda reading: reading.order)
        first = utc_text(min(reading.at for reading in [*readings, *(mark.reading for mark in old)]))
        row = self._rows.mark_before(press, first)
        before = mark_from(row) if row else None
        self._put_marks(self.known.press(press), before, readings, first, set(_pairs(before, old)))

    def _put_marks(
        self, press: Item, before: Mark | None, readings: list[Reading], first: str, same: set[_Pair]
    ) -> None:
        """Replaces the marks from a moment on; pairs of readings that followed one another before are not judged."""
        marks = marks_from(before, readings, press.digits)
        self._check_steps(press, before, marks, same)
        self._rows.drop_marks(press.id, first)
        self._rows.add_marks([mark_row(press.id, mark) for mark in marks])
        since = before.at if before else BEGINNING
        for staying in [*self._rows.items_staying(press.id, utc_text(since)), press.id]:
            self._remake_stays(staying, since)
            self._counted.add(staying)

    def _marks_from(self, press: str, add: list[Reading], remove: set[int]) -> list[tuple[object, ...]]:
        moments = [utc_text(reading.at) for reading in add]
        moments += [utc_text(found.entry.at) for entry in remove if (found := self._entries.one(entry))]
        return self._rows.marks_since(press, min(moments)) if moments else []

    def _check_steps(self, press: Item, before: Mark | None, marks: list[Mark], same: set[_Pair]) -> None:
        counter = Counter(press.id, press.digits, press.max_rate)
        for mark in marks:
            if (before.reading if before else None, mark.reading) not in same:
                shown = self.known.zone.show(before.at) if before else ""
                check_reading(counter, mark.reading, before, None, shown, self.fitting_presses(press.id, mark.reading))
            before = mark

    def fitting_presses(self, press: str, reading: Reading) -> list[str]:
        """The presses whose counter a figure would fit better, as a hint to whoever read the wrong one."""
        found = []
        for row in self._rows.last_marks():
            other = self.known.items.get(row[0])
            last = mark_from(row)
            if other is None or other.id == press or last.at >= reading.at or other.max_rate is None:
                continue
            hours = (reading.at - last.at).total_seconds() / 3600
            if 0 <= reading.value - last.reading.value <= other.max_rate * hours:
                found.append(f"{other.id} (last {grouped(last.reading.value)})")
        return found[:3]

    # Entries one by one

    def project(self, new: Recorded, replaced: Recorded | None) -> None:
        """Brings the projections up with one appended entry and with those whose effect it takes or gives back."""
        lost, regained = effect_changes(new, self._entries)
        self._check_regained(new, lost, regained)
        self._rows.set_effect(lost, [old.id for old in regained])
        gone = [found for entry, _ in lost if (found := self._entries.one(entry))]
        if replaced is not None or lost or regained:
            self._swap([new, *regained], gone)
        else:
            self._swap([new], [])

    def _check_regained(self, new: Recorded, lost: list[tuple[int, int]], regained: list[Recorded]) -> None:
        """Refuses to give effect back to an entry whose place another one has taken meanwhile."""
        for entry, through in lost:
            other = self._rows.effect_lost_through(entry)
            if other is not None:
                raise Refused(
                    f"With that #{through} would count again, but what it replaced, #{entry}, was replaced by #{other} "
                    f"since. Strike #{other} first."
                )
        for old in regained:
            sign = old.entry
            if isinstance(sign, Sign) and sign.occurrence != EXTRA:
                taken = self._rows.sign_off_for(sign.item, sign.task, sign.occurrence)
                if taken is not None and taken[3] not in dict(lost):
                    raise Refused(
                        f"With that #{old.id} would count again, but {line_name(sign.item, sign.task)} for "
                        f"{sign.occurrence} was signed again since (#{taken[3]}). Strike that first."
                    )

    def _swap(self, came: list[Recorded], went: list[Recorded]) -> None:
        self._swap_readings(came, went)
        moved: dict[str, datetime] = {}
        for one in [*came, *went]:
            if isinstance(one.entry, Fit | Unfit):
                item = one.entry.item
                moved[item] = min(one.entry.at, moved.get(item, one.entry.at))
        fittings = [fitting for item, since in moved.items() for fitting in self._remake_fittings(item, since)]
        for fitting in fittings:
            self._check_slot(fitting)
        for one in [*came, *went]:
            self._project_signature(one)

    def _swap_readings(self, came: list[Recorded], went: list[Recorded]) -> None:
        presses: dict[str, tuple[list[Reading], set[int]]] = {}
        for one in came:
            if (read := reading_of(one)) is not None:
                presses.setdefault(read[0], ([], set()))[0].append(read[1])
        for one in went:
            if (read := reading_of(one)) is not None:
                presses.setdefault(read[0], ([], set()))[1].add(one.id)
        for press, (add, remove) in presses.items():
            self.change_marks(press, add, remove)

    def _project_signature(self, one: Recorded) -> None:
        match one.entry:
            case Sign() as sign:
                self._remake_sign_offs(sign.item, sign.task, sign.at)
                if sign.grade is not None:
                    self._remake_standings(sign.item)
            case Verify() as verify:
                target = self._entries.one(verify.entry)
                if target is not None and isinstance(target.entry, Sign):
                    self._remake_sign_offs(target.entry.item, target.entry.task, target.entry.at)
            case Fault() | Hold() | Release() | Pause() | Resume():
                self._remake_standings(one.entry.item)

    # Fittings and stays

    def _remake_fittings(self, item: str, since: datetime) -> list[Fitting]:
        rows = self._rows.fittings_of(item, utc_text(since - _SECOND))
        start = min([since, *(from_utc_text(row[1]) for row in rows)])
        moves = [move_of(found) for found in self._entries.of_item(item, ("fit", "unfit"), from_at=utc_text(start))]
        fittings = fittings_from(self._continued(item, start, sorted(moves, key=lambda move: move.order)))
        self._rows.replace_fittings(item, utc_text(start), [fitting_row(fitting) for fitting in fittings])
        for below in self._with_contents(item, start):
            self._remake_stays(below, start - _SECOND)
            self._items.add(below)
        return fittings

    def _continued(self, item: str, start: datetime, moves: list[Move]) -> list[Move]:
        """Moves without an unfit that ends a fitting kept before the start (both at the very same moment)."""
        kept = {row[5] for row in self._rows.fittings_of(item, utc_text(start - _SECOND)) if row[1] < utc_text(start)}
        return [move for move in moves if move.entry not in kept]

    def _check_slot(self, fitting: Fitting) -> None:
        kind = self.known.item(fitting.item).kind
        since = utc_text(fitting.start - _SECOND)
        others = [fitting_from(row) for row in self._rows.fittings_in(fitting.inside, since)]
        same = [other for other in others if self.known.item(other.item).kind is kind]
        other = overlapping(fitting, same)
        if other is not None:
            raise Refused(
                f"{fitting.inside} already holds the {kind} {other.item} since {self.known.zone.show(other.start)} "
                f"(entry #{other.started_by}), so {fitting.item} cannot go in. Take {other.item} out first, or use "
                "--swap to do both at the same moment. If both carry that id, ask which one is in your hand."
            )

    def _with_contents(self, item: str, since: datetime) -> list[str]:
        found = [item]
        for row in self._rows.fittings_in(item, utc_text(since - _SECOND)):
            if row[0] not in found:
                found += [below for below in self._with_contents(row[0], since) if below not in found]
        return found

    def _remake_stays(self, item: str, since: datetime) -> None:
        """Stays of an item from a moment on are wrong; what it contains is listed by whoever calls."""
        self._stays_from[item] = min(since, self._stays_from.get(item, since))

    def settle(self) -> None:
        """Makes the stays asked for, containers before contents."""
        waiting, self._stays_from = self._stays_from, {}
        for item in sorted(waiting, key=self._depth):
            self._make_stays(item, waiting[item])

    def _depth(self, item: str) -> int:
        kind = self.known.item(item).kind
        return {Kind.PRESS: 0, Kind.MODULE: 1, Kind.DIE_SET: 2, Kind.CUT_OFF_BLADE: 2}.get(kind, 3)

    def _make_stays(self, item: str, since: datetime) -> None:
        touched = [stay_from_row(row) for row in self._rows.stays_of(item, utc_text(since))]
        start = min([since, *(stay.start for stay in touched)])
        kept = self._rows.stay_ended_before(item, utc_text(since))
        before = stay_from_row(kept).after if kept else NOTHING
        spans = [span for span in self._spans(item, start) if span.end is None or span.end >= since]
        stays = stays_of(item, spans, self._counts.total_at, before)
        self._rows.replace_stays(item, utc_text(since), [stay_row(stay) for stay in stays])
        self._counted.add(item)

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

    def press_at(self, item: str, instant: datetime) -> str | None:
        """The press an item hung on just before an instant (or hangs on from it); None: on none."""
        key: str | None = item
        while key is not None and self.known.item(key).kind is not Kind.PRESS:
            at = utc_text(instant)
            rows = [row for row in self._rows.fittings_of(key, utc_text(instant - _SECOND)) if row[1] <= at]
            key = rows[-1][3] if rows else None
        return key

    # Signatures and standings

    def _remake_sign_offs(self, item: str, task: str, since: datetime) -> None:
        signs = [one for one in self._entries.of_item(item, ("sign",), from_at=utc_text(since)) if _is_of(one, task)]
        rows = [sign_off_row(one, self._verification(one)) for one in signs]
        self._rows.replace_sign_offs(item, task, utc_text(since), rows)
        self._touched.add((item, task))

    def _verification(self, sign: Recorded) -> Recorded | None:
        found = [
            one
            for one in self._entries.referring_to(sign.id)
            if isinstance(one.entry, Verify) and self._rows.effect_lost_through(one.id) is None
        ]
        return found[-1] if found else None

    def verified(self, sign: Recorded) -> bool:
        """Whether a sign-off has its second signature."""
        return self._verification(sign) is not None

    def _remake_standings(self, item: str) -> None:
        entries = self._entries.of_item(item, ("hold", "release", "pause", "resume", "fault"))
        graded = self._rows.last_graded(item, 4)
        self._rows.replace_standings(item, standing_rows(item, entries, graded))
        self._items.add(item)

    # Lines

    def touched_lines(self, judge: Judge) -> tuple[list[tuple[Item, Task]], list[str]]:
        """The lines to be judged again, and the names of those that are no more."""
        items = sorted(self.known.items) if self._everything else sorted(self._items)
        wanted = {line_name(i, t.id): (self.known.items[i], t) for i in items for t in self._tasks(i)}
        for item in sorted(self._counted):
            for task in self._tasks(item):
                if task.each_shift or task.strokes is not None or task.strokes_for:
                    wanted[line_name(item, task.id)] = (self.known.items[item], task)
        for item, signed in sorted(self._touched):
            found = self.known.items[item]
            for task in self._tasks(item):
                if task.id == signed:
                    wanted[line_name(item, task.id)] = (found, task)
        gone = [] if not self._everything else sorted(set(self._lines.all_names()) - set(wanted))
        return list(wanted.values()), gone

    def _tasks(self, item: str) -> list[Task]:
        return self.known.tasks_on(self.known.items[item])


_Pair = tuple[Reading | None, Reading]


def _pairs(before: Mark | None, marks: Sequence[Mark]) -> Iterator[_Pair]:
    """Each reading with the one before it."""
    readings = [before.reading if before else None, *(mark.reading for mark in marks)]
    for first, second in pairwise(readings):
        if second is not None:
            yield first, second


def move_of(found: Recorded) -> Move:
    """The move behind a fit or unfit entry."""
    entry: Entry = found.entry
    if isinstance(entry, Fit):
        return Move(entry.at, found.id, entry.item, entry.inside)
    assert isinstance(entry, Unfit)
    return Move(entry.at, found.id, entry.item, None, entry.to)


def _is_of(one: Recorded, task: str) -> bool:
    return isinstance(one.entry, Sign) and one.entry.task == task

"""The one way into the book: entries are checked, appended and projected in one transaction, or not at all."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from functools import cached_property
from itertools import groupby

from upkeep.admission import rules as checks
from upkeep.admission.admission import Admission
from upkeep.admission.covers import check_covers
from upkeep.admission.defining import DefinitionAdmission, check_definition
from upkeep.admission.proving import check_proven, goes_by_codes, with_proof
from upkeep.admission.readings import with_fastest
from upkeep.answers.alarms import Alarms
from upkeep.answers.cautions import cautions
from upkeep.answers.line_states import state_of
from upkeep.book.told_late import ToldLate
from upkeep.due.reason_json import reasons_from
from upkeep.entries.bookkeeping import Begin, Note
from upkeep.entries.chain import FORM
from upkeep.entries.checking import WHILE_SETTING, Check, OutOfTolerance
from upkeep.entries.clock import clock_went_back, written_at
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry, Recorded
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.kind import Filed
from upkeep.entries.kinds import filed
from upkeep.entries.origin import NOT_KNOWN, Origin, Proven
from upkeep.entries.planning import Define
from upkeep.errors import Refused
from upkeep.keeping.context import Context, Stores
from upkeep.keeping.definitions import Known
from upkeep.keeping.judging import Judge
from upkeep.keeping.projecting import Projector
from upkeep.plant.definition import Defined
from upkeep.plant.model import Item, Kind, Task, item_from
from upkeep.plant.values.facts import PlantFacts, facts_from
from upkeep.progress import MANY, Progress, watched
from upkeep.said import Moment, Said, said
from upkeep.store.file import BookFile
from upkeep.store.rows.definitions import DefinedRow, DefinitionRow
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.views.written import StateChange, Written


class Writer:
    """Writes into one file.  Made for one :meth:`write`; holds what that write has touched.

    ``proven``: who writes, and how their name was proven; ``only_tries``: nothing of it is kept, so nobody is asked.
    """

    def __init__(
        self, file: BookFile, known: Known, recorded_at: datetime, origin: Origin = NOT_KNOWN,
        proven: Proven | None = None, *, clock_is_right: bool = False, only_tries: bool = False,
    ) -> None:  # fmt: skip
        self._file, self._recorded_at, self._origin, self._proven = file, recorded_at, origin, proven
        self._only_tries = only_tries
        self._clock_is_right = clock_is_right
        stores = Stores(file)
        self._entries, self._rows, self._lines = stores.entries, stores.rows, stores.lines
        self.known = known
        self._projector = Projector(file, known, recorded_at)
        self._notes: list[Said] = []
        self._set_up: list[Check] = []
        self._of_clock: list[Said] = []
        self._late = ToldLate(file, stores.entries)
        self._moved: list[tuple[Item, Task]] = []
        self._span = self._entries.span()
        self._first = None if self._span is None else from_utc_text(self._span.began)
        self._before: Entry | None = None
        self._keeps_salts = False
        self._salts: Iterator[bytes] = iter(())

    def write(self, entries: Sequence[Entry], salts: Sequence[bytes] = ()) -> Written:
        """Appends all entries and brings every projection up; raises :class:`Refused` and writes nothing otherwise.

        ``salts`` are those of the entries, in their order, where whoever writes brings them (none: new ones).
        """
        numbers: list[int] = []
        self._salts = iter(salts)
        self._check_clock()
        if self._first is None:
            numbers, entries = self._begin(entries)
        many, watch = len(entries) >= MANY, self._file.watch
        stamped = map(self._stamped, watched(entries, "checking", len(entries), watch) if many else entries)
        for kind, run in groupby(stamped, key=_run_of):
            if kind == "count":
                numbers += self._counts(list(run))  # type: ignore[arg-type]
            elif kind == "define":
                numbers += self._defines(list(run))  # type: ignore[arg-type]
            else:
                for together in _stays_told(list(run)):
                    numbers += self._together(together) if len(together) > 1 else [self._one(together[0])]
        self._projector.counter.check_steps()
        changes = tuple(self._judge_touched())
        self._notes += self._alarms()
        self._notes += [*self._shown_of_work(), *self._of_clock]
        if many:
            watch(Progress("entered", len(numbers), len(numbers)))
        notes = tuple(dict.fromkeys(self._notes))
        return Written(tuple(numbers), changes, notes, cautions(self.known, entries))

    def _stamped(self, entry: Entry) -> Entry:
        recorded_at = entry.recorded_at or self._recorded_at
        origin = self._origin if entry.origin == NOT_KNOWN else entry.origin
        if self._proven is not None and not self._brings_back:
            origin = with_proof(origin, entry.by, self._proven)
        if origin.entered_by == entry.by:
            origin = replace(origin, entered_by=None)
        entry = replace(
            entry, at=entry.at.astimezone(UTC), recorded_at=recorded_at.astimezone(UTC), origin=origin,
            salt=entry.salt if self._keeps_salts else next(self._salts, None),
        )  # fmt: skip
        self._look_at_clock(entry)
        checks.check_moment(entry, recorded_at, self._recorded_at, self.known.zone, self._first)
        checks.check_told_in_time(self.known, entry, recorded_at, origin.entered_by or entry.by)
        if not self._only_tries and goes_by_codes(self.known) and not self._brings_back:
            check_proven(self.known, entry, self._proven)
        checks.check_texts(entry)
        if not isinstance(entry, Count):  # a press the book knows and a plain number: nothing to read back
            checks.check_words(entry)
        return entry

    @cached_property
    def _brings_back(self) -> bool:
        """Whether entries go in as they say they were once written: into an empty book, or by a keeper into one that
        was just restored."""
        if self._origin != NOT_KNOWN or self._span is None:
            return self._origin == NOT_KNOWN
        last = self._entries.by_number(self._span.last)
        restored = last is not None and isinstance(last.entry, Note) and last.entry.restored
        keepers = self.known.keepers_on(self.known.zone.day(self._recorded_at))
        return restored and self._proven is not None and self._proven.person in keepers

    def _check_clock(self) -> None:
        """Raises :class:`ClockAhead` where the clock is far ahead of the last entry."""
        if self._span is not None and not self._clock_is_right:
            checks.check_clock(from_utc_text(self._span.written), self._recorded_at, self.known.zone)

    def _look_at_clock(self, entry: Entry) -> None:
        """Tells the writer where an entry was written earlier than the one before it, which the history marks."""
        before, self._before = self._before or self._written_later(entry), entry
        if before is not None and clock_went_back(before, entry):
            self._of_clock.append(
                said(
                    "This is written as of {moment}, earlier than the entry before it ({before}): look at the clock of "
                    "this terminal. The history marks it.",
                    moment=Moment(written_at(entry), self.known.zone),
                    before=Moment(written_at(before), self.known.zone),
                )
            )

    def _written_later(self, entry: Entry) -> Entry | None:
        """The last entry that the book had before this write, where it was written after the first one of this."""
        if self._span is None or written_at(entry) >= from_utc_text(self._span.written):
            return None
        last = self._entries.by_number(self._span.last)
        return last.entry if last else None

    def _append(self, entry: Entry, place: Filed) -> int:
        shift_day = self.known.shift_day(entry.at, isinstance(entry, Define | Begin))
        return self._entries.append([(entry, shift_day, place)])[0]

    def _stands(self) -> Context:
        """The book as it stands by now, with what this write has added."""
        return Context(self._file, self.known, self._recorded_at)

    def _alarms(self) -> Iterator[Said]:
        """What was counted on a press although it must not run; wear that settings written down make up for."""
        items = self.known.items
        presses = sorted(key for key in self._projector.counter.counted if items[key].kind is Kind.PRESS)
        if not presses and not self._set_up:
            return
        context = self._stands()
        alarms = Alarms(context)
        for press in presses:
            yield from (sentence for _, sentence in (*alarms.of_press(press), *alarms.put_away(press)))
            yield from alarms.unchecked(press)
            yield from alarms.locked(press)
        if self._set_up:
            from upkeep.answers.wear.hidden_wear import HiddenWear

            hidden = HiddenWear(context)
            yield from (sentence for check in self._set_up for sentence in hidden.alarms(check))

    # The first entry of all

    def _begin(self, entries: Sequence[Entry]) -> tuple[list[int], Sequence[Entry]]:
        """Writes entry 0: the one that an export brings with it, or a new one; gives its number where it was brought,
        and the entries that are left."""
        brought, first = isinstance(entries[0], Begin), entries[0]
        if not isinstance(first, Begin):
            from uuid import UUID  # once in the life of a book; every other write would wait for it

            book = UUID(bytes=self._file.random(16), version=4)
            first = Begin(
                at=first.at, by=first.by, recorded_at=first.recorded_at, origin=first.origin,
                book=str(book), zone=_zone_named(entries), form=FORM,
            )  # fmt: skip
        self._keeps_salts = brought
        checks.check_begin(first)
        stamped = self._stamped(first)
        self._append(stamped, filed(stamped))
        self._rows.set_wall_clock(first.zone)
        self._first = first.at
        return ([0], entries[1:]) if brought else ([], entries)

    # Runs of readings, the most frequent entries by far

    def _counts(self, run: list[Count]) -> list[int]:
        run = [with_fastest(count, self.known) for count in run]
        number, _ = self._entries.last()
        self._late.told(run, self._stands)
        counted = Admission(self._stands(), self._projector).counted(run, number + 1)
        days = {at: self.known.calendar.shift_day(at).isoformat() for at in {count.at for count in run}}
        numbers = self._entries.append([(count, days[count.at], Filed(count.press)) for count in run])
        self._projector.counter.take(counted)
        return numbers

    # Definitions

    def _defines(self, run: list[Define]) -> list[int]:
        admission = DefinitionAdmission(self._stands())
        for entry in run:
            admission.check(entry)
            self._check_counter_stays(entry)
            self._check_zone_stays(entry)
        numbers = self._entries.append([(e, self.known.shift_day(e.at, True), filed(e)) for e in run])
        self._rows.define(
            DefinitionRow(entry.what, entry.key, entry.content, utc_text(entry.at), number)
            for entry, number in zip(run, numbers, strict=True)
        )
        self._rows.add_rows(
            DefinedRow(entry.what, entry.key, entry.content, utc_text(entry.at), number)
            for entry, number in zip(run, numbers, strict=True)
        )
        before, self.known = self.known, Known(self._rows.definitions())
        check_covers(before, self.known, [entry.key for entry in run if entry.what == Defined.TASK])
        self._projector.learn(self.known)
        return numbers

    def _check_counter_stays(self, entry: Define) -> None:
        old = self.known.items.get(entry.key) if entry.what == Defined.ITEM else None
        if old is not None and self._rows.last_mark(old.id) is not None:
            new = item_from(json.loads(entry.content))
            lost = old.digits is not None and new.digits is None
            if lost or (old.digits == 0) != (new.digits == 0):
                raise Refused(
                    said(
                        "{id} has already been counted one way; a counter cannot be added or removed by "
                        "changing the definition. Give the press with the new counter an id of its own.",
                        id=old.id,
                    )
                )

    def _check_zone_stays(self, entry: Define) -> None:
        began = self._entries.by_number(0) if entry.what == Defined.PLANT else None
        if began is None or not isinstance(began.entry, Begin):
            return
        zone = facts_from(json.loads(entry.content)).zone
        if zone != began.entry.zone:
            raise Refused(
                said(
                    "This book is kept in the time zone {zone}, as its first entry says; {other} would shift "
                    "every time in it. Set the zone back in plant.toml; a plant in another zone keeps its own "
                    "book.",
                    zone=began.entry.zone,
                    other=zone,
                )
            )

    # Everything else, one after another

    def _one(self, entry: Entry) -> int:
        recorded, replaced = self._appended(entry)
        self._projector.project(recorded, replaced)
        match recorded.entry:
            case OutOfTolerance():
                from upkeep.answers.checks.turned import turned_said  # a gauge is seldom found out

                self._notes += turned_said(self._stands(), recorded.id)
            case Check(occasion=occasion, item=item, failed=failed) if failed and occasion not in WHILE_SETTING:
                from upkeep.answers.suspect.named import made_said  # few checks fail

                suspect = made_said(self._stands(), item)
                self._notes += [] if suspect is None else [suspect]
        return recorded.id

    def _together(self, stay: Sequence[Entry]) -> list[int]:
        """A whole stay that is told afterwards: in and out again, before what was fitted there since."""
        moves: list[Recorded] = []
        for move in stay:
            if moves and isinstance(move, Unfit) and move.count is not None:
                move = replace(move, press=move.press or getattr(moves[0].entry, "press", None))
            moves.append(self._appended(move)[0])
        self._projector.swap(moves, [])
        return [recorded.id for recorded in moves]

    def _appended(self, entry: Entry) -> tuple[Recorded, Recorded | None]:
        if isinstance(entry, Begin):
            raise Refused(said("This book already has its first entry, and there can be only one. Leave this one out."))
        admission = Admission(self._stands(), self._projector)
        entry, replaced = admission.admitted(entry)
        self._notes += admission.notes
        if isinstance(entry, Check) and entry.occasion in WHILE_SETTING:
            self._set_up.append(entry)
        self._late.told([entry], self._stands)
        number = self._append(entry, self._filing(entry))
        self._late.correction(entry, replaced)
        return Recorded(number, entry, "", ""), replaced

    def _shown_of_work(self) -> list[Said]:
        return [] if self._span is None else self._late.shown(self._stands(), self._moved, self._recorded_at)

    def _filing(self, entry: Entry) -> Filed:
        place = filed(entry)
        if place.about is not None:
            target = self._entries.filing(place.about)
            return Filed(target.item if target else None, target.task if target else None, place.about)
        return place

    # Lines

    def _judge_touched(self) -> Iterator[StateChange]:
        self._projector.counter.settle()
        judge = Judge(self._rows, self.known)
        wanted, gone = self._projector.touched_lines(judge)
        self._moved = wanted
        added = []
        for item, task in wanted:
            row = judge.row(item, task)
            old = self._lines.row(row.line)
            if old is None:
                added.append(row)
            elif old != row:
                self._lines.change(old, row)
                before, after = state_of(old, self._recorded_at), state_of(row, self._recorded_at)
                if before is not after:
                    yield StateChange(row.line, before, after, reasons_from(row.reasons))
        self._lines.add(added)
        self._lines.drop(gone)


def _stays_told(run: Sequence[Entry]) -> Iterator[Sequence[Entry]]:
    """Entries one by one; an item that goes in and, with the next line, out again stays together."""
    place = 0
    while place < len(run):
        entry, following = run[place], run[place + 1] if place + 1 < len(run) else None
        told = isinstance(entry, Fit) and isinstance(following, Unfit) and entry.item == following.item
        both = told and entry.corrects is None and following is not None and following.corrects is None
        length = 2 if both else 1
        yield run[place : place + length]
        place += length


def _zone_named(entries: Sequence[Entry]) -> str:
    """The zone that the plant's definition among the first entries names, or the one that holds without it."""
    for entry in entries:
        if isinstance(entry, Define) and entry.what == Defined.PLANT:
            check_definition(entry.what, entry.key, entry.content)
            return facts_from(json.loads(entry.content)).zone
    return PlantFacts().zone


def _run_of(entry: Entry) -> str:
    if isinstance(entry, Count) and entry.corrects is None and entry.disputes is None:
        return "count"
    return "define" if isinstance(entry, Define) else "one"

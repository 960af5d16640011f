"""A full replay: every projection made anew from all entries, in memory, without looking at what the file keeps.

This is the plain way: whole lists, no tails.  ``prove`` compares it with the file, and tests compare any
past moment with it.
"""

from __future__ import annotations

import gc
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import datetime
from itertools import chain
from typing import NamedTuple, TypeVar

from upkeep.counting.fittings import Fitting, fittings_from
from upkeep.counting.marks import Reading, marks_from
from upkeep.counting.strokes import BEGINNING, Span, spans_of, stays_of
from upkeep.entries.entry import Recorded
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.kinds import filed, kind_of
from upkeep.entries.planning import Define
from upkeep.entries.signing import Cancel, Defer, Sign, Verify
from upkeep.keeping.definitions import Known
from upkeep.keeping.effect import without_effect
from upkeep.keeping.entry_rows import (
    deferral_row,
    fitting_row,
    happening_rows,
    reading_of,
    sign_off_row,
)
from upkeep.keeping.judging import Judge
from upkeep.keeping.lookups import LookedUp
from upkeep.keeping.recounting import move_of
from upkeep.keeping.rows.counted import configuration_at, mark_row, stay_row, still_rows
from upkeep.keeping.rows.under_way import under_way_rows
from upkeep.keeping.rows_by_kind import rows_with
from upkeep.keeping.rows_in_memory import RowsInMemory
from upkeep.keeping.standings import AS_FOUND, found_again, in_order, lifted, standing_rows, turned
from upkeep.plant.model import Kind
from upkeep.progress import Watch, nobody, watched
from upkeep.store.rows.counts import (
    COUNTER_CONFIGURATIONS,
    MADE_WHILE_STILL,
    MARKS,
    QUANTITIES,
    REWORKS,
    UNCOUNTED_STROKES,
    MarkRow,
)
from upkeep.store.rows.definitions import DEFINITIONS, WITHOUT_EFFECT, DefinitionRow, WithoutEffectRow
from upkeep.store.rows.findings import DOUBTED_PRESSES, MEASURED, OUT_OF_TOLERANCE, MeasuredRow
from upkeep.store.rows.lines import LINES
from upkeep.store.rows.places import FITTINGS, PUTS, STAYS, StayRow
from upkeep.store.rows.projections import ENTRY_TABLES
from upkeep.store.rows.signatures import (
    DEFERRALS,
    HAPPENINGS,
    SIGN_OFFS,
    STANDINGS,
    STATED,
    DeferralRow,
    SignOffRow,
    StandingRow,
)
from upkeep.store.rows.table import R, Table
from upkeep.store.rows.under_way import UNDER_WAY
from upkeep.units.instants import utc_text


class Replay(RowsInMemory):
    """All projections of a book, as rows by table."""

    def __init__(self, entries: Iterable[Recorded], watch: Watch = nobody, *, until: datetime | None = None) -> None:
        with _all_kept():
            self._play(list(entries), watch, until)

    def _play(self, entries: Sequence[Recorded], watch: Watch, until: datetime | None) -> None:
        self._lost = without_effect(entries)
        if until is not None:
            entries = [recorded for recorded in entries if recorded.entry.at <= until]
        self.known = Known(self._defined(entries))
        self._in_effect = sorted(
            (recorded for recorded in entries if recorded.id not in self._lost and self._knows(recorded)),
            key=lambda recorded: (recorded.entry.at, recorded.id),
        )
        self._entry_rows = self._all_entry_rows()
        self._configurations = _by(self._of(COUNTER_CONFIGURATIONS), lambda row: row.press)
        self._made = _by(self._of(QUANTITIES), lambda row: row.press)
        self._uncounted = _by(self._of(UNCOUNTED_STROKES), lambda row: row.item)
        self._reworks = _by(self._of(REWORKS), lambda row: row.item)
        self._puts = _by(self._of(PUTS), lambda row: row.item)
        self._stated = _by(self._of(STATED), lambda row: (row.item, row.task))
        self._marks = self._all_marks()
        self._made_while_still = [row for press in self._marks for row in still_rows(self, press)]
        self._made_while_still.sort(key=lambda row: (row.until, row.entry))
        self._fittings = self._all_fittings()
        self._stays: dict[str, list[StayRow]] = {}
        self._spans: dict[str, list[Span]] = {}
        self._all_stays()
        self._signed = self._all_sign_offs()
        self._doubts = _by(self._of(DOUBTED_PRESSES), lambda row: row.press)
        self._unlifted = self._all_unlifted()
        self._read_measured()
        self._standings = self._all_standings()
        self._deferred = self._all_deferrals()
        self._contents = self._all_contents()
        self.tables = self._tables(watch)

    def _tables(self, watch: Watch) -> dict[str, list[NamedTuple]]:
        judge = Judge(self, self.known)
        wanted = [(item, task) for item in self.known.items.values() for task in self.known.tasks_on(item)]
        lines = [judge.row(item, task) for item, task in watched(wanted, "judging", len(wanted), watch)]
        lost = [WithoutEffectRow(entry, through) for entry, through in self._lost.items()]
        fittings = [fitting_row(fitting) for of_item in self._fittings.values() for fitting in of_item]
        whole: list[tuple[Table[NamedTuple], Iterable[NamedTuple]]] = [
            (DEFINITIONS, self._definitions),
            (WITHOUT_EFFECT, lost),
            (MARKS, _flat(self._marks)),
            (MADE_WHILE_STILL, self._made_while_still),
            (FITTINGS, fittings),
            (STAYS, _flat(self._stays)),
            (SIGN_OFFS, _flat(self._signed)),
            (DEFERRALS, _flat(self._deferred)),
            (HAPPENINGS, _flat(self._happenings)),
            (STANDINGS, _flat(self._standings)),
            (UNDER_WAY, under_way_rows(self._in_effect, self._signed)),
            (LINES, lines),
            *((table, self._of(table)) for table in ENTRY_TABLES),
        ]
        return {table.name: sorted(rows, key=table.key_of) for table, rows in whole}

    def _knows(self, recorded: Recorded) -> bool:
        """Whether all items an entry names are defined; at a past moment some may not have been yet."""
        named = (getattr(recorded.entry, field, None) for field in ("item", "inside", "press"))
        return all(key is None or key in self.known.items for key in named)

    def _defined(self, entries: Sequence[Recorded]) -> list[DefinitionRow]:
        kept: dict[tuple[str, str], DefinitionRow] = {}
        for recorded in entries:
            if isinstance(recorded.entry, Define):
                key = recorded.entry.what, recorded.entry.key
                since = kept[key].since if key in kept else utc_text(recorded.entry.at)
                kept[key] = DefinitionRow(*key, recorded.entry.content, since, recorded.id)
        self._definitions = list(kept.values())
        return self._definitions

    def _all_entry_rows(self) -> dict[type[NamedTuple], list[NamedTuple]]:
        rows: dict[type[NamedTuple], list[NamedTuple]] = {table.row: [] for table in ENTRY_TABLES}
        for recorded in self._in_effect:
            for row in rows_with(recorded):
                rows[type(row)].append(row)
        return rows

    def _of(self, table: Table[R]) -> list[R]:
        """The rows of a table that come with one entry each, by moment."""
        return self._entry_rows[table.row]  # type: ignore[return-value]

    def _all_marks(self) -> dict[str, list[MarkRow]]:
        readings: dict[str, list[Reading]] = defaultdict(list)
        for recorded in self._in_effect:
            if (read := reading_of(recorded, self.known)) is not None:
                press, reading = read
                readings[press].append(reading)
        self._moments: dict[str, list[str]] = {}
        self._totals: dict[str, list[int]] = {}
        marks: dict[str, list[MarkRow]] = {}
        for press, of_press in readings.items():
            configuration = configuration_at(self.known.counter(press), self.configurations_of(press))
            rows = [mark_row(press, mark) for mark in marks_from(None, of_press, configuration)]
            marks[press] = rows
            self._moments[press] = [row.at for row in rows]
            self._totals[press] = [row.total for row in rows]
        return marks

    def _all_fittings(self) -> dict[str, list[Fitting]]:
        moves = defaultdict(list)
        for recorded in self._in_effect:
            if isinstance(recorded.entry, Fit | Unfit):
                moves[recorded.entry.item].append(move_of(recorded))
        return {item: fittings_from(sorted(of_item, key=lambda move: move.order)) for item, of_item in moves.items()}

    def _all_stays(self) -> None:
        counts = LookedUp(self, self.known.calendar)
        for item in {*self._fittings, *self._marks}:
            stays = stays_of(item, self._spans_of(item), counts.total_at)
            if stays:
                self._stays[item] = [stay_row(stay) for stay in stays]
        self._starts = {item: [row.start for row in rows] for item, rows in self._stays.items()}
        self._begun = {item: [(row.before_best, row.before_rest) for row in rows] for item, rows in self._stays.items()}

    def _spans_of(self, item: str) -> list[Span]:
        if item not in self._spans:
            if self.known.item(item).kind is Kind.PRESS:
                self._spans[item] = [Span(item, BEGINNING, None)]
            else:
                self._spans[item] = spans_of(self._fittings.get(item, ()), self._spans_of)
        return self._spans[item]

    def _all_sign_offs(self) -> dict[tuple[str, str], list[SignOffRow]]:
        verified: dict[int, Recorded] = {}
        for recorded in sorted(self._in_effect, key=lambda recorded: recorded.id):
            if isinstance(recorded.entry, Verify):
                verified.setdefault(recorded.entry.entry, recorded)
        signed: dict[tuple[str, str], list[SignOffRow]] = defaultdict(list)
        self._graded: dict[str, list[SignOffRow]] = defaultdict(list)
        self._held_out: dict[str, SignOffRow] = {}
        for recorded in self._in_effect:
            if isinstance(recorded.entry, Sign | Cancel):
                row = sign_off_row(recorded, verified.get(recorded.id))
                signed[recorded.entry.item, recorded.entry.task].append(row)
                if row.holds:
                    self._held_out[recorded.entry.item] = row
                if row.grade is not None:
                    self._graded[recorded.entry.item].append(row)
        return signed

    def _all_standings(self) -> dict[str, list[StandingRow]]:
        by_item: dict[str, list[Recorded]] = {item: [] for item in [*self._graded, *self._unlifted, *self._held_out]}
        for recorded in self._in_effect:
            if kind_of(type(recorded.entry)).standing and (item := filed(recorded.entry).item) is not None:
                by_item.setdefault(item, []).append(recorded)
        self._happenings = {item: happening_rows(item, entries) for item, entries in by_item.items()}
        return {
            item: standing_rows(
                item,
                entries,
                self.last_graded(item),
                self.last_graded(item, 4),
                self._unlifted.get(item, []),
                self._held_out.get(item),
            )
            for item, entries in by_item.items()
        }

    def _read_measured(self) -> None:
        """What was measured last and with which gauge, and what turned bad with its gauge."""
        read = sorted((row for row in self._of(MEASURED) if row.readings), key=lambda row: (row.at, row.entry))
        self._measured = {(row.item, row.point): row for row in read}
        self._checked = {(row.item, row.point): row for row in read if row.occasion is not None}
        with_gauge = [row for row in self._of(MEASURED) if row.gauge is not None]
        self._by_gauge = _by(with_gauge, lambda row: (row.item, row.gauge or ""))
        out = sorted(self._of(OUT_OF_TOLERANCE), key=lambda row: (row.at, row.entry))
        self._out = _by(out, lambda row: row.gauge)
        numbered = {recorded.id: recorded for recorded in self._in_effect} if out else {}
        for item in {item for item, gauge in self._by_gauge if gauge in self._out}:
            if bad := turned(self, numbered.get, self.known, item):
                self._unlifted[item] = in_order([*self._unlifted.get(item, []), *bad])

    def _all_unlifted(self) -> dict[str, list[MeasuredRow]]:
        good: dict[tuple[str, str], list[MeasuredRow]] = defaultdict(list)
        measured = self._of(MEASURED)
        for row in (row for row in measured if row.good == 1):
            good[row.item, row.point].append(row)
        by_item: dict[str, list[MeasuredRow]] = defaultdict(list)
        before: dict[tuple[str, str], MeasuredRow] = {}
        for row in sorted(measured, key=lambda row: (row.at, row.entry)):
            marked = found_again(row, before.get((row.item, row.point)))
            if row.occasion == AS_FOUND:
                before[row.item, row.point] = row
            if row.good == 0 and not lifted(marked, good[row.item, row.point]):
                by_item[row.item].append(marked)
        return by_item

    def _all_deferrals(self) -> dict[tuple[str, str], list[DeferralRow]]:
        deferrals: dict[tuple[str, str], list[DeferralRow]] = defaultdict(list)
        for recorded in self._in_effect:
            if isinstance(recorded.entry, Defer):
                deferrals[recorded.entry.item, recorded.entry.task].append(deferral_row(recorded))
        return deferrals

    def _all_contents(self) -> dict[str, list[Fitting]]:
        contents: dict[str, list[Fitting]] = defaultdict(list)
        for fittings in self._fittings.values():
            for fitting in fittings:
                contents[fitting.inside].append(fitting)
        return contents


@contextmanager
def _all_kept() -> Iterator[None]:
    """Work whose objects are all kept: looking for unused ones among them would cost a tenth and find none."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


K = TypeVar("K")


def _by(rows: Iterable[R], key: Callable[[R], K]) -> dict[K, list[R]]:
    """Rows by what they belong to, in the order they came in."""
    groups: dict[K, list[R]] = defaultdict(list)
    for row in rows:
        groups[key(row)].append(row)
    return groups


def _flat(rows: Mapping[K, Iterable[R]]) -> Iterable[R]:
    return chain.from_iterable(rows.values())

"""A full replay: every projection made anew from all entries, in memory, without looking at what the file keeps.

This is the plain way: whole lists, no tails.  ``prove`` compares it with the file; a view of the past is a replay of
the entries up to then.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Sequence
from operator import itemgetter

from upkeep.book.effect import without_effect
from upkeep.book.found_rows import AS_FOUND, found_again, lifted
from upkeep.book.judging import Judge
from upkeep.book.known import Known
from upkeep.book.lookups import LookedUp, Row, mark_row, stay_row, terms_at
from upkeep.book.recounting import move_of
from upkeep.book.rows import (
    STANDING_KINDS,
    deferral_row,
    fitting_row,
    happening_rows,
    reading_of,
    sign_off_row,
    standing_rows,
    told_rows,
)
from upkeep.counting.fittings import Fitting, fittings_from
from upkeep.counting.marks import Reading, marks_from
from upkeep.counting.strokes import BEGINNING, Span, spans_of, stays_of
from upkeep.entries.kinds import (
    Cancel,
    Defer,
    Define,
    Fit,
    Recorded,
    Sign,
    Unfit,
    Verify,
)  # fmt: skip
from upkeep.plant.model import Kind
from upkeep.store.remaking import Watch, nobody, watched
from upkeep.store.told import TOLD
from upkeep.units.instants import utc_text


class Replay:
    """All projections of a book, as rows by table; fulfils :class:`upkeep.book.lookups.Rows`."""

    def __init__(self, entries: Iterable[Recorded], watch: Watch = nobody) -> None:
        entries = list(entries)
        self._lost = without_effect(entries)
        self.known = Known(self._defined(entries))
        self._in_effect = sorted(
            (one for one in entries if one.id not in self._lost and self._knows(one)),
            key=lambda one: (one.entry.at, one.id),
        )
        self._told = self._all_told()
        self._marks = self._all_marks()
        self._fittings = self._all_fittings()
        self._stays: dict[str, list[Row]] = {}
        self._spans: dict[str, list[Span]] = {}
        self._all_stays()
        self._signed = self._all_sign_offs()
        self._unlifted = self._all_unlifted()
        self._standings = self._all_standings()
        self._deferred = self._all_deferrals()
        self._contents = self._all_contents()
        self.tables = self._tables(watch)

    def _tables(self, watch: Watch) -> dict[str, list[Row]]:
        judge = Judge(self, self.known)
        wanted = [(item, task) for item in self.known.items.values() for task in self.known.tasks_on(item)]
        lines = [judge.row(item, task) for item, task in watched(wanted, "judging", len(wanted), watch)]
        return {
            "definitions": sorted(self._definitions, key=itemgetter(0, 1)),
            "without_effect": sorted(self._lost.items()),
            "marks": _flat(self._marks),
            **self._told,
            "fittings": _flat({k: [fitting_row(f) for f in fittings] for k, fittings in self._fittings.items()}),
            "stays": _flat(self._stays),
            "sign_offs": _flat(self._signed),
            "deferrals": _flat(self._deferred),
            "happenings": _flat(self._happenings),
            "standings": _flat(self._standings),
            "lines": sorted(lines, key=itemgetter(0)),
        }

    def _knows(self, one: Recorded) -> bool:
        """Whether all items an entry names are defined; at a past moment some may not have been yet."""
        named = (getattr(one.entry, field, None) for field in ("item", "inside", "press"))
        return all(key is None or key in self.known.items for key in named)

    def _defined(self, entries: Sequence[Recorded]) -> list[Row]:
        kept: dict[tuple[str, str], Row] = {}
        for one in entries:
            if isinstance(one.entry, Define):
                key = one.entry.what, one.entry.key
                since = kept[key][3] if key in kept else utc_text(one.entry.at)
                kept[key] = (*key, one.entry.content, since, one.id)
        self._definitions = list(kept.values())
        return self._definitions

    def _all_told(self) -> dict[str, list[Row]]:
        told: dict[str, list[Row]] = {table: [] for table in TOLD}
        for one in self._in_effect:
            for table, row in told_rows(one):
                told[table].append(row)
        self._of_key: dict[tuple[str, str], list[Row]] = defaultdict(list)
        for table in ("terms", "made", "besides", "reworks", "stated"):
            for row in told[table]:
                self._of_key[table, row[0]].append(row)
        return told

    def _all_marks(self) -> dict[str, list[Row]]:
        readings: dict[str, list[Reading]] = defaultdict(list)
        for one in self._in_effect:
            if (read := reading_of(one, self.known)) is not None:
                readings[read[0]].append(read[1])
        self._moments: dict[str, list[str]] = {}
        self._totals: dict[str, list[int]] = {}
        marks: dict[str, list[Row]] = {}
        for press, found in readings.items():
            terms = terms_at(self.known.counter(press), self.terms_of(press))
            rows = [mark_row(press, mark) for mark in marks_from(None, found, terms)]
            marks[press] = rows
            self._moments[press] = [row[1] for row in rows]
            self._totals[press] = [row[-1] for row in rows]
        return marks

    def _all_fittings(self) -> dict[str, list[Fitting]]:
        moves = defaultdict(list)
        for one in self._in_effect:
            if isinstance(one.entry, Fit | Unfit):
                moves[one.entry.item].append(move_of(one))
        return {item: fittings_from(sorted(found, key=lambda move: move.order)) for item, found in moves.items()}

    def _all_stays(self) -> None:
        counts = LookedUp(self, self.known.calendar)
        for item in {*self._fittings, *self._marks}:
            stays = stays_of(item, self._spans_of(item), counts.total_at)
            if stays:
                self._stays[item] = [stay_row(stay) for stay in stays]
        self._starts = {item: [row[1] for row in rows] for item, rows in self._stays.items()}
        self._begun = {item: [row[11] for row in rows] for item, rows in self._stays.items()}

    def _spans_of(self, item: str) -> list[Span]:
        if item not in self._spans:
            if self.known.item(item).kind is Kind.PRESS:
                self._spans[item] = [Span(item, BEGINNING, None)]
            else:
                self._spans[item] = spans_of(self._fittings.get(item, ()), self._spans_of)
        return self._spans[item]

    def _all_sign_offs(self) -> dict[tuple[str, str], list[Row]]:
        verified: dict[int, Recorded] = {}
        for one in sorted(self._in_effect, key=lambda one: one.id):
            if isinstance(one.entry, Verify):
                verified.setdefault(one.entry.entry, one)
        signed: dict[tuple[str, str], list[Row]] = defaultdict(list)
        self._graded: dict[str, list[Row]] = defaultdict(list)
        for one in self._in_effect:
            if isinstance(one.entry, Sign | Cancel):
                row = sign_off_row(one, verified.get(one.id))
                signed[one.entry.item, one.entry.task].append(row)
                if row[6] is not None:
                    self._graded[one.entry.item].append(row)
        return signed

    def _all_standings(self) -> dict[str, list[Row]]:
        told: dict[str, list[Recorded]] = {item: [] for item in [*self._graded, *self._unlifted]}
        for one in self._in_effect:
            if isinstance(one.entry, STANDING_KINDS):
                told.setdefault(one.entry.item, []).append(one)
        self._happenings = {item: happening_rows(item, entries) for item, entries in told.items()}
        return {
            item: standing_rows(
                item, entries, self.last_graded(item), self.last_graded(item, 4), self._unlifted.get(item, [])
            )
            for item, entries in told.items()
        }

    def _all_unlifted(self) -> dict[str, list[Row]]:
        good: dict[tuple[str, str], list[Row]] = defaultdict(list)
        for row in (row for row in self._told["measured"] if row[5] == 1):
            good[row[0], row[1]].append(row)
        found: dict[str, list[Row]] = defaultdict(list)
        before: dict[tuple[str, str], Row] = {}
        for row in sorted(self._told["measured"], key=itemgetter(2, 3)):
            marked = found_again(row, before.get((row[0], row[1])))
            if row[6] == AS_FOUND:
                before[row[0], row[1]] = row
            if row[5] == 0 and not lifted(marked, good[row[0], row[1]]):
                found[row[0]].append(marked)
        return found

    def _all_deferrals(self) -> dict[tuple[str, str], list[Row]]:
        deferrals: dict[tuple[str, str], list[Row]] = defaultdict(list)
        for one in self._in_effect:
            if isinstance(one.entry, Defer):
                deferrals[one.entry.item, one.entry.task].append(deferral_row(one))
        return deferrals

    def _all_contents(self) -> dict[str, list[Fitting]]:
        contents: dict[str, list[Fitting]] = defaultdict(list)
        for fittings in self._fittings.values():
            for fitting in fittings:
                contents[fitting.inside].append(fitting)
        return contents

    # The questions a judge asks

    def mark_at(self, press: str, at: str) -> Row | None:
        """The last mark of a press at or before a moment."""
        return self._mark(press, bisect_right(self._moments.get(press, ()), at) - 1)

    def mark_before(self, press: str, at: str) -> Row | None:
        """The last mark of a press before a moment."""
        return self._mark(press, bisect_left(self._moments.get(press, ()), at) - 1)

    def mark_after(self, press: str, at: str) -> Row | None:
        """The first mark of a press after a moment."""
        return self._mark(press, bisect_right(self._moments.get(press, ()), at))

    def last_mark(self, press: str) -> Row | None:
        """The latest mark of a press."""
        return self._mark(press, len(self._moments.get(press, ())) - 1)

    def mark_reaching(self, press: str, total: int) -> Row | None:
        """The first mark of a press at or over a running total."""
        return self._mark(press, bisect_left(self._totals.get(press, ()), total))

    def _mark(self, press: str, position: int) -> Row | None:
        marks = self._marks.get(press, ())
        return marks[position] if 0 <= position < len(marks) else None

    def stay_from(self, item: str, at: str) -> Row | None:
        """The last stay of an item that starts at or before a moment."""
        return self._stay(item, bisect_right(self._starts.get(item, ()), at) - 1)

    def stay_after(self, item: str, at: str) -> Row | None:
        """The first stay of an item that starts after a moment."""
        return self._stay(item, bisect_right(self._starts.get(item, ()), at))

    def stay_with(self, item: str, strokes: int) -> Row | None:
        """The last stay of an item that began with fewer strokes than a number."""
        return self._stay(item, bisect_left(self._begun.get(item, ()), strokes) - 1)

    def _stay(self, item: str, position: int) -> Row | None:
        stays = self._stays.get(item, ())
        return stays[position] if 0 <= position < len(stays) else None

    def last_sign_offs(self, item: str, task: str, how: str, limit: int) -> list[Row]:
        """The latest sign-offs ("done") or cancellations ("cancelled") that answer an occurrence, newest first."""
        answering = [row for row in self._signed.get((item, task), ()) if row[5] != "extra" and row[7] == how]
        return answering[::-1][:limit]

    def last_graded(self, item: str, least: int = 0) -> Row | None:
        """The latest sign-off of an item with at least a grade."""
        found = [row for row in self._graded.get(item, ()) if row[6] >= least]
        return found[-1] if found else None

    def terms_of(self, press: str) -> list[Row]:
        """The terms of a counter, in order."""
        return self._of_key["terms", press]

    def made_over(self, press: str, start: str, end: str) -> list[Row]:
        """The quantities made on a press over a span that they share time with."""
        return sorted(
            (row for row in self._of_key["made", press] if row[2] > start and row[1] < end), key=itemgetter(1, 6)
        )

    def besides_between(self, item: str, start: str, end: str) -> int:
        """Strokes besides the counter over [start, end)."""
        return sum(row[2] for row in self._of_key["besides", item] if start <= row[1] < end)

    def besides_from(self, item: str, start: str) -> list[Row]:
        """Strokes besides the counter from a moment on, in order."""
        return [row for row in self._of_key["besides", item] if row[1] >= start]

    def last_rework(self, item: str) -> Row | None:
        """The latest rework of a part with its number."""
        found = self._of_key["reworks", item]
        return (*found[-1], len(found)) if found else None

    def last_stated(self, item: str, task: str) -> Row | None:
        """What was last stated about a line."""
        found = [row for row in self._of_key["stated", item] if row[1] == task]
        return found[-1] if found else None

    def deferrals_of(self, item: str, task: str) -> list[Row]:
        """The deferrals of a line, in order."""
        return self._deferred.get((item, task), [])

    def last_happening(self, item: str, what: str, before: str) -> Row | None:
        """The latest event of a kind on an item before a moment."""
        found = [row for row in self._happenings.get(item, ()) if row[1] == what and row[2] < before]
        return found[-1] if found else None

    def last_change_in(self, inside: str) -> tuple[str, int] | None:
        """The latest moment at which something went into or out of an item, with the entry."""
        changes = [(utc_text(one.start), one.started_by) for one in self._contents.get(inside, ())]
        changes += [
            (utc_text(one.end), one.ended_by) for one in self._contents.get(inside, ()) if one.end and one.ended_by
        ]
        return max(changes, default=None)

    def inside_now(self, inside: str) -> list[tuple[str, str]]:
        """What sits in an item now, and since when."""
        return [(one.item, utc_text(one.start)) for one in self._contents.get(inside, ()) if one.end is None]

    def stays_of(self, item: str, from_end: str = "") -> list[Row]:
        """The stays of an item that have not ended before a moment, in order."""
        return [row for row in self._stays.get(item, ()) if row[3] is None or row[3] >= from_end]

    def standings_of(self, item: str) -> list[Row]:
        """The hold and pause in force on an item."""
        return self._standings.get(item, [])

    def last_fitting(self, item: str) -> Row | None:
        """The latest fitting of an item, ended or not."""
        fittings = self._fittings.get(item)
        return fitting_row(fittings[-1]) if fittings else None


def _flat(rows: dict[str, list[Row]] | dict[tuple[str, str], list[Row]]) -> list[Row]:
    return sorted((row for found in rows.values() for row in found), key=itemgetter(0, 1, 2))

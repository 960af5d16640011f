"""Rows of projections in memory, whole lists of them, and the questions a judge asks of them."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping
from datetime import timedelta

from upkeep.counting.fittings import Fitting
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.standing import Closing
from upkeep.keeping.entry_rows import fitting_row
from upkeep.store.rows.counts import (
    CounterConfigurationRow,
    LastRework,
    MadeWhileStillRow,
    MarkRow,
    QuantityRow,
    ReworkRow,
    UncountedRow,
)
from upkeep.store.rows.definitions import Moment
from upkeep.store.rows.findings import DoubtedPressRow, MeasuredRow, OutOfToleranceRow
from upkeep.store.rows.places import Content, FittingRow, PutRow, StayRow
from upkeep.store.rows.signatures import DeferralRow, HappeningRow, SignOffRow, StandingRow, StatedRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text


class RowsInMemory:
    """Answers from lists in order of time, by what they belong to; fulfils :class:`upkeep.keeping.lookups.Rows`.

    Whoever makes it fills the lists.  ``_moments`` and ``_totals`` are those of the marks, ``_starts`` and ``_begun``
    the starts of the stays and the strokes done before them; ``_contents`` are fittings by what was fitted into.
    """

    _configurations: Mapping[str, list[CounterConfigurationRow]]
    _made: Mapping[str, list[QuantityRow]]
    _made_while_still: list[MadeWhileStillRow]
    _uncounted: Mapping[str, list[UncountedRow]]
    _reworks: Mapping[str, list[ReworkRow]]
    _puts: Mapping[str, list[PutRow]]
    _stated: Mapping[tuple[str, str], list[StatedRow]]
    _marks: Mapping[str, list[MarkRow]]
    _moments: Mapping[str, list[str]]
    _totals: Mapping[str, list[int]]
    _fittings: Mapping[str, list[Fitting]]
    _contents: Mapping[str, list[Fitting]]
    _stays: dict[str, list[StayRow]]
    _starts: Mapping[str, list[str]]
    _begun: Mapping[str, list[tuple[int, int]]]
    _signed: Mapping[tuple[str, str], list[SignOffRow]]
    _graded: Mapping[str, list[SignOffRow]]
    _deferred: Mapping[tuple[str, str], list[DeferralRow]]
    _happenings: Mapping[str, list[HappeningRow]]
    _standings: Mapping[str, list[StandingRow]]
    _measured: Mapping[tuple[str, str], MeasuredRow]
    _checked: Mapping[tuple[str, str], MeasuredRow]
    _by_gauge: Mapping[tuple[str, str], list[MeasuredRow]]
    _out: Mapping[str, list[OutOfToleranceRow]]
    _doubts: Mapping[str, list[DoubtedPressRow]]

    def mark_at(self, press: str, at: str) -> MarkRow | None:
        """The last mark of a press at or before a moment; None where it was not counted by then."""
        return self._mark(press, bisect_right(self._moments.get(press, ()), at) - 1)

    def mark_before(self, press: str, at: str) -> MarkRow | None:
        """The last mark of a press before a moment; None where it was not counted before."""
        return self._mark(press, bisect_left(self._moments.get(press, ()), at) - 1)

    def mark_after(self, press: str, at: str) -> MarkRow | None:
        """The first mark of a press after a moment; None where it was not counted since."""
        return self._mark(press, bisect_right(self._moments.get(press, ()), at))

    def last_mark(self, press: str) -> MarkRow | None:
        """The latest mark of a press; None where it was never counted."""
        return self._mark(press, len(self._moments.get(press, ())) - 1)

    def mark_reaching(self, press: str, total: int) -> MarkRow | None:
        """The first mark of a press at or over a running total of strokes; None where it has not come so far."""
        return self._mark(press, bisect_left(self._totals.get(press, ()), total))

    def _mark(self, press: str, position: int) -> MarkRow | None:
        marks = self._marks.get(press, ())
        return marks[position] if 0 <= position < len(marks) else None

    def stay_from(self, item: str, at: str) -> StayRow | None:
        """The last stay of an item that starts at or before a moment."""
        return self._stay(item, bisect_right(self._starts.get(item, ()), at) - 1)

    def last_stay(self, item: str) -> StayRow | None:
        """The latest stay of an item on a press, ended or not; None where it never was on one."""
        return self._stay(item, len(self._starts.get(item, ())) - 1)

    def stay_after(self, item: str, at: str) -> StayRow | None:
        """The first stay of an item on a press that starts after a moment; None where it went on none since."""
        return self._stay(item, bisect_right(self._starts.get(item, ()), at))

    def first_change_on(self, press: str, since: str, until: str) -> str | None:
        """The first moment over [since, until] at which something came onto a press or left it; None: nothing did."""
        stays = (row for rows in self._stays.values() for row in rows if row.press == press != row.item)
        edges = (edge for row in stays for edge in (row.start, row.until) if edge is not None)
        return min((edge for edge in edges if since <= edge <= until), default=None)

    def stay_with(self, item: str, strokes: int, rest: int = 0) -> StayRow | None:
        """The last stay of an item that began with fewer strokes than a number and a rest in billionths."""
        return self._stay(item, bisect_left(self._begun.get(item, ()), (strokes, rest)) - 1)

    def _stay(self, item: str, position: int) -> StayRow | None:
        stays = self._stays.get(item, ())
        return stays[position] if 0 <= position < len(stays) else None

    def shared_across(self, item: str, start: str, end: str) -> int:
        """The strokes that stays of an item which start over (start, end] share with stays from before ``start``."""
        over = self._stays.get(item, ())
        return sum(row.shared for row in over if start < row.start <= end and (row.shared_with or "~") < start)

    def last_sign_offs(self, item: str, task: str, how: str, limit: int) -> list[SignOffRow]:
        """The latest sign-offs ("done") or cancellations ("cancelled") that answer an occurrence, newest first."""
        answering = [row for row in self._signed.get((item, task), ()) if row.occurrence != EXTRA and row.how == how]
        return answering[::-1][:limit]

    def last_graded(self, item: str, least: int = 0) -> SignOffRow | None:
        """The latest sign-off of an item with at least a grade (0 as new to 4 out); None where none was as bad."""
        graded = [row for row in self._graded.get(item, ()) if row.grade is not None and row.grade >= least]
        return graded[-1] if graded else None

    def configurations_of(self, press: str) -> list[CounterConfigurationRow]:
        """How a counter was said to count, oldest first; empty where only its definition says so."""
        return self._configurations.get(press, [])

    def quantities_over(self, press: str, start: str, end: str) -> list[QuantityRow]:
        """The quantities made on a press over a span that they share time with."""
        over = (row for row in self._made.get(press, ()) if row.until > start and row.since < end)
        return sorted(over, key=lambda row: (row.since, row.entry))

    def quantities_after(self, press: str, at: str) -> list[QuantityRow]:
        """The quantities made on a press that were finished after a moment, in the order in which they were."""
        return sorted(
            (row for row in self._made.get(press, ()) if row.until > at), key=lambda row: (row.until, row.entry)
        )

    def made_while_still(self, after: str = "") -> list[MadeWhileStillRow]:
        """The pieces made while counters stood still and finished after a moment."""
        return [row for row in self._made_while_still if row.until > after]

    def marks_in_doubt(self, after: str) -> list[MarkRow]:
        """The marks of all presses after a moment that end a step whose strokes had to be guessed."""
        doubted = (row for rows in self._marks.values() for row in rows if row.doubt is not None and row.at > after)
        return sorted(doubted, key=lambda row: (row.at, row.press, row.entry))

    def uncounted_between(self, item: str, start: str, end: str) -> int:
        """Strokes of an item that no press counter shows, from ``start`` to before ``end`` (UTC texts), weighted."""
        return sum(row.strokes for row in self._uncounted.get(item, ()) if start <= row.at < end)

    def has_uncounted(self, item: str) -> bool:
        """Whether an item has any uncounted strokes."""
        return bool(self._uncounted.get(item))

    def uncounted_from(self, item: str, start: str) -> list[UncountedRow]:
        """Uncounted strokes from a moment on, in order."""
        return [row for row in self._uncounted.get(item, ()) if row.at >= start]

    def last_rework(self, item: str) -> LastRework | None:
        """The latest rework of a part, with how many it has had; None where it was never reworked."""
        reworks = self._reworks.get(item)
        return LastRework(*reworks[-1], times=len(reworks)) if reworks else None

    def last_put(self, item: str) -> PutRow | None:
        """Where an item was put last while it sat in nothing; None where nobody said."""
        puts = self._puts.get(item)
        return puts[-1] if puts else None

    def last_stated(self, item: str, task: str) -> StatedRow | None:
        """What was last stated about a line; None where nobody stated anything."""
        stated = self._stated.get((item, task))
        return stated[-1] if stated else None

    def deferrals_of(self, item: str, task: str) -> list[DeferralRow]:
        """The deferrals of a line in effect, by when they were decided."""
        return self._deferred.get((item, task), [])

    def last_happening(self, item: str, what: str, before: str) -> HappeningRow | None:
        """The latest event of a kind on an item before a moment; None where there was none."""
        happened = [row for row in self._happenings.get(item, ()) if row.what == what and row.at < before]
        return happened[-1] if happened else None

    def last_change_in(self, inside: str) -> Moment | None:
        """The latest moment at which something went into or out of an item, with the entry."""
        changes = [Moment(utc_text(fitting.start), fitting.started_by) for fitting in self._contents.get(inside, ())]
        changes += [
            Moment(utc_text(fitting.end), fitting.ended_by)
            for fitting in self._contents.get(inside, ())
            if fitting.end and fitting.ended_by
        ]
        return max(changes, default=None)

    def inside_now(self, inside: str) -> list[Content]:
        """What sits in an item now, and since when."""
        return [
            Content(fitting.item, utc_text(fitting.start))
            for fitting in self._contents.get(inside, ())
            if fitting.end is None
        ]

    def stays_of(self, item: str, from_end: str = "") -> list[StayRow]:
        """The stays of an item that have not ended before a moment, in order."""
        return [row for row in self._stays.get(item, ()) if row.until is None or row.until >= from_end]

    def standings_of(self, item: str) -> list[StandingRow]:
        """The hold and pause in force on an item."""
        return self._standings.get(item, [])

    def last_fitting(self, item: str) -> FittingRow | None:
        """The latest fitting of an item, ended or not; None where it never sat in anything."""
        fittings = self._fittings.get(item)
        return fitting_row(fittings[-1]) if fittings else None

    def fittings_of(self, item: str, ending_after: str = "") -> list[FittingRow]:
        """The fittings of an item that have not ended by a moment, in order."""
        rows = map(fitting_row, self._fittings.get(item, ()))
        return [row for row in rows if row.until is None or row.until > ending_after]

    def came_after_rest(self, item: str, since: str, days: int) -> str | None:
        """When an item last came onto a press after so many days or more on none since a moment; None: never."""
        left, came = from_utc_text(since), None
        for row in self._stays.get(item, ()):
            if row.until is None or row.until > since:
                came = row.start if from_utc_text(row.start) - left >= timedelta(days=days) else came
                left = NEVER if row.until is None else from_utc_text(row.until)
        return came

    def last_measured(self, item: str, point: str) -> MeasuredRow | None:
        """The latest readings of a characteristic on an item, asked for or not; None where there are none."""
        return self._measured.get((item, point))

    def done_before(self, item: str, task: str, at: str, entry: int) -> Iterator[SignOffRow]:
        """The sign-offs of a line before one moment and entry, newest first, extras among them."""
        rows = self._signed.get((item, task), ())
        return (row for row in rows[::-1] if row.how == Closing.DONE and (row.at, row.entry) < (at, entry))

    def all_out_of_tolerance(self) -> list[OutOfToleranceRow]:
        """When any gauge was found to read wrong, in order."""
        return sorted((row for rows in self._out.values() for row in rows), key=lambda row: (row.at, row.entry))

    def points_measured(self, item: str, gauge: str, start: str, end: str) -> list[str]:
        """The characteristics of an item measured with a gauge over [start, end], by id."""
        rows = self._by_gauge.get((item, gauge), ())
        return sorted({row.point for row in rows if start <= row.at <= end})

    def last_checked(self, item: str, point: str) -> MeasuredRow | None:
        """The latest readings of a characteristic in checks of an item; None where there are none."""
        return self._checked.get((item, point))

    def doubts_of(self, press: str) -> list[DoubtedPressRow]:
        """When measured points said that a press is at fault, in order."""
        return self._doubts.get(press, [])

    def out_of_tolerance(self, gauge: str) -> list[OutOfToleranceRow]:
        """When a gauge was found to read wrong, in order."""
        return self._out.get(gauge, [])

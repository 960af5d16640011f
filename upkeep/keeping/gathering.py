"""Gathering what a line stands on: its last sign-offs, covering work, events, deferrals, holds - from rows to facts."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta

from upkeep.counting.strokes import BEGINNING, Counts, strokes_between
from upkeep.due.facts import (
    LOST_RECORD,
    OUT_OF_LIMITS,
    PRESS_IN_DOUBT,
    Deferral,
    Done,
    Finding,
    FirstTime,
    Happening,
    How,
    LineFacts,
    Reworked,
    names_strokes,
    not_told_by_a_word,
)
from upkeep.due.rests import ran_since
from upkeep.due.usage import stroke_interval
from upkeep.entries.occurrences import OfShift, occurrence_of
from upkeep.entries.standing import Closing, Standing
from upkeep.keeping.definitions import Known
from upkeep.keeping.limits_in_force import GAUGE_FOUND_OUT, last_vouched
from upkeep.keeping.lookups import unknown_since
from upkeep.keeping.rows.asked import Rows
from upkeep.keeping.rows.doubted_presses import measures_shut_height, open_doubt
from upkeep.plant.model import FITS_IN, Event, Item, Kind, Task
from upkeep.store.rows.places import FittingRow
from upkeep.store.rows.signatures import HappeningRow, SignOffRow, StandingRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.units.recurrence import interval_after

_NO_END = utc_text(NEVER)
"""Where something has no end."""

_LAST_TWO, _RECENT, _LONG_AGO = 2, 8, 400
"""How many sign-offs of a line are looked at: some where planned days, shifts or bigger work are answered by them, more
where the strokes keep a clock of their own or some may still wait for their second signature."""


class Gatherer:
    """Gathers facts of lines from rows of projections."""

    def __init__(self, rows: Rows, known: Known, counts: Counts, until: datetime = NEVER) -> None:
        self._rows, self._known, self._counts, self._until = rows, known, counts, until

    def facts(self, item: Item, task: Task, press: str | None) -> LineFacts:
        """What the line of a task on an item stands on; ``press`` is the one it hangs on now."""
        done = self._rows.last_sign_offs(item.id, task.id, Closing.DONE, looked_at(self._known, task))
        counted = [row for row in done if task.second_signature is None or row.verified_by is not None]
        waiting = done[0] if done and (not counted or counted[0] is not done[0]) else None
        cancelled = self._rows.last_sign_offs(item.id, task.id, Closing.CANCELLED, _RECENT)
        works = self._times_done(item, task, [done_from(row) for row in counted[:_RECENT]])
        last = works[0] if works else None
        standings = {row.what: row for row in self._rows.standings_of(item.id)}
        hold, pause = standings.get(Standing.HOLD), self._pause(item, standings.get(Standing.PAUSE))
        lies = pause is None and press is None and task.every is not None and item.kind in FITS_IN
        rests = task.while_resting and (pause is not None or lies)
        left = self._lies_since(item) if rests and lies else None
        finding = self._finding(item, task)
        part = self._shortest_lived(item) if task.life else None
        unknown = unknown_since(self._rows, part.id) if part else None
        return LineFacts(
            task=task,
            item=item,
            since=self._known.since[item.id],
            works=works,
            gap_days=self._gap(task, counted[:2]) if last and last.how is How.SIGNED else None,
            stated=self._stated(item, task) if last is None else None,
            first_time=self._first_time(item, task, cancelled) if last is None else None,
            cancelled=tuple(done_from(row, How.CANCELLED) for row in cancelled),
            usage_done=next((done_from(row) for row in counted if names_strokes(row.occurrence)), None),
            unverified=waiting.entry if waiting else None,
            finding=finding,
            happening=self._happening(item, task, last, counted[0] if counted else None),
            part=part,
            rework=self._rework(part) if part else None,
            unknown_life=unknown.entry if unknown else None,
            deferrals=self._deferrals(item, task),
            hold=self._known.reason_of(hold) if hold else None,
            pause=pause.reason if pause else None,
            rests=rests,
            rests_since=left or (from_utc_text(pause.since) if pause and rests else None),
            lain_by=left + timedelta(days=self._known.facts.rest_days) if left else None,
            opens_at_once=last is None and self._never_calibrated(item, task),
            fitted=press is not None,
            press=press,
            share=self._known.share_of(item) if task.spread else 1.0,
        )

    def _pause(self, item: Item, pause: StandingRow | None) -> StandingRow | None:
        """The pause in force: an item that runs all the same rests no more, and its lines speak."""
        if pause is None or ran_since(self._counts, item.id, from_utc_text(pause.since), self._until) is not None:
            return None
        return pause

    def _lies_since(self, item: Item) -> datetime:
        """Since when an item hangs on no press: off its last one, brought back from storage, or come into the book."""
        stay = self._counts.stay_from(item.id, NEVER)
        back = self._rows.last_happening(item.id, Event.STORAGE, _NO_END)
        left = stay.end if stay is not None and stay.end is not None else self._known.since[item.id]
        return max(left, from_utc_text(back.at)) if back is not None else left

    def _never_calibrated(self, item: Item, task: Task) -> bool:
        """Whether a task would calibrate a gauge for the first time, so far as anybody knows."""
        return item.kind is Kind.GAUGE and task == self._known.calibration and self._stated(item, task) is None

    def _gap(self, task: Task, newest: list[SignOffRow]) -> int | None:
        if len(newest) < 2 or not (task.every or task.rule):
            return None
        last, before = (self._known.zone.day(from_utc_text(row.at)) for row in newest)
        return (last - before).days

    def _stated(self, item: Item, task: Task) -> Done | None:
        row = self._rows.last_stated(item.id, task.id)
        if row is None or not row.done:
            return None
        return Done(self._known.zone.start_of(date.fromisoformat(row.done)), row.by, "", None, row.entry, How.STATED)

    def _first_time(self, item: Item, task: Task, cancelled: Sequence[SignOffRow]) -> FirstTime | None:
        """The day planned for the first time of work in this book, if that was not cancelled."""
        row = self._rows.last_stated(item.id, task.id)
        if row is None or not row.first or any(off.occurrence == row.first for off in cancelled):
            return None
        return FirstTime(date.fromisoformat(row.first), row.entry, bool(row.done))

    def _times_done(self, item: Item, task: Task, own: list[Done]) -> tuple[Done, ...]:
        """The last times the work was done, newest first: by itself, or with bigger work declared to cover it.

        Bigger work covers it where it fell due by then, or within the days that were declared.
        """
        since = own[-1].at if len(own) >= _RECENT else self._known.since[item.id]
        works = (self._works(item, task, key, days) for key, days in self._known.covering(task).items())
        bigger = [done for times in works for done in times if done.at >= since]
        if not bigger:
            return tuple(own)
        times: list[Done] = []
        for work in sorted([*own, *bigger], key=lambda done: (done.at, done.entry)):
            if work.how is How.SIGNED or self._falls_due(item, task, times[-1] if times else None, work):
                times.append(work)
        return tuple(times[::-1])

    def _works(self, item: Item, task: Task, key: str, days: int) -> Iterator[Done]:
        bigger = self._known.tasks[key]
        for row in self._rows.last_sign_offs(item.id, bigger.id, Closing.DONE, _LONG_AGO):
            if bigger.second_signature is None or row.verified_by is not None:
                yield covered_from(row, task, days)

    def _falls_due(self, item: Item, task: Task, last: Done | None, work: Done) -> bool:
        """Whether a floating task falls due by the days that bigger work reaches ahead."""
        if task.every is None:
            return True
        before = last or (None if not_told_by_a_word(task) else self._stated(item, task))
        start = self._known.zone.day(before.at if before else self._known.since[item.id])
        return interval_after(start, task.every) <= self._known.zone.day(work.at) + timedelta(days=work.reach)

    def _shortest_lived(self, item: Item) -> Item | None:
        """The part whose life decides: the item itself, or of what it contains the one with least life left."""
        if item.life is not None:
            return item
        inside = [self._known.items[content.item] for content in self._rows.inside_now(item.id)]
        left = {part.id: self._life_left(part) for part in inside if part.life is not None}
        return min(
            (part for part in inside if part.id in left), key=lambda part: (left[part.id], part.id), default=None
        )

    def _life_left(self, part: Item) -> int:
        if unknown_since(self._rows, part.id) is not None:
            return 0
        rework = self._rework(part)
        start, allowed = (rework.at, rework.granted) if rework else (BEGINNING, part.life or 0)
        return allowed - strokes_between(self._counts, part.id, start, NEVER).high

    def _rework(self, item: Item) -> Reworked | None:
        row = self._rows.last_rework(item.id)
        return Reworked(from_utc_text(row.at), row.granted, row.entry, row.times) if row else None

    def _finding(self, item: Item, task: Task) -> Finding | None:
        """The last inspection graded badly enough, or the last measurement beyond a warning limit, it waits for."""
        graded = None if task.after_grade is None else self._rows.last_graded(item.id, task.after_grade)
        findings = [Finding(from_utc_text(graded.at), graded.entry, grade=graded.grade)] if graded else []
        for other in self._known.tasks_on(item) if task.after_warning else ():
            findings += self._warned(item, other, task)
        return max(findings, key=lambda finding: (finding.at, finding.entry), default=None)

    def _warned(self, item: Item, measuring: Task, task: Task) -> Iterator[Finding]:
        """The last readings of the points waited for, whatever they were taken for, where beyond a warning limit."""
        for point in (point for point in measuring.points if point.id in task.after_warning):
            row = self._rows.last_measured(item.id, point.id)
            if row is not None and any(map(point.is_beyond_warning, json.loads(row.readings or "[]"))):
                yield Finding(from_utc_text(row.at), row.entry, point=point.id)

    def _deferrals(self, item: Item, task: Task) -> tuple[Deferral, ...]:
        by_occurrence: dict[str, Deferral] = {}
        for row in self._rows.deferrals_of(item.id, task.id):
            before = by_occurrence.get(row.occurrence)
            times = before.times + 1 if before else 1
            by_occurrence[row.occurrence] = Deferral(
                row.occurrence, row.later, row.by, from_utc_text(row.at), row.entry, times
            )
        return tuple(by_occurrence.values())

    # Events

    def _happening(self, item: Item, task: Task, last: Done | None, signed: SignOffRow | None) -> Happening | None:
        happenings = [happening for what in task.after for happening in self._happened(item, Event(what), last)]
        happenings += self._gauge_found_out(item, task, signed)
        happenings += self._life_unknown(item, task)
        happenings += self._measured_out(item, task)
        happenings += self._doubted(item, task)
        return max(happenings, key=lambda happening: (happening.at, happening.entry), default=None)

    def _gauge_found_out(self, item: Item, task: Task, signed: SignOffRow | None) -> Iterator[Happening]:
        """The findings that open a line again: that the gauge reads wrong, for its calibration; that the gauge does by
        which the work was measured when it was last signed, with nothing between that vouches for it."""
        gauges = [item.id] if task == self._known.calibration else []
        if task.points and signed is not None and item.kind is not Kind.GAUGE:
            gauges = signed.gauges.split(",") if signed.gauges else []
        for out in (out for gauge in gauges for out in self._rows.out_of_tolerance(gauge)):
            if out.gauge == item.id or (
                signed is not None
                and (signed.at, signed.entry) < (out.at, out.entry)
                and last_vouched(self._rows, self._known, out) < signed.at
            ):
                yield Happening(GAUGE_FOUND_OUT, from_utc_text(out.at), out.entry)

    def _measured_out(self, item: Item, task: Task) -> Iterator[Happening]:
        """That the work was last signed with a value out of its limits, asked for or extra."""
        if task.points and not task.graded:
            times = self._rows.done_before(item.id, task.id, _NO_END, 0)
            counted = (row for row in times if task.second_signature is None or row.verified_by is not None)
            last = next(counted, None)
            if last is not None and last.out:
                yield Happening(OUT_OF_LIMITS, from_utc_text(last.at), last.entry)

    def _doubted(self, press: Item, task: Task) -> Iterator[Happening]:
        """That points measured on what hung on a press say that the press is at fault, until its shut height is
        signed with good values, asked for or extra."""
        if measures_shut_height(task, press):
            last = self._rows.doubts_of(press.id)[-1:]
            for row in (row for row in last if open_doubt(self._rows, self._known, row.item, press.id)):
                yield Happening(PRESS_IN_DOUBT, from_utc_text(row.at), row.entry, row.item)

    def _life_unknown(self, item: Item, task: Task) -> Iterator[Happening]:
        """That nobody knows what an item has done, which its inspection ends: those that are planned anyway, or, where
        none is, any that gives a grade."""
        unknown = unknown_since(self._rows, item.id) if task.graded else None
        if unknown is not None:
            graded = [other for other in self._known.tasks_on(item) if other.graded]
            planned = [other for other in graded if other.every or other.rule or stroke_interval(other, item)]
            if task in (planned or graded):
                yield Happening(LOST_RECORD, from_utc_text(unknown.at), unknown.entry)

    def _happened(self, item: Item, what: Event, last: Done | None) -> Iterator[Happening]:
        if what is Event.FITTING:
            fitting = self._rows.last_fitting(item.id)
            if fitting is not None:
                yield Happening(what, from_utc_text(fitting.start), fitting.started_by)
        elif what is Event.TOOL_SETTING:
            yield from self._tool_settings(item)
        elif what is not Event.SHUTDOWN:  # the calendar has those, no row
            row = self._rows.last_happening(item.id, what, _NO_END)
            if row is not None:
                yield _happening(what, row)
            if what is Event.CRASH and item.kind is not Kind.PRESS:
                yield from self._crashes_above(item, last)
            if what is Event.STORAGE:
                yield from self._rests_untold(item, last)

    def _rests_untold(self, item: Item, last: Done | None) -> Iterator[Happening]:
        """The end of a rest that nobody told of: a paused item ran, or one came onto a press after a long time on
        none.  Told as brought back meanwhile, or made ready, the time counts from then."""
        for row in self._rows.standings_of(item.id):
            if row.what == Standing.PAUSE and self._pause(item, row) is None:
                yield Happening(Event.STORAGE, from_utc_text(row.since), row.entry)
        days = self._known.facts.rest_days
        since = last.at if last is not None else self._known.since[item.id]
        came = self._rows.came_after_rest(item.id, utc_text(since), days) if item.kind in FITS_IN else None
        if came is None:
            return
        told = self._rows.last_happening(item.id, Event.STORAGE, came)
        if told is None or from_utc_text(came) - from_utc_text(told.at) >= timedelta(days=days):
            yield Happening(Event.STORAGE, from_utc_text(came), self._fitted_by(item.id, came))

    def _fitted_by(self, item: str, came: str) -> int:
        """The entry that brought an item onto a press at a moment, itself or with what it sits in."""
        holder: FittingRow | None = None
        key: str | None = item
        while key is not None and (holder is None or holder.start < came):
            holder = next((row for row in self._rows.fittings_of(key, came) if row.start <= came), None)
            key = holder.inside if holder is not None else None
        return holder.started_by if holder is not None else 0

    def _tool_settings(self, item: Item) -> Iterator[Happening]:
        """The last change of what sits in an item, in the module that hangs on it now, or by which it was hung."""
        change = self._rows.last_change_in(item.id)
        if change is not None:
            yield Happening(Event.TOOL_SETTING, from_utc_text(change.at), change.entry)
        if item.kind is Kind.DIE_SET:
            yield from self._hung(item.id)
        for content in self._rows.inside_now(item.id) if item.kind is Kind.PRESS else ():
            change = self._rows.last_change_in(content.item)
            if change is not None and change.at >= content.since:
                yield Happening(Event.TOOL_SETTING, from_utc_text(change.at), change.entry)

    def _hung(self, item: str) -> Iterator[Happening]:
        """The last fitting of the module that holds an item, while it sat there."""
        fitting = self._rows.last_fitting(item)
        holder = self._rows.last_fitting(fitting.inside) if fitting is not None and fitting.until is None else None
        if fitting is not None and holder is not None and holder.start > fitting.start:
            yield Happening(Event.TOOL_SETTING, from_utc_text(holder.start), holder.started_by)

    def _crashes_above(self, item: Item, last: Done | None) -> Iterator[Happening]:
        """Crashes of a press while the item hung on it."""
        since = utc_text(last.at) if last else ""
        for stay in self._rows.stays_of(item.id, since):
            row = self._rows.last_happening(stay.press, Event.CRASH, stay.until or _NO_END)
            if row is not None and stay.start <= row.at:
                yield _happening(Event.CRASH, row)


def looked_at(known: Known, task: Task) -> int:
    """How many sign-offs of a line of a task are looked at."""
    if task.own_usage_clock or task.second_signature is not None:
        return _LONG_AGO
    return _RECENT if task.rule is not None or task.each_shift or known.covering(task) else _LAST_TWO


def _happening(what: Event, row: HappeningRow) -> Happening:
    return Happening(what, from_utc_text(row.at), row.entry)


def done_from(row: SignOffRow, how: How = How.SIGNED) -> Done:
    """A sign-off as the rules of a line see it; ``how`` says whether the line was signed itself or is covered."""
    return Done(from_utc_text(row.at), row.by, row.occurrence, row.grade, row.entry, how)


def covered_from(row: SignOffRow, task: Task, days: int) -> Done:
    """The answer that a row of sign-offs of a bigger task gives to one it covers, so many days ahead: to the shift that
    it names, where both are done every shift."""
    shift = row.occurrence if task.each_shift and isinstance(occurrence_of(row.occurrence), OfShift) else ""
    return Done(from_utc_text(row.at), row.by, shift, None, row.entry, How.COVERED, row.task, days)

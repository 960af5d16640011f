"""The planned occurrences of one line over a span of days, each with what became of it.

A line of shifts or of fixed days has one for each shift it was used in, each planned day.  Any other line has one open
at a time: the line is judged as it stood before each answer, by the definitions in force until then.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import NamedTuple

from upkeep.answers.figures.in_order import InOrder
from upkeep.answers.read_ahead import ReadAhead
from upkeep.counting.strokes import strokes_between
from upkeep.due.compliance import Planned, Verdict, verdict_between, verdict_on
from upkeep.due.days import fixed_window, planned_days
from upkeep.due.edges import calendar_edges
from upkeep.due.facts import Done, How, Setting, latest, names_event
from upkeep.due.in_shift import LATE_READING, end_of, used
from upkeep.entries.standing import Closing, LineStanding, Standing
from upkeep.frozen import frozen
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import Known
from upkeep.keeping.gathering import covered_from, done_from
from upkeep.keeping.holds import Rests
from upkeep.keeping.in_force import DefinedThen, InForce
from upkeep.keeping.judging import Judge
from upkeep.keeping.rows_then import RowsThen
from upkeep.plant.model import Item, Kind, Task
from upkeep.store.file import BookFile
from upkeep.store.rows.signatures import DeferralRow, StandingRow
from upkeep.store.then import LAST
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.units.shifts import ShiftSpan

_SECOND = timedelta(seconds=1)
_LONGEST_WINDOW = timedelta(days=400)


@frozen
class Days:
    """The days looked at, as [``start``, ``end``) too, and the moment from which they are looked at."""

    first: date
    last: date
    start: datetime
    end: datetime
    now: datetime


@frozen
class JudgedOccurrence:
    """One occurrence: the task as it was when it fell due, and what became of it.

    ``due`` is the moment from which it was due (or was done, where that was earlier); ``before`` the last time the work
    had been done until it was answered; ``hung`` the moment at which it hung where it counts (None: when it was due).
    """

    item: str
    task: Task
    occurrence: str
    due: datetime
    verdict: Verdict
    answer: Done | None = None
    before: Done | None = None
    hung: datetime | None = None


class AsPlanned(RowsThen):
    """The rows a line is judged by as it was planned: no deferral moves it, and no hold, since that moves no window."""

    def __init__(self, file: BookFile, moment: datetime, entry: int, unknown: frozenset[str], rests: Rests) -> None:
        super().__init__(file, moment, entry, unknown)
        self._moment, self._rests = moment, rests

    def deferrals_of(self, item: str, task: str) -> list[DeferralRow]:
        """None: a deferral does not move the window that work is judged by."""
        return []

    def standings_of(self, item: str) -> list[StandingRow]:
        """The pause in force at the moment, if any; a hold moves no window."""
        rest = self._rests.at(item, self._moment)
        return [StandingRow(item, Standing.PAUSE, rest.since, rest.because, rest.entry)] if rest else []


class Occurrences:
    """Finds occurrences in one book; keeps what many lines ask for."""

    def __init__(self, context: Context, definitions: DefinedThen, days: Days) -> None:
        self._context, self._definitions, self._over = context, definitions, days
        self._rows = context.rows
        self._counts = ReadAhead(self._rows, definitions.at(days.now).calendar)
        self._rests = Rests(context)
        self._read: dict[str, datetime | None] = {}

    def of(self, item: str, task: str) -> Iterator[JudgedOccurrence]:
        """The occurrences of a line that fell due in the days looked at."""
        one_by_one = False
        for stretch in self._definitions.between(self._over.start, self._over.end, task, item):
            line = _line_of(stretch.known, item, task)
            if line is None:
                continue
            if line.task.each_shift:
                yield from self._shifts(line.item, line.task, stretch)
            elif _has_days_alone(line.task):
                yield from self._days(line.item, line.task, stretch)
            else:
                one_by_one = True
        if one_by_one:
            yield from self._one_by_one(item, task)

    def _judge(self, known: Known, moment: datetime, entry: int = LAST) -> Judge:
        """Judges lines as they were planned before an entry of a moment."""
        unknown = self._definitions.unknown_at(moment)
        return Judge(AsPlanned(self._context.file, moment, entry, unknown, self._rests), known, moment)

    def _answers(self, item: str, task: Task, known: Known, since: datetime) -> list[Done]:
        """Work and cancellations of a line from a moment on, in order, with work declared to cover it."""
        done = []
        for row in self._rows.sign_offs_from(item, task.id, utc_text(since)):
            if row.how == How.CANCELLED:
                done.append(done_from(row, How.CANCELLED))
            elif task.second_signature is None or row.verified_by is not None:
                done.append(done_from(row))
        for key, days in known.covering(task).items():
            bigger = known.tasks[key]
            for row in self._rows.sign_offs_from(item, bigger.id, utc_text(since)):
                if row.how == Closing.DONE and (bigger.second_signature is None or row.verified_by is not None):
                    done.append(covered_from(row, task, days))
        return sorted(done, key=lambda work: (work.at, work.entry))

    # Shifts

    def _shifts(self, item: Item, task: Task, stretch: InForce) -> Iterator[JudgedOccurrence]:
        known, until = stretch.known, stretch.end or self._over.end
        since = max(stretch.start, known.since[item.id])
        moved = self._shifts_used(item, task, known, since, until)
        done = self._answers(item.id, task, known, since - timedelta(days=1))
        answers = InOrder(done, [one for one in done if end_of(one.occurrence, known.calendar) is None])
        for shift in known.calendar.between(since, until):
            if not (stretch.start <= shift.start and self._over.first <= shift.day <= self._over.last):
                continue
            by_hour = shift.end if task.by_hour is None else shift.start + timedelta(hours=task.by_hour)
            planned = Planned(shift.key, shift.start, shift.start, min(shift.end, by_hour))
            verdict, answer = verdict_on(planned, answers.for_one(planned), self._over.now)
            if shift.key not in moved:
                verdict = self._not_asked(item, shift)
            elif self._rests.all_through(item.id, shift.start, shift.end):
                verdict = Verdict.RESTING
            if shift.start <= self._over.now:
                hung = self._ran_from(item, shift) if shift.key in moved else shift.start
                yield JudgedOccurrence(item.id, task, shift.key, shift.start, verdict, answer, hung=hung)

    def _ran_from(self, item: Item, shift: ShiftSpan) -> datetime:
        """From when in a shift an item hung where it did its first strokes; the shift's start where no stay tells."""
        since = shift.start
        stay = self._counts.stay_from(item.id, since) if item.kind is not Kind.PRESS else None
        if item.kind is not Kind.PRESS and (stay is None or (stay.end is not None and stay.end <= since)):
            stay = self._counts.stay_after(item.id, since)
        while stay is not None and stay.start < shift.end:
            since = max(since, stay.start)
            until = min(stay.end or shift.end, shift.end)
            if strokes_between(self._counts, item.id, since, until).best > 0:
                return since
            stay = self._counts.stay_after(item.id, stay.start)
        return shift.start

    def _shifts_used(self, item: Item, task: Task, known: Known, since: datetime, until: datetime) -> set[str]:
        setting = Setting(self._counts, known.zone, known.calendar, known.workdays, known.names)
        moved = set()
        for shift in used(task, item.id, setting, since):
            if shift.start >= until:
                break
            moved.add(shift.key)
        return moved

    def _not_asked(self, item: Item, shift: ShiftSpan) -> Verdict:
        """Why a shift without strokes is not asked for."""
        if self._rested(item.id, shift.start):
            return Verdict.RESTING
        press = item.id
        if item.kind is not Kind.PRESS:
            stay = self._counts.stay_from(item.id, shift.end - _SECOND)
            if stay is None or (stay.end is not None and stay.end <= shift.start):
                return Verdict.NOT_FITTED
            press = stay.press
        if press not in self._read:
            self._read[press] = self._counts.last_read(press)
        read = self._read[press]
        counted_in_time = read is not None and read >= shift.end - (shift.end - shift.start) * LATE_READING
        return Verdict.NOT_USED if counted_in_time else Verdict.NOT_READ

    def _rested(self, item: str, moment: datetime) -> bool:
        """Whether an item was in storage or out of use at a moment."""
        return self._rests.at(item, moment) is not None

    # Fixed days

    def _days(self, item: Item, task: Task, stretch: InForce) -> Iterator[JudgedOccurrence]:
        known, until, answered = stretch.known, stretch.end or self._over.end, set()
        zone, since = known.zone, known.zone.day(known.since[item.id])
        rule = planned_days(task, since)
        answers = self._answers(item.id, task, known, stretch.start - _LONGEST_WINDOW)
        in_order = InOrder(answers, answers)
        first, last = (zone.day(moment) for moment in (stretch.start, until))
        for day in rule.between(max(since, first - _LONGEST_WINDOW), last + _LONGEST_WINDOW):
            due = known.workdays.moved(day, task.day_off_move)
            edges = calendar_edges(task, due, fixed_window(task, rule, day), zone)
            if due in answered or due < since or not stretch.start <= edges.due < until:
                continue
            answered.add(due)
            planned = Planned(day.isoformat(), edges.opens, edges.due, edges.overdue)
            verdict, answer = verdict_on(planned, in_order.for_one(planned), self._over.now)
            if self._rested(item.id, edges.due) is not task.while_resting:
                verdict = Verdict.RESTING
            if edges.due <= self._over.now or answer is not None:
                yield JudgedOccurrence(
                    item.id, task, planned.occurrence, edges.due, verdict, answer, _before(answers, answer)
                )

    # One at a time

    def _one_by_one(self, item: str, task: str) -> Iterator[JudgedOccurrence]:
        start = max(self._over.start, self._definitions.at(self._over.now).since[item])
        judge = self._judge(self._definitions.at(start), start, 0)
        line_then = _line_of(judge.known, item, task)
        facts = judge.facts(*line_then) if line_then else None
        previous = latest(facts.last, *facts.cancelled) if facts else None
        for answer in [*self._counting(item, task, start), None]:
            open_then = self._between(item, task, previous, answer)
            for judged in [*self._passed_over(item, task, previous, answer), *([open_then] if open_then else [])]:
                if self._over.start <= judged.due < self._over.end:
                    yield judged
            previous = answer
            if answer is not None and answer.at >= self._over.end:
                return

    def _counting(self, item: str, task: str, start: datetime) -> Iterator[Done]:
        """The answers to a line from a moment on; of bigger work only what covered it."""
        now = self._definitions.at(self._over.now)
        line_then = _line_of(now, item, task) or _line_of(self._definitions.at(start), item, task)
        for answer in self._answers(item, line_then.task, now, start) if line_then else ():
            if answer.how is not How.COVERED:
                yield answer
                continue
            known = self._definitions.at(answer.at)
            line = _line_of(known, item, task)
            last = self._judge(known, answer.at, answer.entry + 1).facts(*line).last if line else None
            if last is not None and last.entry == answer.entry:
                yield answer

    def _passed_over(
        self, item: str, task: str, previous: Done | None, answer: Done | None
    ) -> Iterator[JudgedOccurrence]:
        """Events that were not answered before the item ran, and asked for nothing any more once the next one came."""
        start, until = self._bounds(item, previous, answer)
        known = self._definitions.at(until)
        if task not in known.tasks or not known.tasks[task].after:
            return
        # One that the next event passed over before the days looked at fell due before them, too.
        looked_at = max(start, self._over.start)
        given: set[str] = set()  # one that several events passed over is one
        for text in self._rows.events_of(item, utc_text(looked_at), utc_text(until)):
            moment = from_utc_text(text) - _SECOND
            part = InForce(start, moment, self._definitions.at(moment))
            planned = self._open_by(item, task, part, None, moment)
            if planned is None or planned.occurrence in given:
                continue
            if names_event(planned.occurrence) and planned.closes <= moment:
                given.add(planned.occurrence)
                asked = part.known.tasks[task]
                yield JudgedOccurrence(item, asked, planned.occurrence, planned.due, Verdict.NOT_DONE, None, previous)

    def _bounds(self, item: str, previous: Done | None, answer: Done | None) -> tuple[datetime, datetime]:
        """From one answer (or when the item came into the book) to the next (or now)."""
        start = max(
            self._definitions.at(self._over.now).since[item], previous.at if previous else self._definitions.began
        )
        return start, self._over.now if answer is None else answer.at

    def _between(self, item: str, task: str, previous: Done | None, answer: Done | None) -> JudgedOccurrence | None:
        """What fell due between two answers, or was done before it did; None: nothing did yet, or before the book."""
        start, until = self._bounds(item, previous, answer)
        first: tuple[datetime, str, Task] | None = None
        closed: datetime | None = None
        new = previous is None
        for part in self._definitions.between(start, max(until, start + _SECOND), task, item):
            planned = self._open_by(item, task, part, answer if part.end is None else None, until)
            if planned is None or (previous is not None and previous.occurrence == planned.occurrence):
                continue
            if new and _is_older(planned, part):
                return None
            new = False
            ends, due, closes = part.end or until, max(planned.due, part.start), max(planned.closes, part.start)
            if first is None and (due < ends or (part.end is None and answer is not None)):
                first = min(due, until), planned.occurrence, part.known.tasks[task]
            if closes < ends and closed is None:
                closed = closes
        if first is None:
            return None
        due, occurrence, asked = first
        verdict = verdict_between(closed, answer)
        if self._rested(item, due) and not asked.while_resting:
            verdict = Verdict.RESTING
        return JudgedOccurrence(item, asked, occurrence, due, verdict, answer, previous)

    def _open_by(self, item: str, task: str, part: InForce, answer: Done | None, until: datetime) -> Planned | None:
        """What a line asked for just before the end of a stretch, or before its answer; None: nothing."""
        line_then = _line_of(part.known, item, task)
        if line_then is None or line_then.task.each_shift or _has_days_alone(line_then.task):
            return None
        moment = part.end or until
        line = self._judge(part.known, moment, answer.entry if answer else LAST).line(*line_then)
        if line.standing is LineStanding.NOT_REQUIRED or not line.also:
            return None
        return Planned(line.occurrence, line.edges.opens, line.edges.due, line.edges.overdue)


class _Line(NamedTuple):
    item: Item
    task: Task


def _line_of(known: Known, item: str, task: str) -> _Line | None:
    """The item and the task, where definitions make a line of them."""
    if item not in known.items or task not in known.tasks:
        return None
    line = _Line(known.items[item], known.tasks[task])
    return line if line.task in known.tasks_on(line.item) else None


def _is_older(planned: Planned, part: InForce) -> bool:
    """Whether something was due before the plant began to ask for it: nobody could be on time."""
    day = part.known.zone.day
    return planned.due < part.start and day(planned.due) < day(part.start)


def _has_days_alone(task: Task) -> bool:
    """Whether a task is planned by fixed days and nothing else."""
    return task.rule is not None and not (task.strokes or task.strokes_for or task.after or task.life)


def _before(answers: list[Done], answer: Done | None) -> Done | None:
    """The work done last before an answer."""
    if answer is None:
        return None
    done = [
        earlier
        for earlier in answers
        if earlier.how is not How.CANCELLED and (earlier.at, earlier.entry) < (answer.at, answer.entry)
    ]
    return done[-1] if done else None

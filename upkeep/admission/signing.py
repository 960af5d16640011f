"""Admission of what answers a planned occurrence: a sign-off, a deferral, a cancellation."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import ClassVar

from upkeep.admission import rules as checks
from upkeep.admission.gauges import check_calibration
from upkeep.admission.measured import check_measured
from upkeep.admission.spares.shelf import left_said
from upkeep.admission.subject import Judges, SubjectAdmission, entry_in_effect
from upkeep.answers.people.signing_hints import asks_for_another_look, looks_at
from upkeep.answers.shelf.stock import Shelf
from upkeep.answers.under_way.jobs import WorkUnderWay
from upkeep.answers.wear.press_doubts import doubted_press
from upkeep.due.edges import stroke_limits
from upkeep.due.facts import How, names_strokes, not_told_by_a_word
from upkeep.due.lines import Line
from upkeep.entries.occurrences import EXTRA, Day, OfShift, Strokes, occurrence_of
from upkeep.entries.signing import Cancel, Defer, LookedAgain, Sign, Stated, Verify
from upkeep.errors import AlreadySigned, Refused
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Item, Role, Task
from upkeep.said import Moment, Numeral, Quoted, Said, Value, in_turn, said
from upkeep.store.rows.signatures import SignOffRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.units.quantities import in_strokes

_AFTER_SHIFT = timedelta(hours=1)
"""How long after a shift its daily work is signed as that shift's.  Plant default, no source."""


class SignAdmission(SubjectAdmission):
    """Judges sign-offs by role, window, points and gauge, and what puts them off or verifies them."""

    def _signed(self, sign: Sign) -> Sign:
        """The sign-off with what it found out of limits, where no grade says so."""
        item, task = self._known.item(sign.item), self._known.task(sign.task)
        self._check_sign(sign, item, task)
        out = () if task.graded else tuple(checks.out_of_limits(sign, task))
        holds = bool(out) and task.hold_when_out
        if out:
            self.notes.append(
                said(
                    "{line} stays open until it is signed with values within the limits{held}.",
                    line=str(LineName(item.id, task.id)),
                    held=said("; {item} is held", item=item.id) if holds else "",
                )
            )
        self._tell_whose_job(sign)
        doubts, said_of_press = doubted_press(sign, item, self._context)
        self.notes += said_of_press
        return replace(sign, out=out, holds=holds, doubts=doubts, used=self._used(sign, task))

    def _used(self, sign: Sign, task: Task) -> tuple[tuple[str, int], ...] | None:
        """The spares it used up, by their ids here: those it names, else those its task takes."""
        used = self._taken_by(task) if sign.used is None else sign.used
        if not used:
            return sign.used
        shelf, line = Shelf(self._context), str(LineName(sign.item, sign.task))
        taken: dict[str, int] = {}
        for key, number in used:
            spare = self._known.spare(key)
            if spare.part is not None:
                raise Refused(
                    said(
                        "{spare} have ids of their own: fit the one that was used ('fit'); that takes it off the "
                        "shelf.",
                        spare=spare.id,
                    )
                )
            taken[spare.id] = taken.get(spare.id, 0) + number
        for spare_id, number in taken.items():
            stock = shelf.stock(spare_id)
            off_shelf = number - stock.bag(line)
            if off_shelf > 0 and self._replaced is None:
                self.notes += left_said(self._known.spares[spare_id], stock.number, stock.number - off_shelf)
            elif off_shelf < 0:
                self.notes.append(
                    said("{n} of {spare} taken for it were not used: put them back.", n=-off_shelf, spare=spare_id)
                )
        return tuple(taken.items())

    def _taken_by(self, task: Task) -> tuple[tuple[str, int], ...]:
        """The spares a task takes that are counted; parts with ids leave the shelf when they are fitted."""
        counted = (spare for spare in task.parts if spare in self._known.spares)
        return tuple((spare, task.parts[spare]) for spare in counted if self._known.spares[spare].part is None)

    def _tell_whose_job(self, sign: Sign) -> None:
        """Work that somebody else has begun is told of, and not refused: whoever did it signs it."""
        job = WorkUnderWay(self._context).job_on(sign.item, sign.task)
        if job is not None and not self._known.is_one_person(sign.by, job.by):
            began = Moment(job.since, self._known.zone)
            self.notes.append(
                said("{name} has had this job since {began}; it ends with this sign-off.", name=job.name, began=began)
            )

    def _check_sign(self, sign: Sign, item: Item, task: Task) -> None:
        self.notes += checks.check_sign(self._known, sign, item, task)
        self.notes += check_measured(self._context, sign, item, task)
        self.notes += check_calibration(self._context, sign)
        if sign.occurrence == EXTRA:
            return
        line = self._line(item, task)
        taken = self._rows.sign_off_for(item.id, task.id, sign.occurrence)
        if (
            taken is not None
            and (self._replaced is None or taken.entry != self._replaced.id)
            and not _asked_again(sign, line, taken)
        ):
            name = self._context.names.of(taken.by, taken.entry)
            when = Moment(from_utc_text(taken.at), self._known.zone)
            if taken.how == How.CANCELLED:
                raise Refused(
                    said(
                        "{line} for {occurrence} was cancelled: {name}, {when}. If it was done after all, "
                        "strike #{entry} first; additional work is recorded as an extra.",
                        line=str(LineName(item.id, task.id)),
                        occurrence=sign.occurrence,
                        name=name,
                        when=when,
                        entry=Numeral(taken.entry),
                    )
                )
            raise AlreadySigned(str(LineName(item.id, task.id)), sign.occurrence, name, when, taken.entry)
        if self._replaced is None or not self._may_have_been_open(sign, task, line):
            self._check_occurrence(sign, task, line)
        self._tell_late(sign, task, line)

    def _tell_late(self, sign: Sign, task: Task, line: Line) -> None:
        """Late work without a reason is taken, and the writer told; work of shifts is missed, and never late."""
        late = sign.occurrence == line.occurrence and line.edges.overdue <= sign.at
        if late and not task.each_shift and not sign.because and not sign.remark:
            self.notes.append(
                said("This was late, and no reason was given (--because); the list of late work will say so.")
            )

    def _line(self, item: Item, task: Task) -> Line:
        self._projector.counter.settle()
        return self._context.judge.line(item, task)

    def _check_occurrence(self, sign: Sign, task: Task, line: Line) -> None:
        if sign.occurrence in (line.occurrence, *line.also):
            self._check_open(sign, task, line)
            return
        if task.each_shift and isinstance(occurrence_of(sign.occurrence), OfShift):
            shift = self._known.calendar.named(sign.occurrence)
            # A round is walked in the shift and often signed after it, when the next shift is the one that is open.
            if shift.start <= sign.at < shift.end + _AFTER_SHIFT:
                return
        # Told late: it is judged by what could have been open then, for later work has closed it since.
        if line.last is not None and sign.at < line.last.at and self._may_have_been_open(sign, task, line):
            return
        # A late count moves the planned number; whoever read the old one on a list means the same work.
        if names_strokes(sign.occurrence) and names_strokes(line.occurrence):
            self._check_open(sign, task, line)
            return
        raise Refused(
            said(
                "{line} is not planned for {occurrence}; the open occurrence is {open}. Check the board "
                "again, or record the work as an extra.",
                line=str(LineName(sign.item, task.id)),
                occurrence=sign.occurrence,
                open=line.occurrence,
            )
        )

    def _may_have_been_open(self, sign: Sign, task: Task, line: Line) -> bool:
        """Whether work told late, from before the last sign-off, names an occurrence that could be open by then."""
        named = occurrence_of(sign.occurrence)
        if isinstance(named, Strokes) or line.due_strokes is not None:
            return True  # strokes may have opened it, whatever day it is named by
        if not isinstance(named, Day | OfShift):
            return False
        due = min(named.day, self._known.workdays.moved(named.day, task.day_off_move))
        return due <= self._known.zone.day(sign.at) + timedelta(days=task.early_days)

    def _check_open(self, sign: Sign, task: Task, line: Line) -> None:
        """Work before the window opens is an extra: it would move the next due date for ever forward.

        The lead may sign it all the same, and so begin the interval anew.
        """
        if sign.at >= line.edges.opens or Role.LEAD in self._known.person(sign.by).roles:
            return
        if line.edges.opens < NEVER or line.strokes is None or line.due_strokes is None:
            opens: Value = Moment(line.edges.opens, self._known.zone)
        else:
            limit = stroke_limits(task, line.due_strokes).opens
            opens = said("at {strokes}; it has done {done}", strokes=in_strokes(limit), done=line.strokes.best)
        refusal = said(
            "{line} is not open yet: its window opens {opens}. Work done before that can be recorded as an extra; it "
            "does not move the due date. The lead may sign it all the same.",
            line=str(LineName(sign.item, sign.task)),
            opens=opens,
        )
        raise Refused(in_turn(refusal, self._done_before(line)))

    def _done_before(self, line: Line) -> Said | None:
        """Who answered a line last, when and with which entry; None: nobody has in this book."""
        if line.last is None or line.last.how is How.STATED:
            return None
        done: dict[str, Value] = {
            "name": self._context.names.of(line.last.by, line.last.entry),
            "when": Moment(line.last.at, self._known.zone),
            "entry": Numeral(line.last.entry),
        }
        if line.last.how is How.CANCELLED:
            return said("It was last cancelled: {name}, {when} (#{entry}).", **done)
        return said("It was last done: {name}, {when} (#{entry}).", **done)

    def _open_line(self, entry: Defer | Cancel, what: Said) -> Line:
        """The line whose open occurrence is deferred or cancelled."""
        item, task = self._known.item(entry.item), self._known.task(entry.task)
        name = str(LineName(item.id, task.id))
        if task.statutory:
            raise Refused(
                said(
                    "{name} is required by law and cannot be {what}. If it cannot be done, take {item} out of use.",
                    name=name,
                    what=what,
                    item=item.id,
                )
            )
        if not entry.because:
            raise Refused(said("Say why {name} is {what}; the reason stays in the book.", name=name, what=what))
        line = self._line(item, task)
        if entry.occurrence not in (line.occurrence, *line.also):
            raise Refused(
                said(
                    "{name} is not planned for {occurrence}; the open occurrence is {open}.",
                    name=name,
                    occurrence=entry.occurrence,
                    open=line.occurrence,
                )
            )
        return line

    def _check_cancel(self, entry: Cancel) -> None:
        self._open_line(entry, said("cancelled"))

    def _check_defer(self, entry: Defer) -> None:
        line = self._open_line(entry, said("deferred"))
        task = self._known.task(entry.task)
        name = str(LineName(entry.item, entry.task))
        if not entry.risk:
            raise Refused(said("Say what may happen while {name} waits; whoever defers it answers for it.", name=name))
        if task.each_shift or not (line.due_day or line.due_strokes):
            raise Refused(
                said("{name} cannot be deferred: do it now, or cancel this occurrence with a reason.", name=name)
            )
        times = len(
            [row for row in self._rows.deferrals_of(entry.item, entry.task) if row.occurrence == entry.occurrence]
        )
        if times >= task.max_deferrals:
            raise Refused(
                said(
                    "{name} for {occurrence} has already been deferred {times} times; no more is allowed.",
                    name=name,
                    occurrence=entry.occurrence,
                    times=times,
                )
            )
        if not _is_later(entry.occurrence, entry.to):
            raise Refused(
                said(
                    "{to} is not later than the planned {occurrence}; give a later one, written the same way.",
                    to=Quoted(entry.to),
                    occurrence=entry.occurrence,
                )
            )

    def _check_verify(self, entry: Verify) -> None:
        old = entry_in_effect(self._context, entry.entry)
        if not isinstance(old.entry, Sign):
            raise Refused(said("#{entry} is not a sign-off; there is nothing to verify.", entry=Numeral(old.id)))
        task = self._known.task(old.entry.task)
        if task.second_signature is None:
            raise Refused(said("{task} does not need a second signature.", task=task.title))
        if entry.at < old.entry.at:
            done = Moment(old.entry.at, self._known.zone)
            raise Refused(
                said(
                    "The work of #{entry} was done {done}; the second signature cannot be earlier than that.",
                    entry=Numeral(old.id),
                    done=done,
                )
            )
        if self._projector.verified(old):
            raise Refused(said("#{entry} already has its second signature.", entry=Numeral(old.id)))

    def _check_looked_again(self, entry: LookedAgain) -> None:
        """Another look is for a sign-off that was drawn for it, by another person, once."""
        old = entry_in_effect(self._context, entry.entry)
        if not (isinstance(old.entry, Sign) and asks_for_another_look(self._known, old)):
            raise Refused(said("#{entry} is no sign-off that was drawn to be looked at again.", entry=Numeral(old.id)))
        if entry.at < old.entry.at:
            done = Moment(old.entry.at, self._known.zone)
            raise Refused(
                said("The work of #{entry} was done {done}; look at it after that.", entry=Numeral(old.id), done=done)
            )
        if not entry.text.strip():
            raise Refused(said("Say what you saw; without that the lead cannot tell what to do."))
        before = [number for number, _ in looks_at(self._context, old) if number != entry.corrects]
        if before:
            raise Refused(
                said(
                    "#{entry} has already been looked at again (#{look}).",
                    entry=Numeral(old.id),
                    look=Numeral(before[0]),
                )
            )

    def _check_stated(self, entry: Stated) -> None:
        item, task = self._known.item(entry.item), self._known.task(entry.task)
        name = str(LineName(item.id, task.id))
        checks.check_stated(self._known, entry, item, task)
        missing = not_told_by_a_word(task)
        if not entry.done or entry.first:
            return
        if missing:
            lacking = said("a grade") if missing == "grade" else said("a second signature")
            self.notes.append(
                said("{line} needs {missing}: the stated date is kept but does not count.", line=name, missing=lacking)
            )
        elif task.every is None and task.rule is None:
            self.notes.append(
                said("{line} does not go by the calendar: the stated date is kept but changes nothing.", line=name)
            )

    JUDGES: ClassVar[Judges] = {
        Sign: _signed,
        Defer: _check_defer,
        Cancel: _check_cancel,
        Verify: _check_verify,
        LookedAgain: _check_looked_again,
        Stated: _check_stated,
    }


def _asked_again(sign: Sign, line: Line, taken: SignOffRow) -> bool:
    """Whether the plan, changed since, asks anew for an occurrence that was signed and counted before."""
    return (
        sign.occurrence in (line.occurrence, *line.also)
        and line.last is not None
        and (taken.at, taken.entry) <= (utc_text(line.last.at), line.last.entry)
    )


def _is_later(planned: str, later: str) -> bool:
    match occurrence_of(planned), occurrence_of(later):
        case Strokes(number=before), Strokes(number=after):
            return after > before
        case Day(day=first), Day(day=then):
            return then > first
    return False

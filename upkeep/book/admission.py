"""Admission: whether one entry may go into this book as it stands - the checks that need more than the entry itself."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

from upkeep.book import checks
from upkeep.book.alarms import Alarms, Bar
from upkeep.book.care_admission import CareAdmission, check_not_gone
from upkeep.book.count_admission import CountAdmission
from upkeep.book.gauge_admission import check_gauge_counts
from upkeep.book.judging import Judge, line_name
from upkeep.book.known import Known
from upkeep.book.projecting import Projector
from upkeep.book.quality_admission import QualityAdmission
from upkeep.book.repair_admission import RepairAdmission
from upkeep.book.suspect_admission import SuspectAdmission
from upkeep.due.edges import stroke_limits
from upkeep.due.facts import How, not_told_by_a_word
from upkeep.due.lines import Line
from upkeep.entries.found import Check, Dispose, Misread, Narrow, Override, Picture, Repair, Retire
from upkeep.entries.kinds import (
    EXTRA,
    Begin,
    Cancel,
    Count,
    Defer,
    Define,
    Entry,
    Fault,
    Fit,
    Hold,
    Note,
    Pause,
    Recorded,
    Release,
    Resume,
    Sign,
    Stated,
    Strike,
    Unfit,
    Verify,
)
from upkeep.errors import AlreadySigned, NotFound, Refused
from upkeep.plant.model import Item, Role, Task
from upkeep.store.entries import EntryStore
from upkeep.store.projections import Projections
from upkeep.store.rows.signatures import SignOffRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.units.quantities import grouped, strokes


def _is_later(planned: str, later: str) -> bool:
    if planned.isdigit() or later.isdigit():
        return planned.isdigit() and later.isdigit() and int(later) > int(planned)
    try:
        return date.fromisoformat(later) > date.fromisoformat(planned)
    except ValueError:
        return False


_AFTER_SHIFT = timedelta(hours=1)
"""How long after a shift its daily work is signed as that shift's.  Plant default, no source."""


class Admission:
    """Judges one entry against the book, inside the running transaction.  ``notes`` are told to the writer."""

    def __init__(self, entries: EntryStore, rows: Projections, known: Known, projector: Projector) -> None:
        self._entries, self._rows, self._projector = entries, rows, projector
        self.known = known
        self.notes: list[str] = []

    def admitted(self, entry: Entry) -> tuple[Entry, Recorded | None]:
        """The entry as it goes into the book, and the one it replaces; raises :class:`Refused` with the reason."""
        checks.check_signer(self.known, entry.by, entry.at)
        replaced = self._replaced(entry)
        match entry:
            case Count():
                self.known.counter(entry.press)
            case Fit() | Unfit():
                entry = self._with_press(entry)
            case Sign():
                self._check_sign(entry, replaced)
            case Defer() | Cancel():
                self._check_put_off(entry)
            case Verify():
                self._check_verify(entry)
            case Strike():
                self._check_strike(entry)
            case Hold() | Release() | Pause() | Resume():
                self._check_standing(entry)
            case Fault():
                entry = self._reported(entry)
            case Stated() | Note():
                self._check_said(entry)
            case _:
                entry = self._by_its_own(entry)
        return entry, replaced

    def _by_its_own(self, entry: Entry) -> Entry:
        counter = self._projector.counter
        admission: CountAdmission | QualityAdmission | CareAdmission | RepairAdmission | SuspectAdmission
        match entry:
            case Fault() | Repair() | Release():
                admission = RepairAdmission(self._rows, self.known, counter)
            case Dispose() | Narrow() | Override():
                admission = SuspectAdmission(self._rows.file, self.known)
            case Check() | Misread():
                admission = QualityAdmission(self._rows, self.known, counter)
            case Retire() | Picture():
                admission = CareAdmission(self._entries, self._rows, self.known, counter)
            case _:
                admission = CountAdmission(self._rows, self.known, counter)
        admitted = admission.admitted(entry)
        self.notes += admission.notes
        return admitted

    def _replaced(self, entry: Entry) -> Recorded | None:
        if entry.corrects is None:
            return None
        old = self._in_effect(entry.corrects)
        if type(old.entry) is not type(entry) or isinstance(entry, Verify | Strike | Define):
            raise Refused(f"Entry #{old.id} is of another kind; correct it by one of the same kind, or strike it.")
        if not entry.because:
            raise Refused(f"Say why #{old.id} is corrected; both values and the reason stay in the book.")
        return old

    def _in_effect(self, number: int) -> Recorded:
        old = self._entries.one(number)
        if old is None:
            raise NotFound("entry", f"#{number}")
        through = self._rows.effect_lost_through(number)
        if through is not None:
            raise Refused(f"Entry #{number} has no effect any more: see #{through}.")
        return old

    def _with_press(self, entry: Fit | Unfit) -> Fit | Unfit:
        item = self.known.item(entry.item)
        inside = None
        if isinstance(entry, Fit):
            inside = self.known.item(entry.inside)
            checks.check_fits(item, inside, self.known.zone.day(entry.at))
            for one in (item, inside):
                check_not_gone(self._rows.file, self.known, one.id, entry.at, "fitted any more")
            self._check_may_run(entry)
        elif entry.to is not None:
            self.known.place(entry.to)
        if entry.count is None:
            return replace(entry, press=None) if entry.press else entry
        press = entry.press or self._projector.counter.press_at(inside.id if inside else item.id, entry.at)
        if press is None:
            raise Refused(
                f"{item.id} hangs on no press at that moment; leave the count away, or fit what holds it first."
            )
        self.known.press(press)
        return replace(entry, press=press)

    def _check_may_run(self, fit: Fit) -> None:
        """Neither the item nor anything in it may rest, be held or be past a hard stop by then, unless a named person
        gave leave or somebody vouches that it hangs there all the same; what was fitted before, was fitted."""
        self._check_not_resting(fit.item, fit.at)
        alarms = Alarms(self._rows.file, Judge(self._rows, self.known))
        for bar in alarms.bars(fit.item, fit.at):
            leave = alarms.leave(bar, fit.at)
            if leave:
                self.notes.append(f"{bar.item} must not run ({bar.reason}); leave for {strokes(leave)} is left.")
            elif fit.because:
                self.notes.append(
                    f"ALARM: {bar.item} must not run ({bar.reason}). It is written because it hangs there; take it off "
                    "before it makes a piece."
                )
            else:
                raise Refused(_must_not_run(bar))

    def _check_not_resting(self, item: str, at: datetime) -> None:
        for row in self._rows.standings_of(item):
            if row.what == "pause" and row.since <= utc_text(at):
                shown = self.known.zone.show(from_utc_text(row.since)) + (f" ({row.reason})" if row.reason else "")
                raise Refused(
                    f"{item} is in storage or out of use since {shown}. Bring it back first ('resume'); what has to "
                    "be done before it runs is asked for then."
                )
        for content in self._rows.inside_now(item):
            self._check_not_resting(content.item, at)

    def _check_sign(self, sign: Sign, replaced: Recorded | None) -> None:
        item, task = self.known.item(sign.item), self.known.task(sign.task)
        person = checks.check_signer(self.known, sign.by, sign.at)
        self.notes += checks.check_sign(self.known, sign, item, task)
        checks.check_role(person, task.by, f"{task.title} on {item.id}")
        if sign.gauge is not None:
            self.notes += check_gauge_counts(self._rows.file, self.known, sign.gauge, sign.at)
        if sign.occurrence == EXTRA:
            return
        line = self._line(item, task)
        taken = self._rows.sign_off_for(item.id, task.id, sign.occurrence)
        if (
            taken is not None
            and (replaced is None or taken.entry != replaced.id)
            and not _asked_again(sign, line, taken)
        ):
            name = self.known.names.get(taken.by) or taken.by
            when = self.known.zone.show(from_utc_text(taken.at))
            if taken.how == How.CANCELLED:
                raise Refused(
                    f"{line_name(item.id, task.id)} for {sign.occurrence} was cancelled: {name}, {when}. If it was "
                    f"done after all, strike #{taken.entry} first; work done besides is recorded as an extra."
                )
            raise AlreadySigned(line_name(item.id, task.id), sign.occurrence, name, when)
        if replaced is None or not self._may_have_been_open(sign, task, line):
            self._check_occurrence(sign, task, line)

    def _line(self, item: Item, task: Task) -> Line:
        self._projector.counter.settle()
        return Judge(self._rows, self.known).line(item, task)

    def _check_occurrence(self, sign: Sign, task: Task, line: Line) -> None:
        if sign.occurrence in (line.occurrence, *line.also):
            self._check_open(sign, task, line)
            return
        if task.each_shift and "/" in sign.occurrence:
            shift = self.known.calendar.named(sign.occurrence)
            if shift.start <= sign.at < shift.end + _AFTER_SHIFT:
                return
        if line.last is not None and sign.at < line.last.at and self._may_have_been_open(sign, task, line):
            return
        if sign.occurrence.isdigit() and line.occurrence.isdigit():
            self._check_open(sign, task, line)
            return
        raise Refused(
            f"{line_name(sign.item, task.id)} is not planned for {sign.occurrence}; what is open is {line.occurrence}. "
            "Look at the board again, or record the work as an extra."
        )

    def _may_have_been_open(self, sign: Sign, task: Task, line: Line) -> bool:
        """Whether work told late, from before the last sign-off, names an occurrence that could be open by then."""
        if sign.occurrence.isdigit() or line.due_strokes is not None:
            return True  # strokes may have opened it, whatever day it is named by
        try:
            planned = date.fromisoformat(sign.occurrence[:10])
        except ValueError:
            return False
        due = min(planned, self.known.workdays.moved(planned, task.day_off_move))
        return due <= self.known.zone.day(sign.at) + timedelta(days=task.early_days)

    def _check_open(self, sign: Sign, task: Task, line: Line) -> None:
        """Work before the window opens is an extra: it would move the next due date for ever forward.

        The lead may sign it all the same, and so begin the interval anew.
        """
        if sign.at >= line.edges.opens or Role.LEAD in self.known.person(sign.by).roles:
            return
        if line.edges.opens < NEVER or line.strokes is None or line.due_strokes is None:
            opens = self.known.zone.show(line.edges.opens)
        else:
            limit = stroke_limits(task, line.due_strokes).opens
            opens = f"at {strokes(limit)}, and {grouped(line.strokes.best)} are done"
        raise Refused(
            f"{line_name(sign.item, sign.task)} is not open yet: its window opens {opens}. Work done before that can "
            "be recorded as an extra; it does not move the due date. The lead may sign it all the same."
        )

    def _open_line(self, entry: Defer | Cancel, what: str) -> Line:
        """The line whose open occurrence is deferred or cancelled."""
        item, task = self.known.item(entry.item), self.known.task(entry.task)
        name = line_name(item.id, task.id)
        if task.statutory:
            raise Refused(
                f"{name} is asked for by law; it is not {what}. Take {item.id} out of use if it cannot be done."
            )
        if not entry.because:
            raise Refused(f"Say why {name} is {what}; the reason stays in the book.")
        checks.check_role(self.known.person(entry.by), checks.MAY_DEFER, f"that {name} is {what}")
        self._projector.counter.settle()
        line = Judge(self._rows, self.known).line(item, task)
        if entry.occurrence not in (line.occurrence, *line.also):
            raise Refused(f"{name} is not planned for {entry.occurrence}; what is open is {line.occurrence}.")
        return line

    def _check_put_off(self, entry: Defer | Cancel) -> None:
        if isinstance(entry, Defer):
            self._check_defer(entry, self._open_line(entry, "deferred"))
        else:
            self._open_line(entry, "cancelled")

    def _check_defer(self, entry: Defer, line: Line) -> None:
        task = self.known.task(entry.task)
        name = line_name(entry.item, entry.task)
        if not entry.risk:
            raise Refused(f"Say what may happen while {name} waits; who defers answers for it.")
        if task.each_shift or not (line.due_day or line.due_strokes):
            raise Refused(f"{name} is not deferred: do it now, or cancel this one with a reason.")
        times = len(
            [row for row in self._rows.deferrals_of(entry.item, entry.task) if row.occurrence == entry.occurrence]
        )
        if times >= task.max_deferrals:
            raise Refused(
                f"{name} for {entry.occurrence} was deferred {times} times already; that is the most allowed."
            )
        if not _is_later(entry.occurrence, entry.to):
            raise Refused(
                f"{entry.to!r} is no later planned point than {entry.occurrence}; give a later one, written alike."
            )

    def _reported(self, entry: Fault) -> Entry:
        item = self.known.item(entry.item)
        press = self._projector.counter.press_at(item.id, entry.at)
        if entry.crash and press is not None and press != item.id:
            raise Refused(f"Report the crash on {press}, where {item.id} hangs: it concerns all that hangs there.")
        return self._by_its_own(entry)

    def _check_said(self, entry: Stated | Note) -> None:
        if isinstance(entry, Stated):
            self._check_stated(entry)
        else:
            checks.check_note(entry)

    def _check_stated(self, entry: Stated) -> None:
        item, task = self.known.item(entry.item), self.known.task(entry.task)
        name = line_name(item.id, task.id)
        checks.check_role(self.known.person(entry.by), checks.MAY_DEFER, "the history of a line as stated")
        checks.check_stated(self.known, entry, item, task)
        missing = not_told_by_a_word(task)
        if missing:
            self.notes.append(f"{name} takes a {missing}: what is stated is kept and does not count.")
        elif task.every is None and task.rule is None:
            self.notes.append(f"{name} does not go by the calendar: what is stated is kept and moves nothing.")

    def _check_verify(self, entry: Verify) -> None:
        old = self._in_effect(entry.entry)
        if not isinstance(old.entry, Sign):
            raise Refused(f"#{old.id} is no sign-off; there is nothing to verify.")
        task = self.known.task(old.entry.task)
        if task.second_signature is None:
            raise Refused(f"{task.title} asks for no second signature.")
        if entry.at < old.entry.at:
            done = self.known.zone.show(old.entry.at)
            raise Refused(f"The work of #{old.id} was done {done}; its second signature comes after that.")
        person = self.known.person(entry.by)
        if entry.by == old.entry.by:
            raise Refused(f"{person.name} did the work of #{old.id}; the second signature is by another person.")
        checks.check_role(person, [task.second_signature], f"the second signature of {task.title}")
        if self._projector.verified(old):
            raise Refused(f"#{old.id} has its second signature already.")

    def _check_strike(self, entry: Strike) -> None:
        old = self._in_effect(entry.entry)
        if isinstance(old.entry, Begin):
            raise Refused("The first entry is the beginning of this book; it is not struck.")
        if isinstance(old.entry, Define):
            raise Refused("A definition is not struck; load the definition files with what should hold instead.")
        written = old.entry.recorded_at or old.entry.at
        own = entry.by == old.entry.by
        undo = own and (entry.recorded_at or entry.at) - written <= timedelta(seconds=self.known.facts.undo_seconds)
        if undo:
            return
        if not entry.because:
            raise Refused(
                f"#{old.id} was written {self.known.zone.show(written)}: undoing ends after "
                f"{self.known.facts.undo_seconds} s. Strike it with a reason instead; both stay in the book."
            )
        if not own:
            checks.check_role(self.known.person(entry.by), checks.MAY_RELEASE, "the striking of somebody else's entry")

    def _check_standing(self, entry: Hold | Release | Pause | Resume) -> None:
        item = self.known.item(entry.item)
        in_force = {row.what for row in self._rows.standings_of(item.id)}
        if isinstance(entry, Hold | Release) and not entry.because:
            raise Refused(
                f"Say why {item.id} is {'held' if isinstance(entry, Hold) else 'released'}; the reason stays."
            )
        if isinstance(entry, Release):
            check_not_gone(self._rows.file, self.known, item.id, entry.at, "released")
            checks.check_role(self.known.person(entry.by), checks.MAY_RELEASE, f"the release of {item.id}")
            if "hold" not in in_force:
                raise Refused(f"{item.id} is not held.")
            self._by_its_own(entry)
        if isinstance(entry, Resume) and "pause" not in in_force:
            raise Refused(f"{item.id} is not in storage or out of use.")


def _must_not_run(bar: Bar) -> str:
    if bar.hold:
        return (
            f"{bar.item} is held: {bar.reason}. It must not run until it is released. If it hangs there all the same, "
            "write it with a reason; that raises an alarm."
        )
    return (
        f"{bar.item} is {bar.reason}. It must not run until that is done, or the lead or quality give it leave "
        "('override'). If it hangs there all the same, write it with a reason; that raises an alarm."
    )


def _asked_again(sign: Sign, line: Line, taken: SignOffRow) -> bool:
    """Whether the plan, changed since, asks anew for an occurrence that was signed and counted before."""
    return (
        sign.occurrence in (line.occurrence, *line.also)
        and line.last is not None
        and (taken.at, taken.entry) <= (utc_text(line.last.at), line.last.entry)
    )

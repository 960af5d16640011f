"""Admission: whether one entry may go into this book as it stands - the checks that need more than the entry itself."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from upkeep.admission import rules as checks
from upkeep.admission.checks import QualityAdmission
from upkeep.admission.counting import CountAdmission
from upkeep.admission.faults import RepairAdmission
from upkeep.admission.retirement import CareAdmission, check_not_gone
from upkeep.admission.signing import SignAdmission
from upkeep.admission.suspect import SuspectAdmission
from upkeep.answers.alarms import Alarms, Bar
from upkeep.due.facts import not_told_by_a_word
from upkeep.entries.bookkeeping import Begin, Note, Strike
from upkeep.entries.checking import Check, Misread
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry, Recorded
from upkeep.entries.faults import Fault, Hold, Pause, Release, Repair, Resume
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.lives import Picture, Retire
from upkeep.entries.planning import Define
from upkeep.entries.signing import Cancel, Defer, Sign, Stated, Verify
from upkeep.entries.suspect import Dispose, Narrow, Override
from upkeep.errors import NotFound, Refused
from upkeep.keeping.definitions import Known
from upkeep.keeping.judging import Judge
from upkeep.keeping.projecting import Projector
from upkeep.plant.line_names import LineName
from upkeep.said import Moment, Numeral, Said, Value, said
from upkeep.store.entries import EntryStore
from upkeep.store.projections import Projections
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.units.quantities import in_strokes


class Admission:
    """Judges one entry against the book, inside the running transaction.  ``notes`` are told to the writer."""

    def __init__(self, entries: EntryStore, rows: Projections, known: Known, projector: Projector) -> None:
        self._entries, self._rows, self._projector = entries, rows, projector
        self.known = known
        self.notes: list[Said] = []

    def admitted(self, entry: Entry) -> tuple[Entry, Recorded | None]:
        """The entry as it goes into the book, and the one it replaces; raises :class:`Refused` with the reason."""
        checks.check_signer(self.known, entry.by, entry.at)
        replaced = self._replaced(entry)
        match entry:
            case Count():
                self.known.counter(entry.press)
            case Fit() | Unfit():
                entry = self._with_press(entry)
            case Sign() | Defer() | Cancel():
                self._check_answer(entry, replaced)
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
            raise Refused(
                said(
                    "Entry #{entry} is of another kind; correct it by one of the same kind, or strike it.",
                    entry=Numeral(old.id),
                )
            )
        if not entry.because:
            raise Refused(
                said(
                    "Say why #{entry} is corrected; both values and the reason stay in the book.", entry=Numeral(old.id)
                )
            )
        return old

    def _in_effect(self, number: int) -> Recorded:
        old = self._entries.one(number)
        if old is None:
            raise NotFound(said("entry"), f"#{number}")
        through = self._rows.effect_lost_through(number)
        if through is not None:
            raise Refused(
                said(
                    "Entry #{entry} has no effect any more: see #{through}.",
                    entry=Numeral(number),
                    through=Numeral(through),
                )
            )
        return old

    def _with_press(self, entry: Fit | Unfit) -> Fit | Unfit:
        item = self.known.item(entry.item)
        inside = None
        if isinstance(entry, Fit):
            inside = self.known.item(entry.inside)
            checks.check_fits(item, inside, self.known.zone.day(entry.at))
            for one in (item, inside):
                check_not_gone(self._rows.file, self.known, one.id, entry.at, said("fitted any more"))
            self._check_may_run(entry)
        elif entry.to is not None:
            self.known.place(entry.to)
        if entry.count is None:
            return replace(entry, press=None) if entry.press else entry
        press = entry.press or self._projector.counter.press_at(inside.id if inside else item.id, entry.at)
        if press is None:
            raise Refused(
                said(
                    "{item} hangs on no press at that moment; leave the count away, or fit what holds it first.",
                    item=item.id,
                )
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
                self.notes.append(
                    said(
                        "{item} must not run ({reason}); leave for {strokes} is left.",
                        item=bar.item,
                        reason=bar.reason,
                        strokes=in_strokes(leave),
                    )
                )
            elif fit.because:
                self.notes.append(
                    said(
                        "ALARM: {item} must not run ({reason}). It is written because it hangs there; take it off "
                        "before it makes a piece.",
                        item=bar.item,
                        reason=bar.reason,
                    )
                )
            else:
                raise Refused(_must_not_run(bar))

    def _check_not_resting(self, item: str, at: datetime) -> None:
        for row in self._rows.standings_of(item):
            if row.what == "pause" and row.since <= utc_text(at):
                since: Value = Moment(from_utc_text(row.since), self.known.zone)
                if row.reason:
                    since = said("{moment} ({reason})", moment=since, reason=row.reason)
                raise Refused(
                    said(
                        "{item} is in storage or out of use since {since}. Bring it back first ('resume'); what has to "
                        "be done before it runs is asked for then.",
                        item=item,
                        since=since,
                    )
                )
        for content in self._rows.inside_now(item):
            self._check_not_resting(content.item, at)

    def _check_answer(self, entry: Sign | Defer | Cancel, replaced: Recorded | None) -> None:
        admission = SignAdmission(self._rows, self.known, self._projector)
        admission.check(entry, replaced)
        self.notes += admission.notes

    def _reported(self, entry: Fault) -> Entry:
        item = self.known.item(entry.item)
        press = self._projector.counter.press_at(item.id, entry.at)
        if entry.crash and press is not None and press != item.id:
            raise Refused(
                said(
                    "Report the crash on {press}, where {item} hangs: it concerns all that hangs there.",
                    press=press,
                    item=item.id,
                )
            )
        return self._by_its_own(entry)

    def _check_said(self, entry: Stated | Note) -> None:
        if isinstance(entry, Stated):
            self._check_stated(entry)
        else:
            checks.check_note(entry)

    def _check_stated(self, entry: Stated) -> None:
        item, task = self.known.item(entry.item), self.known.task(entry.task)
        name = str(LineName(item.id, task.id))
        checks.check_role(self.known.person(entry.by), checks.MAY_DEFER, said("the history of a line as stated"))
        checks.check_stated(self.known, entry, item, task)
        missing = not_told_by_a_word(task)
        if missing:
            lacking = said("a grade") if missing == "grade" else said("a second signature")
            self.notes.append(
                said("{line} takes {missing}: what is stated is kept and does not count.", line=name, missing=lacking)
            )
        elif task.every is None and task.rule is None:
            self.notes.append(
                said("{line} does not go by the calendar: what is stated is kept and moves nothing.", line=name)
            )

    def _check_verify(self, entry: Verify) -> None:
        old = self._in_effect(entry.entry)
        if not isinstance(old.entry, Sign):
            raise Refused(said("#{entry} is no sign-off; there is nothing to verify.", entry=Numeral(old.id)))
        task = self.known.task(old.entry.task)
        if task.second_signature is None:
            raise Refused(said("{task} asks for no second signature.", task=task.title))
        if entry.at < old.entry.at:
            done = Moment(old.entry.at, self.known.zone)
            raise Refused(
                said(
                    "The work of #{entry} was done {done}; its second signature comes after that.",
                    entry=Numeral(old.id),
                    done=done,
                )
            )
        person = self.known.person(entry.by)
        if entry.by == old.entry.by:
            raise Refused(
                said(
                    "{person} did the work of #{entry}; the second signature is by another person.",
                    person=person.name,
                    entry=Numeral(old.id),
                )
            )
        checks.check_role(person, [task.second_signature], said("the second signature of {task}", task=task.title))
        if self._projector.verified(old):
            raise Refused(said("#{entry} has its second signature already.", entry=Numeral(old.id)))

    def _check_strike(self, entry: Strike) -> None:
        old = self._in_effect(entry.entry)
        if isinstance(old.entry, Begin):
            raise Refused(said("The first entry is the beginning of this book; it is not struck."))
        if isinstance(old.entry, Define):
            raise Refused(said("A definition is not struck; load the definition files with what should hold instead."))
        written = old.entry.recorded_at or old.entry.at
        own = entry.by == old.entry.by
        undo = own and (entry.recorded_at or entry.at) - written <= timedelta(seconds=self.known.facts.undo_seconds)
        if undo:
            return
        if not entry.because:
            raise Refused(
                said(
                    "#{entry} was written {written}: undoing ends after {seconds} s. Strike it with a reason "
                    "instead; both stay in the book.",
                    entry=Numeral(old.id),
                    written=Moment(written, self.known.zone),
                    seconds=Numeral(self.known.facts.undo_seconds),
                )
            )
        if not own:
            checks.check_role(
                self.known.person(entry.by), checks.MAY_RELEASE, said("the striking of somebody else's entry")
            )

    def _check_standing(self, entry: Hold | Release | Pause | Resume) -> None:
        item = self.known.item(entry.item)
        in_force = {row.what for row in self._rows.standings_of(item.id)}
        if isinstance(entry, Hold | Release) and not entry.because:
            raise Refused(
                said(
                    "Say why {item} is {what}; the reason stays.",
                    item=item.id,
                    what=said("held") if isinstance(entry, Hold) else said("released"),
                )
            )
        if isinstance(entry, Release):
            check_not_gone(self._rows.file, self.known, item.id, entry.at, said("released"))
            checks.check_role(
                self.known.person(entry.by), checks.MAY_RELEASE, said("the release of {item}", item=item.id)
            )
            if "hold" not in in_force:
                raise Refused(said("{item} is not held.", item=item.id))
            self._by_its_own(entry)
        if isinstance(entry, Resume) and "pause" not in in_force:
            raise Refused(said("{item} is not in storage or out of use.", item=item.id))


def _must_not_run(bar: Bar) -> Said:
    if bar.hold:
        return said(
            "{item} is held: {reason}. It must not run until it is released. If it hangs there all the same, "
            "write it with a reason; that raises an alarm.",
            item=bar.item,
            reason=bar.reason,
        )
    return said(
        "{item} is {reason}. It must not run until that is done, or the lead or quality give it leave "
        "('override'). If it hangs there all the same, write it with a reason; that raises an alarm.",
        item=bar.item,
        reason=bar.reason,
    )

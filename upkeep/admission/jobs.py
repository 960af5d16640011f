"""Admission of what is under way: jobs, locks, and shifts handed over."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import ClassVar

from upkeep.admission import rules as checks
from upkeep.admission.subject import Judges, SubjectAdmission
from upkeep.answers.under_way.jobs import WorkUnderWay
from upkeep.entries.jobs import HANDED, GiveUp, GoOn, Handover, Interrupt, Lock, Start, Unlock
from upkeep.errors import NotFound, Refused
from upkeep.keeping.context import Context
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Kind
from upkeep.said import Moment, Numeral, Quoted, Said, in_turn, listed, said
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.views.jobs import Job
from upkeep.wording.jobs import begins_anew_said

HANDED_OVER_FROM = timedelta(hours=1)
"""How long before a shift ends it may be handed over already.  Plant default, no source."""


class JobAdmission(SubjectAdmission):
    """Judges jobs by who has them, locks by whose they are, handovers by their shift."""

    # Jobs

    def _check_start(self, start: Start) -> None:
        self._refuse_correction(start)
        item, task = self._known.item(start.item), self._known.task(start.task)
        line = LineName(item.id, task.id)
        if task not in self._known.tasks_on(item):
            raise Refused(said("{task} is no work on {item}.", task=task.title, item=item.id))
        for row in self._rows.jobs_not_ended_by(item.id, task.id, utc_text(start.at)):
            began = self._context.entries.by_number(row.entry)
            assert began is not None
            raise Refused(
                said(
                    "{name} began {line} {at} (#{job}). Take it over ('go-on {job}'), or leave it to them.",
                    name=self._context.names.of(began.entry.by, row.entry),
                    line=str(line),
                    at=Moment(from_utc_text(row.at), self._known.zone),
                    job=Numeral(row.entry),
                )
            )

    def _check_interrupt(self, left: Interrupt) -> None:
        job = self._own_job(left.job, left.by, left.at)
        if job.interrupted_at is not None and left.corrects is None:
            raise Refused(
                said(
                    "{line} has waited since {at} already: {why}.",
                    line=job.line,
                    at=Moment(job.interrupted_at, self._known.zone),
                    why=job.why,
                )
            )
        if not left.because.strip():
            raise Refused(said("Say what {line} waits for; whoever comes next reads it.", line=job.line))
        if left.step is not None and left.step > max(job.steps, 0):
            raise Refused(said("{line} has {n} steps, not {step}.", line=job.line, n=job.steps, step=left.step))

    def _check_go_on(self, on: GoOn) -> None:
        job = self._job(on.job, on.at)
        own = self._known.is_one_person(on.by, job.by)
        if own and job.interrupted_at is None:
            raise Refused(said("You are working on {line} already.", line=job.line))
        if not own:
            self.notes.append(said("{line} is taken over from {name}.", line=job.line, name=job.name))
        if job.ran:
            self.notes.append(begins_anew_said(job))

    def _check_give_up(self, given_up: GiveUp) -> None:
        job = self._own_job(given_up.job, given_up.by, given_up.at)
        if not given_up.because.strip():
            raise Refused(said("Say why {line} is given up; the reason stays.", line=job.line))

    def _own_job(self, number: int, by: str, at: datetime) -> Job:
        job = self._job(number, at)
        if not self._known.is_one_person(by, job.by):
            raise Refused(
                said(
                    "{name} has {line}. Take it over first ('go-on {job}').",
                    name=job.name, line=job.line, job=Numeral(job.number),
                )
            )  # fmt: skip
        return job

    def _job(self, number: int, at: datetime) -> Job:
        """A job that was under way at a moment."""
        self._counter.settle()
        job = WorkUnderWay(self._context.at(max(at, self._context.moment))).job(number)
        if at < job.since:
            raise Refused(
                said(
                    "{name} has had {line} since {since}; nothing can have become of that job before.",
                    name=job.name, line=job.line, since=Moment(job.since, self._known.zone),
                )
            )  # fmt: skip
        return job

    # Locks

    def _check_lock(self, lock: Lock) -> None:
        self._refuse_correction(lock)
        press = self._known.item(lock.item)
        if press.kind is not Kind.PRESS:
            raise Refused(said("{item} is a {kind}; a lock hangs on a press.", item=press.id, kind=press.kind))
        if not lock.point.strip():
            raise Refused(said("Say where the lock hangs, like 'main switch' or 'air valve'."))
        for other in WorkUnderWay(self._context).locks():
            same = other.press == press.id and other.point.casefold() == lock.point.strip().casefold()
            if same and self._known.is_one_person(other.by, lock.by):
                raise Refused(
                    said(
                        "Your lock hangs at {point} of {press} already (#{lock}).",
                        point=Quoted(other.point), press=press.id, lock=Numeral(other.number),
                    )
                )  # fmt: skip

    def _check_unlock(self, unlock: Unlock) -> None:
        row = self._rows.begun(unlock.lock)
        hung = self._context.entries.by_number(unlock.lock)
        if row is None or hung is None or not isinstance(hung.entry, Lock):
            raise NotFound(said("lock"), f"#{unlock.lock}")
        if row.until is not None and row.ended_by != unlock.corrects:
            off = Moment(from_utc_text(row.until), self._known.zone)
            raise Refused(said("Lock #{lock} came off {off} already.", lock=Numeral(unlock.lock), off=off))
        if unlock.at < hung.entry.at:
            raise Refused(said("Lock #{lock} did not hang yet then.", lock=Numeral(unlock.lock)))
        if self._known.is_one_person(unlock.by, hung.entry.by):
            if unlock.witness is not None:
                raise Refused(said("You take your own lock off yourself; leave out the witness."))
            return
        self._check_removal(unlock, hung.entry, self._context.names.of(hung.entry.by, hung.id))

    def _check_removal(self, unlock: Unlock, hung: Lock, owner: str) -> None:
        """Somebody else's lock: only by the plant's own procedure, and not by its owner's word of mouth.

        The usual rule of the United States is 29 CFR 1910.147(e)(3) (from memory): the owner is known not to be at the
        plant, every reasonable effort was made to reach them, and they are told before they work there again.
        """
        procedure = self._known.facts.lock_removal
        lock = said("the lock of {owner} on {press}", owner=owner, press=hung.item)
        if not procedure:
            raise Refused(
                said(
                    "This plant states no procedure for a lock whose owner is away, so {lock} stays on the list. Have "
                    "the procedure of your energy control programme written into plant.toml (lock_removal).",
                    lock=lock,
                )
            )
        quoted_procedure = said("The plant's procedure: {procedure}", procedure=Quoted(procedure))
        if unlock.witness is None or not unlock.because.strip():
            wants = said("To take {lock} off the list, name a witness and say why.", lock=lock)
            raise Refused(in_turn(wants, quoted_procedure))
        witness = checks.check_signer(self._known, unlock.witness, unlock.at)
        for other in (unlock.by, hung.by):
            if self._known.is_one_person(witness.id, other):
                raise Refused(said("The witness is a third person, not {name}.", name=witness.name))
        self.notes += [
            quoted_procedure,
            said("{owner} has to know of it before working on {press} again.", owner=owner, press=hung.item),
            said("Local law and the plant's own procedure decide (United States: 29 CFR 1910.147(e)(3))."),
        ]

    # Handovers

    def _check_handover(self, handed: Handover) -> None:
        span = self._known.calendar.named(handed.shift)
        shift = Quoted(handed.shift)
        if handed.side not in HANDED:
            raise Refused(said("A shift is {sides}.", sides=listed(HANDED)))
        if handed.at < span.end - HANDED_OVER_FROM:
            raise Refused(
                said("The shift {shift} ends {end}; it is too early to hand it over.", shift=shift,
                     end=Moment(span.end, self._known.zone))
            )  # fmt: skip
        for row in self._rows.handovers_of(handed.shift):
            earlier = self._context.entries.by_number(row.entry)
            assert earlier is not None
            name = self._context.names.of(earlier.entry.by, row.entry)
            at = Moment(from_utc_text(row.at), self._known.zone)
            if row.side == handed.side and row.entry != handed.corrects:
                told = said("given") if row.side == HANDED[0] else said("accepted")
                raise Refused(
                    said("{shift} was {told} already: {name}, {at}.", shift=shift, told=told, name=name, at=at)
                )
            if row.side != handed.side and self._known.is_one_person(handed.by, earlier.entry.by):
                raise Refused(
                    said("One person gives a shift and another accepts it; {name} has done one of both.", name=name)
                )

    # Both

    def _refuse_correction(self, begun: Start | Lock) -> None:
        """What refers to a job or a lock names the entry that began it; another one in its place would leave that
        behind."""
        if begun.corrects is not None:
            what: Said = said("job") if isinstance(begun, Start) else said("lock")
            raise Refused(said("A {what} that was written wrongly is struck, and written anew as it is.", what=what))

    JUDGES: ClassVar[Judges] = {
        Start: _check_start,
        Interrupt: _check_interrupt,
        GoOn: _check_go_on,
        GiveUp: _check_give_up,
        Lock: _check_lock,
        Unlock: _check_unlock,
        Handover: _check_handover,
    }


def check_not_locked(context: Context, press: str) -> None:
    """Refuses to let a press run, by whatever entry, while anybody's lock hangs on it."""
    locks = [
        said("{name} at {point}", name=lock.name, point=lock.point)
        for lock in WorkUnderWay(context).locks()
        if lock.press == press
    ]
    if locks:
        raise Refused(
            said(
                "{item} is locked: {locks}. It is released once every lock has come off.",
                item=press,
                locks=listed(locks),
            )
        )

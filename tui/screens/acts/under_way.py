"""Deeds about work under way: jobs begun, left, gone on with, given up; locks; the shift before."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from tui.screens.acts.deed import Ask, Asks, Deed, Filled, On, Subject
from tui.screens.acts.lines import BECAUSE, lines_said
from tui.screens.frame.book_door import BookDoor
from upkeep.entries.entry import Entry
from upkeep.entries.jobs import GiveUp, GoOn, Handover, Interrupt, Lock, Start, Unlock
from upkeep.errors import Refused
from upkeep.plant.model import Kind
from upkeep.said import Said, minute, said
from upkeep.views.jobs import Job
from upkeep.wording.handover import EYES
from upkeep.wording.jobs import LOCK_CAUTION, begins_anew_said, lock_said, shift_said

_PRESS = frozenset({Kind.PRESS})


def _job(subject: Subject) -> Job:
    job = subject.line.job
    if job is None:
        raise Refused(said("Nobody has begun {line}.", line=subject.line.line))
    return job


def _nothing(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return ()


def _of_job(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    _job(subject)
    return ()


def _why_of_job(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    _job(subject)
    return (BECAUSE,)


def _left(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    steps = _job(subject).steps
    return (
        Ask("because", said("What it waits for")),
        Ask("step", said("Which step is done, 0 to {n}", n=steps), Asks.NUMBER, needed=False),
        Ask("left", said("Where the parts lie"), needed=False),
    )


def _caution(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Said]:
    return (book.sign_form(subject.line.line, at).caution,)


def _going_on(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Said]:
    job = subject.line.job
    anew = (begins_anew_said(job),) if job is not None and job.ran else ()
    return (*_caution(book, subject, at), *anew)


def _start(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    line = filled.subject.line
    return [Start(at=filled.at, by=filled.by, item=line.item, task=line.task)]


def _interrupt(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        Interrupt(
            at=filled.at, by=filled.by, job=_job(filled.subject).number, step=filled.number_or_none("step"),
            left=filled.text("left"), because=filled.text("because"),
        )
    ]  # fmt: skip


def _go_on(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [GoOn(at=filled.at, by=filled.by, job=_job(filled.subject).number)]


def _give_up(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [GiveUp(at=filled.at, by=filled.by, job=_job(filled.subject).number, because=filled.text("because"))]


def _lock_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (Ask("point", said("Where your lock hangs")),)


def _lock(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [Lock(at=filled.at, by=filled.by, item=filled.subject.named, point=filled.text("point"))]


def _unlock_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    locks = [lock for lock in book.locks(at) if lock.press == subject.named]
    if not locks:
        raise Refused(said("No lock hangs on {press}.", press=subject.named))
    options = tuple((str(lock.number), lock_said(lock, lambda moment: minute(moment, book.zone))) for lock in locks)
    return (
        Ask("lock", said("Which lock"), Asks.PICK, options, options[0][0] if len(options) == 1 else ""),
        Ask("witness", said("Witness, where its owner is away (short id)"), needed=False),
        Ask("because", said("Why, where its owner is away"), needed=False),
    )


def _unlock_minds(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Said]:
    procedure = book.facts.lock_removal
    own = said("Each lock is taken off by its owner alone.")
    away = said("Where the owner is away, the plant's procedure decides: {procedure}", procedure=procedure)
    return (own, away) if procedure else (own,)


def _unlock(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    witness, because = filled.text("witness") or None, filled.text("because")
    return [Unlock(at=filled.at, by=filled.by, lock=int(filled.text("lock")), witness=witness, because=because)]


def _handed_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    view = book.handover(at)
    sides = [("accepted", said("I come: I accept it")), ("given", said("I leave: I give it"))]
    shift = said("The {shift}", shift=shift_said(view.shift))
    return (
        Ask("side", shift, Asks.PICK, tuple(sides), "given" if view.ends_at > at else "accepted"),
        Ask("text", said("What there is to say of it"), needed=False),
    )


def _hand_over(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    shift, text = book.handover(filled.at).shift, filled.text("text")
    return [Handover(at=filled.at, by=filled.by, shift=shift, side=filled.text("side"), text=text)]


DEEDS = (
    Deed("start", "start", said("Begin the job"), On.LINE, _nothing, _start,
         lambda filled: said("{what} begun", what=lines_said(filled.subject)), _caution),
    Deed("interrupt", "interrupt", said("Leave the job for a while"), On.LINE, _left, _interrupt,
         lambda filled: said("{what} left for a while", what=lines_said(filled.subject))),
    Deed("go-on", "go-on", said("Go on with the job, or take it over"), On.LINE, _of_job, _go_on,
         lambda filled: said("{what} gone on with", what=lines_said(filled.subject)), _going_on),
    Deed("give-up", "give-up", said("Give the job up"), On.LINE, _why_of_job, _give_up,
         lambda filled: said("{what} given up", what=lines_said(filled.subject))),
    Deed("lock", "lock", said("My lock hangs on it"), On.ITEM, _lock_asks, _lock,
         lambda filled: said("a lock on {press}", press=filled.subject.named),
         lambda book, subject, at: (LOCK_CAUTION,), kinds=_PRESS),
    Deed("unlock", "unlock", said("A lock is off"), On.ITEM, _unlock_asks, _unlock,
         lambda filled: said("a lock off {press}", press=filled.subject.named), _unlock_minds, kinds=_PRESS),
    Deed("handover", "handover", said("Give or accept the shift"), On.PLANT, _handed_asks, _hand_over,
         lambda filled: said("the shift handed over"), lambda book, subject, at: (EYES,)),
)  # fmt: skip

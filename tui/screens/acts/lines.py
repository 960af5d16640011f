"""Deeds on lines of the board: work done at another time, put off, cancelled, stated; remarks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from tui.present.signing import GRADES
from tui.screens.acts.deed import Ask, Asks, Deed, Filled, On, Subject
from tui.screens.frame.book_door import BookDoor
from upkeep.entries.entry import Entry
from upkeep.entries.lives import Remark
from upkeep.entries.origin import NOT_KNOWN, Origin, Proof, WayIn
from upkeep.entries.signing import Cancel, Defer, Sign, Stated
from upkeep.errors import Refused
from upkeep.said import Said, listed, said, said_many
from upkeep.units.instants import Zone
from upkeep.views.board import BoardLine
from upkeep.views.signing import SignForm, taken_by_point, with_measured
from upkeep.wording.points import point_said, taken_said

BECAUSE = Ask("because", said("The reason"))


def lines_said(subject: Subject) -> Said:
    """The line, or how many."""
    if len(subject.lines) == 1:
        return said("{task} on {item}", task=subject.line.title, item=subject.line.item)
    return said_many("{n} line", "{n} lines", n=len(subject.lines))


# Work done at another time, or signed by somebody else on paper


def _done_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    forms = [book.sign_form(line.line, at) for line in subject.lines]
    signers = {person: said("{name}", name=name) for form in forms for person, name in form.signers}
    asks = [
        Ask("done", said("When was it done, like 6:05"), Asks.MOMENT),
        Ask("paper", said("On whose paper, if not yours"), Asks.NAMED, tuple(signers.items()), needed=False),
    ]
    if len(forms) == 1:
        asks += _measured(forms[0], book.zone)
    return (*asks, Ask("remark", said("Remark"), needed=False))


def _measured(form: SignForm, zone: Zone) -> Iterator[Ask]:
    taken = taken_by_point(form)
    for point in form.points:
        there = taken.get(point.id)
        beside = taken_said(there, point.unit, zone) if there is not None else None
        for number in range(1, point.readings + 1):
            label = point_said(point, number)
            yield Ask(f"{point.id}.{number}", label, Asks.VALUE, needed=there is None, beside=beside)
    for gauges in form.gauges:
        options = tuple(
            (gauge.id, said("{id}  {title}", id=gauge.id, title=gauge.title)) for gauge in gauges.choices if gauge.valid
        )
        label = said("Gauge: {kind}", kind=gauges.gauge_class)
        asked = any(form.classes.get(point.id) == gauges.gauge_class and point.id not in taken for point in form.points)
        yield Ask(f"gauge.{gauges.gauge_class}", label, Asks.PICK, options, gauges.likely or "", needed=asked)
    if form.graded:
        yield Ask("grade", said("Grade"), Asks.PICK, tuple((str(grade), words) for grade, words in GRADES.items()))


def _done(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [_done_one(book, filled, line) for line in filled.subject.lines]


def _done_one(book: BookDoor, filled: Filled, line: BoardLine) -> Sign:
    at, signer = filled.moment("done"), filled.picked("paper") or filled.by
    on_paper = signer != filled.by
    form = book.sign_form(line.line, filled.at)
    values = {
        point.id: tuple(filled.value(f"{point.id}.{number}") for number in range(1, point.readings + 1))
        for point in form.points
        if all(f"{point.id}.{number}" in filled.values for number in range(1, point.readings + 1))
    }
    gauges = {one.gauge_class: filled.picked(f"gauge.{one.gauge_class}") for one in form.gauges}
    grade = filled.picked("grade")
    sign = Sign(
        at=at, by=signer, task=line.task, item=line.item, occurrence=book.occurrence_signed(line.line, at),
        grade=None if grade is None else int(grade), remark=filled.text("remark"),
        origin=Origin(WayIn.SCREEN, proof=Proof.PAPER, entered_by=filled.by) if on_paper else NOT_KNOWN,
    )  # fmt: skip
    return with_measured(sign, form, values, gauges)


def _cautions(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Said]:
    """What to mind at the work of the lines, each once."""
    return [book.sign_form(line.line, at).caution for line in subject.lines]


def _sign_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    forms = [book.sign_form(line.line, at) for line in subject.lines]
    measured = [form.line.line for form in forms if form.points or form.graded or form.gauges]
    if measured:
        raise Refused(
            said("Something is measured here, so each is signed on its own: {lines}.", lines=listed(measured))
        )
    return (Ask("remark", said("Remark"), needed=False),)


def _sign(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        Sign(
            at=filled.at, by=filled.by, task=line.task, item=line.item, occurrence=line.occurrence,
            remark=filled.text("remark"),
        )
        for line in filled.subject.lines
    ]  # fmt: skip


def _done_told(filled: Filled) -> Said:
    return said("{what}, done at another time", what=lines_said(filled.subject))


# Put off, cancelled, stated, remarked


def _defer_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    planned = subject.line.due_strokes
    by_strokes = planned is not None and subject.line.occurrence.isdigit()
    to = said("To how many strokes") if by_strokes else said("To which day, like 2026-03-16")
    return (
        Ask("to", to, Asks.NUMBER if by_strokes else Asks.DAY),
        Ask("risk", said("What may happen while it waits")),
        BECAUSE,
    )


def _defer(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        Defer(
            at=filled.at, by=filled.by, task=line.task, item=line.item, occurrence=line.occurrence,
            to=filled.text("to"), risk=filled.text("risk"), because=filled.text("because"),
        )
        for line in filled.subject.lines
    ]  # fmt: skip


def _cancel(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        Cancel(
            at=filled.at, by=filled.by, task=line.task, item=line.item, occurrence=line.occurrence,
            because=filled.text("because"),
        )
        for line in filled.subject.lines
    ]  # fmt: skip


def _because(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (BECAUSE,)


def _remark_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (Ask("text", said("What the lead should know")),)


def _remark(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        Remark(at=filled.at, by=filled.by, item=line.item, task=line.task, text=filled.text("text"))
        for line in filled.subject.lines
    ]


def _stated_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (Ask("done", said("The day it was last done, before this book began"), Asks.DAY),)


def _stated(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    line, done = filled.subject.line, filled.text("done")
    return [Stated(at=filled.at, by=filled.by, task=line.task, item=line.item, done=done)]


DEEDS = (
    Deed(
        "done",
        "sign",
        said("Sign what was done at another time"),
        On.LINE,
        _done_asks,
        _done,
        _done_told,
        minds=_cautions,
        each=True,
        when=False,
    ),
    Deed(
        "sign",
        "sign",
        said("Sign as done now"),
        On.LINE,
        _sign_asks,
        _sign,
        lambda filled: said("{what} done", what=lines_said(filled.subject)),
        minds=_cautions,
        each=True,
        when=False,
    ),
    Deed(
        "defer",
        "defer",
        said("Put off"),
        On.LINE,
        _defer_asks,
        _defer,
        lambda filled: said("{what} put off to {to}", what=lines_said(filled.subject), to=filled.text("to")),
        each=True,
    ),
    Deed(
        "cancel",
        "cancel",
        said("Cancel: it will not be done"),
        On.LINE,
        _because,
        _cancel,
        lambda filled: said("{what} cancelled", what=lines_said(filled.subject)),
        each=True,
    ),
    Deed(
        "remark",
        "remark",
        said("Remark on the line"),
        On.LINE,
        _remark_asks,
        _remark,
        lambda filled: said("remark on {what}", what=lines_said(filled.subject)),
        each=True,
    ),
    Deed(
        "stated",
        "stated",
        said("State when it was last done before the book"),
        On.LINE,
        _stated_asks,
        _stated,
        lambda filled: said("{what} stated", what=lines_said(filled.subject)),
        when=False,
    ),
)

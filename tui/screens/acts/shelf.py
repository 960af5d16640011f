"""Deeds on the shelf: spares received, taken, put back, counted and ordered; items sent to rework and taken in."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from tui.screens.acts.deed import Ask, Asks, Deed, Filled, On, Subject
from tui.screens.frame.book_door import BookDoor
from upkeep.entries.entry import Entry
from upkeep.entries.shelf.moves import Buy, CountShelf, GiveBack, Issue
from upkeep.entries.shelf.outside import ComeBack, SendOut, TakeIn
from upkeep.plant.model import PARTS, Kind
from upkeep.said import Said, said

_SENT = frozenset({*PARTS, Kind.MODULE, Kind.DIE_SET, Kind.GAUGE})


def _spare(book: BookDoor) -> Ask:
    spares = book.known.spares.values()
    options = tuple((one.id, said("{spare}  {title}", spare=one.id, title=one.title)) for one in spares)
    return Ask("spare", said("Which spare"), Asks.NAMED, options)


_MANY = Ask("many", said("How many pieces"), Asks.NUMBER)
_BATCH = Ask("batch", said("Batch"), needed=False)
_IDS = Ask("pieces", said("Ids of parts that have them, like CP-201,CP-202"), needed=False)
_WHY = Ask("because", said("Reason"), needed=False)


def _pieces(filled: Filled) -> tuple[str, ...]:
    return tuple(part.strip() for part in filled.text("pieces").split(",") if part.strip())


def _receive_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    used = Ask("used", said("Strokes each had done before, where it is not new"), Asks.NUMBER, needed=False)
    return (_spare(book), _MANY, _BATCH, _IDS, used, _WHY)


def _receive(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return book.received(
        filled.at, filled.by, filled.text("spare"), filled.number("many"), batch=filled.picked("batch"),
        pieces=_pieces(filled), used=filled.number_or_none("used") or 0, because=filled.text("because"),
    )  # fmt: skip


def _taken_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    line = subject.lines[0].line if len(subject.lines) == 1 else ""
    job = Ask("line", said("For which job: item/task"), preset=line, needed=False)
    return (_spare(book), _MANY, job, _BATCH, _IDS, _WHY)


def _issue(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        Issue(at=filled.at, by=filled.by, spare=filled.text("spare"), number=filled.number("many"),
              batch=filled.picked("batch"), pieces=_pieces(filled), line=filled.picked("line"),
              because=filled.text("because"))
    ]  # fmt: skip


def _give_back(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        GiveBack(at=filled.at, by=filled.by, spare=filled.text("spare"), number=filled.number("many"),
                 batch=filled.picked("batch"), pieces=_pieces(filled), line=filled.picked("line"),
                 because=filled.text("because"))
    ]  # fmt: skip


def _count_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (_spare(book), _MANY, _BATCH, _IDS, _WHY)


def _count(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        CountShelf(at=filled.at, by=filled.by, spare=filled.text("spare"), number=filled.number("many"),
                   batch=filled.picked("batch"), pieces=_pieces(filled), because=filled.text("because"))
    ]  # fmt: skip


def _buy_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    expected = Ask("expected", said("Expected on, like 2026-03-16"), Asks.DAY)
    return (_spare(book), _MANY, expected, Ask("text", said("Number at the supplier"), needed=False))


def _buy(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        Buy(at=filled.at, by=filled.by, spare=filled.text("spare"), number=filled.number("many"),
            expected=filled.text("expected"), text=filled.text("text"))
    ]  # fmt: skip


def _send_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (
        Ask("to", said("To whom")),
        Ask("expected", said("Expected on, like 2026-03-16"), Asks.DAY),
        Ask("text", said("What is to be done to it")),
    )


def _send(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        SendOut(at=filled.at, by=filled.by, item=filled.subject.named, to=filled.text("to"),
                expected=filled.text("expected"), text=filled.text("text"))
    ]  # fmt: skip


def _back_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    bears = Ask("bears", said("Id on what came, where that is another piece"), needed=False)
    return (Ask("text", said("The supplier's own record"), needed=False), bears)


def _back(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        ComeBack(at=filled.at, by=filled.by, item=filled.subject.named, bears=filled.picked("bears"),
                 text=filled.text("text"))
    ]  # fmt: skip


_GOOD, _BAD = "good", "bad"


def _take_in_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    found = ((_GOOD, said("good: it may be fitted")), (_BAD, said("bad: it may not")))
    return (Ask("found", said("It was found"), Asks.PICK, found), Ask("text", said("What was measured, and what seen")))


def _take_in(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        TakeIn(at=filled.at, by=filled.by, item=filled.subject.named, good=filled.text("found") == _GOOD,
               text=filled.text("text"))
    ]  # fmt: skip


def _told(filled: Filled) -> Said:
    return said("{n} of {spare}", n=filled.number("many"), spare=filled.text("spare"))


MOVES = (
    Deed(
        "receive", "receive", said("Spares came in"), On.PLANT, _receive_asks, _receive,
        lambda filled: said("received: {spares}", spares=_told(filled)),
    ),
    Deed(
        "issue", "issue", said("Spares taken off the shelf"), On.PLANT, _taken_asks, _issue,
        lambda filled: said("taken: {spares}", spares=_told(filled)),
    ),
    Deed(
        "give-back", "give-back", said("Spares put back on the shelf"), On.PLANT, _taken_asks, _give_back,
        lambda filled: said("put back: {spares}", spares=_told(filled)),
    ),
    Deed(
        "count-shelf", "count-shelf", said("Spares counted"), On.PLANT, _count_asks, _count,
        lambda filled: said("counted: {spares}", spares=_told(filled)),
    ),
    Deed(
        "buy", "buy", said("Spares ordered"), On.PLANT, _buy_asks, _buy,
        lambda filled: said("ordered: {spares}", spares=_told(filled)),
    ),
)  # fmt: skip
"""What moves on the shelf, in a plant that has one."""

DEEDS = (
    Deed(
        "send-out", "send-out", said("Sent out for rework"), On.ITEM, _send_asks, _send,
        lambda filled: said("{item} sent out", item=filled.subject.named), kinds=_SENT,
    ),
    Deed(
        "come-back", "come-back", said("Back from rework"), On.ITEM, _back_asks, _back,
        lambda filled: said("{item} back from rework", item=filled.subject.named), kinds=_SENT,
    ),
    Deed(
        "inspect-return", "take-in", said("Receiving inspection after rework"), On.ITEM, _take_in_asks, _take_in,
        lambda filled: said("receiving inspection of {item}", item=filled.subject.named), kinds=_SENT,
    ),
)  # fmt: skip
"""What goes out for rework and comes back."""

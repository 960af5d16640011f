"""Deeds on what is in the book already: the steps of a fault, corrections, strikes, hold lists, what was seen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from tui.screens.acts.deed import Ask, Asks, Deed, Filled, On, Subject
from tui.screens.acts.lines import BECAUSE
from tui.screens.frame.book_door import BookDoor
from upkeep.entries.bookkeeping import Seen, Strike
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.faults import Repair, Stage
from upkeep.entries.suspect import DISPOSITIONS, Disposition, Restriction
from upkeep.entries.text import entry_of, words_of
from upkeep.errors import Refused
from upkeep.quality.symptoms import causes
from upkeep.said import Numeral, Said, said, term
from upkeep.units.instants import utc_text
from upkeep.views.faults import FaultCase

_SHOWN = 30
"""Entries of an item that are offered to be corrected or struck."""


# Faults


def _fault_ask(book: BookDoor, subject: Subject, at: datetime) -> tuple[Ask, FaultCase]:
    """Which open fault, and the newest of them."""
    faults = book.faults(at).listing(subject.named, only_open=True).faults
    if not faults:
        raise Refused(said("{item} has no open fault.", item=subject.named))
    options = tuple(
        (str(fault.number), said("#{n}  {symptom}: {state}", n=Numeral(fault.number), symptom=term(fault.symptom),
                                 state=term(fault.state, "state of a fault")))
        for fault in faults
    )  # fmt: skip
    return Ask("fault", said("Which fault"), Asks.PICK, options, options[0][0]), faults[0]


def _step(stage: Stage) -> Callable[[BookDoor, Filled], Sequence[Entry]]:
    def entries(book: BookDoor, filled: Filled) -> Sequence[Entry]:
        tried = tuple(word.strip() for word in filled.text("what").split(",") if word.strip())
        return [
            Repair(
                at=filled.at, by=filled.by, fault=int(filled.text("fault")), stage=stage, what=tried,
                cause=filled.picked("cause"), text=filled.text("text"),
            )
        ]  # fmt: skip

    return entries


def _told(stage: Stage) -> Callable[[Filled], Said]:
    return lambda filled: said(
        "fault #{n} {stage}", n=Numeral(int(filled.text("fault"))), stage=term(stage, "state of a fault")
    )


def _cautions(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Said]:
    """What to mind before anybody touches it."""
    faults = book.faults(at).listing(subject.named, only_open=True).faults
    return [caution for fault in faults for caution in fault.cautions]


def _taken_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (_fault_ask(book, subject, at)[0], Ask("text", said("Remark"), needed=False))


def _cause() -> Ask:
    options = tuple((key, term(title)) for key, title in causes().items())
    return Ask("cause", said("The cause, by its id or a part of its name"), Asks.NAMED, options)


def _fixed_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (_fault_ask(book, subject, at)[0], _cause(), Ask("text", said("What was done")))


def _verified_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    which, newest = _fault_ask(book, subject, at)
    tried = Ask("what", said("What was tried"), preset=",".join(newest.wanted))
    return (which, tried, Ask("text", said("Remark"), needed=False))


# Corrections and strikes


def _entry_ask(book: BookDoor, subject: Subject) -> Ask:
    """Which entry of the item, the newest first; those without effect are left out."""
    lines = [
        line for line in book.history(subject.named, _SHOWN) if not (line.struck_by or line.corrected_by)
        if line.kind not in ("strike", "define")
    ]  # fmt: skip
    if not lines:
        raise Refused(said("Nothing was written about {item} that could be taken back.", item=subject.named))
    options = tuple((str(line.entry), said("#{n} {text}", n=Numeral(line.entry), text=line.text)) for line in lines)
    label = said("Which entry, by its number")
    return Ask("entry", label, Asks.NAMED, options, options[0][0] if len(options) == 1 else "")


def _strike_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (_entry_ask(book, subject), BECAUSE)


def _strike(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    entry, because = int(filled.text("entry")), filled.text("because")
    return [Strike(at=filled.at, by=filled.by, entry=entry, because=because)]


def _correct_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (
        _entry_ask(book, subject),
        Ask("figure", said("A count: what it should say"), Asks.NUMBER, needed=False),
        Ask("moment", said("When it really happened"), Asks.MOMENT, needed=False),
        Ask("words", said("Anything else: its words as they should be"), needed=False),
        BECAUSE,
    )


def _correct(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    """The entry again with what was wrong put right; its own time stays where no other is given."""
    number = int(filled.text("entry"))
    old = book.entry(number)
    words, figure = words_of(old), filled.number_or_none("figure")
    if figure is not None:
        if not isinstance(old, Count):
            raise Refused(said("#{entry} is no count; type its words as they should be.", entry=Numeral(number)))
        words = f"count {old.press} {figure}"
    at = filled.moment("moment") if "moment" in filled.values else old.at
    words = filled.text("words") or words
    if at == old.at and words == words_of(old):
        raise Refused(said("Nothing is different yet: say what it should be."))
    return [entry_of(words, at=at, by=filled.by, corrects=number, because=filled.text("because"))]


# Suspect product


def _list_ask(book: BookDoor, subject: Subject, at: datetime) -> Ask:
    lists = book.suspects(at).lists(subject.named)
    if not lists:
        raise Refused(said("{item} has no open hold list.", item=subject.named))
    options = tuple((str(one.number), said("#{n} {found}", n=Numeral(one.number), found=one.found)) for one in lists)
    return Ask("list", said("Which hold list"), Asks.PICK, options, options[0][0])


def _dispose_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    fates = tuple((how, term(how, "disposition")) for how in DISPOSITIONS)
    return (
        _list_ask(book, subject, at),
        Ask("row", said("Which line of the list"), Asks.NUMBER, preset="1"),
        Ask("how", said("What becomes of it"), Asks.PICK, fates),
        *(
            Ask(f"pieces.{how}", said("Pieces {how}", how=said_of), Asks.NUMBER, needed=False)
            for how, said_of in fates[1:]
        ),
        BECAUSE,
    )


def _dispose(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    number, row = int(filled.text("list")), filled.number("row")
    lines = [line for line in book.suspects(filled.at).hold_list(number).lines if line.row == row]
    if not lines:
        raise Refused(said("Hold list #{n} has no line {row}.", n=Numeral(number), row=row))
    return [
        Disposition(
            at=filled.at, by=filled.by, list=number, press=lines[0].press, since=utc_text(lines[0].since),
            how=filled.text("how"), because=filled.text("because"), pieces=_pieces(filled),
        )
    ]  # fmt: skip


def _pieces(filled: Filled) -> tuple[tuple[str, int], ...]:
    """How many pieces became what, as far as it was typed."""
    told = ((how, filled.number_or_none(f"pieces.{how}")) for how in DISPOSITIONS)
    return tuple((how, pieces) for how, pieces in told if pieces)


def _restrict_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    strokes = Ask("strokes", said("From how many strokes of the item on"), Asks.NUMBER, unit=said("strokes"))
    return (_list_ask(book, subject, at), strokes, Ask("because", said("The calculation")))


def _restrict(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    number, strokes = int(filled.text("list")), filled.number("strokes")
    return [Restriction(at=filled.at, by=filled.by, list=number, strokes=strokes, because=filled.text("because"))]


# Questions


def _seen_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    asked = [one for one in book.questions(at) if one.about == subject.named]
    if not asked:
        raise Refused(said("Nothing about {item} waits to be seen.", item=subject.named))
    options = (("all", said("all of it is seen")), *((utc_text(one.since), one.asks) for one in asked))
    return (Ask("since", said("What is seen"), Asks.PICK, options, "all"),)


def _seen(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    item, since = filled.subject.named, filled.text("since")
    asked = dict.fromkeys(utc_text(one.since) for one in book.questions(filled.at) if one.about == item)
    return [Seen(at=filled.at, by=filled.by, item=item, since=one) for one in asked if since in ("all", one)]


DEEDS = (
    Deed(
        "taken",
        "repair",
        said("Fault taken on"),
        On.ITEM,
        _taken_asks,
        _step(Stage.TAKEN),
        _told(Stage.TAKEN),
        minds=_cautions,
    ),
    Deed(
        "fixed",
        "repair",
        said("Fault fixed: cause and what was done"),
        On.ITEM,
        _fixed_asks,
        _step(Stage.FIXED),
        _told(Stage.FIXED),
        minds=_cautions,
    ),
    Deed(
        "verified",
        "repair",
        said("Repair verified: what was tried"),
        On.ITEM,
        _verified_asks,
        _step(Stage.VERIFIED),
        _told(Stage.VERIFIED),
    ),
    Deed("closed", "repair", said("Fault closed"), On.ITEM, _taken_asks, _step(Stage.CLOSED), _told(Stage.CLOSED)),
    Deed(
        "analysed",
        "repair",
        said("Root cause of a fault that comes back"),
        On.ITEM,
        _fixed_asks,
        _step(Stage.ANALYSED),
        _told(Stage.ANALYSED),
    ),
    Deed(
        "correct",
        "correct",
        said("Correct an entry"),
        On.ITEM,
        _correct_asks,
        _correct,
        lambda filled: said("correction of #{n}", n=Numeral(int(filled.text("entry")))),
        when=False,
    ),
    Deed(
        "strike",
        "strike",
        said("Strike an entry that was never true"),
        On.ITEM,
        _strike_asks,
        _strike,
        lambda filled: said("strike of #{n}", n=Numeral(int(filled.text("entry")))),
        when=False,
    ),
    Deed(
        "disposition",
        "disposition",
        said("Suspect product: what becomes of it"),
        On.ITEM,
        _dispose_asks,
        _dispose,
        lambda filled: said("disposition in list #{n}", n=Numeral(int(filled.text("list")))),
    ),
    Deed(
        "restrict",
        "restrict",
        said("Suspect window begins later"),
        On.ITEM,
        _restrict_asks,
        _restrict,
        lambda filled: said("window of list #{n}", n=Numeral(int(filled.text("list")))),
    ),
    Deed(
        "seen",
        "seen",
        said("A question about it is seen"),
        On.ITEM,
        _seen_asks,
        _seen,
        lambda filled: said("questions about {item} seen", item=filled.subject.named),
        when=False,
    ),
)

"""Deeds of a change of tools and of counters: put in, taken out, counters set back, pieces made, orders."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from tui.screens.acts.deed import Ask, Asks, Deed, Filled, On, Subject
from tui.screens.acts.lines import BECAUSE
from tui.screens.frame.book_door import BookDoor
from upkeep.entries.counting import ConfigureCounter, QuantityMade, Restart
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Put, Unfit
from upkeep.entries.planning import Order
from upkeep.errors import Refused
from upkeep.plant.model import FITS_IN, Item, Kind
from upkeep.said import Said, said, term

_WHY = Ask("because", said("The reason, where one is asked for"), needed=False)
_COUNT = Ask(
    "count", said("What the counter shows (empty: nobody read it)"), Asks.NUMBER, needed=False, unit=said("strokes")
)


def item_options(items: Sequence[Item]) -> tuple[tuple[str, Said], ...]:
    """Items to pick from, those that are gone left out."""
    return tuple(
        (item.id, said("{item}  {title}", item=item.id, title=item.title)) for item in items if not item.scrapped
    )


def _of_kinds(book: BookDoor, kinds: Sequence[Kind]) -> tuple[tuple[str, Said], ...]:
    return item_options([item for item in book.items() if item.kind in kinds])


def _counted(book: BookDoor, at: datetime, item: str) -> tuple[Ask, ...]:
    """The field for the count, where the item hangs on a press."""
    press = book.moves(at, "").press_over(item)
    if press is None:
        return ()
    label = said("What the counter of {press} shows (empty: nobody read it)", press=press)
    return (Ask("count", label, Asks.NUMBER, needed=False, unit=said("strokes")),)


# Putting in, taking out


def _hang_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    wanted = FITS_IN[book.known.item(subject.named).kind]
    inside = Ask("inside", said("Into which {kind}", kind=term(wanted, "kind")), Asks.NAMED, _of_kinds(book, [wanted]))
    return (inside, _COUNT, _WHY)


def _hang(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return _moved_in(book, filled, filled.subject.named, filled.text("inside"))


def _take_in_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    here = book.known.item(subject.named)
    kinds = [kind for kind, inside in FITS_IN.items() if inside is here.kind]
    if here.kind is Kind.PRESS:
        kinds.append(Kind.DIE_SET)  # into the module that hangs there
    what = Ask("what", said("What goes in"), Asks.NAMED, _of_kinds(book, kinds))
    return (what, *_counted(book, at, here.id), _WHY)


def _take_in(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return _moved_in(book, filled, filled.text("what"), _receiver(book, filled))


def _receiver(book: BookDoor, filled: Filled) -> str:
    """What the item goes into: the one selected, or the module on the press that was selected."""
    here, item = book.known.item(filled.subject.named), book.known.item(filled.text("what"))
    if here.kind is not Kind.PRESS or item.kind is not Kind.DIE_SET:
        return here.id
    modules = [
        key for key, inside in book.hanging(filled.at) if inside == here.id and book.known.item(key).kind is Kind.MODULE
    ]
    if not modules:
        raise Refused(said("No module hangs on {press}; put one on it first.", press=here.id))
    return modules[0]


def _moved_in(book: BookDoor, filled: Filled, item: str, inside: str) -> Sequence[Entry]:
    """The item goes in; what is in its way comes out at the same moment."""
    moves = book.moves(filled.at, filled.by, filled.text("because"))
    return moves.in_(item, inside, filled.number_or_none("count"), swap=True)


def _take_out_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    places = tuple((place.id, said("{place}  {title}", place=place.id, title=place.title)) for place in book.places())
    to = Ask("to", said("To which place, if not its home"), Asks.NAMED, places, needed=False)
    return (*_counted(book, at, subject.named), to, _WHY)


def _take_out(book: BookDoor, filled: Filled) -> Sequence[Unfit]:
    moves = book.moves(filled.at, filled.by, filled.text("because"))
    return [moves.out(filled.subject.named, filled.number_or_none("count"), filled.picked("to"))]


def _put_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    places = tuple((place.id, said("{place}  {title}", place=place.id, title=place.title)) for place in book.places())
    how = (("whole", said("whole")), ("in-pieces", said("in pieces")))
    return (
        Ask("to", said("To which place"), Asks.NAMED, places),
        Ask("how", said("How it is there"), Asks.PICK, how, "whole"),
    )


def _put(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    item, to, in_pieces = filled.subject.named, filled.text("to"), filled.text("how") == "in-pieces"
    return [Put(at=filled.at, by=filled.by, item=item, to=to, in_pieces=in_pieces)]


# Counters, pieces, orders


def _restart_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    shown = Ask("shown", said("What it showed before (empty: nobody knows)"), Asks.NUMBER, needed=False)
    return (shown, Ask("now", said("What it shows now"), Asks.NUMBER, preset="0"), BECAUSE)


def _restart(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        Restart(
            at=filled.at, by=filled.by, press=filled.subject.named, shown=filled.number_or_none("shown"),
            now=filled.number("now"), because=filled.text("because"),
        )
    ]  # fmt: skip


def _configure_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    ways = (
        ("running", said("runs on, and is never set back")),
        ("resettable", said("can be set back to zero")),
        ("countdown", said("counts down from a number")),
    )
    digits = book.known.item(subject.named).digits
    return (
        Ask("way", said("How it counts from now on"), Asks.PICK, ways),
        Ask("digits", said("How many digits it has"), Asks.NUMBER, preset=f"{digits or ''}"),
        Ask("times", said("Strokes to each count"), Asks.VALUE, preset="1"),
        BECAUSE,
    )


def _configure(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        ConfigureCounter(
            at=filled.at, by=filled.by, press=filled.subject.named, way=filled.text("way"),
            digits=filled.number("digits"), times=filled.value("times"), because=filled.text("because"),
        )
    ]  # fmt: skip


def _made_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    sets = _of_kinds(book, [Kind.DIE_SET])
    return (
        Ask("pieces", said("How many pieces were made"), Asks.NUMBER),
        Ask("minutes", said("In how many minutes, until then"), Asks.NUMBER, unit=said("min")),
        Ask("item", said("With which die set"), Asks.NAMED, sets, needed=False),
        Ask("order", said("For which order"), needed=False),
    )


def _made(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        QuantityMade(
            at=filled.at, by=filled.by, press=filled.subject.named, pieces=filled.number("pieces"),
            minutes=filled.number("minutes"), item=filled.picked("item"), order=filled.picked("order"),
        )
    ]  # fmt: skip


def _order_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    here = subject.item or ""
    return (
        Ask("order", said("Number of the order")),
        Ask("pieces", said("How many pieces"), Asks.NUMBER),
        Ask("item", said("With which die set"), Asks.NAMED, _of_kinds(book, [Kind.DIE_SET]),
            here if subject.kind == Kind.DIE_SET else ""),
        Ask("press", said("On which press"), Asks.NAMED, _of_kinds(book, [Kind.PRESS]),
            here if subject.kind == Kind.PRESS else ""),
        Ask("day", said("From which day on, like 2026-03-16"), Asks.DAY),
    )  # fmt: skip


def _order(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [
        Order(
            at=filled.at, by=filled.by, order=filled.text("order"), pieces=filled.number("pieces"),
            item=filled.text("item"), press=filled.text("press"), day=filled.text("day"),
        )
    ]  # fmt: skip


_COUNTERS = frozenset({Kind.PRESS, Kind.MODULE})

DEEDS = (
    Deed(
        "hang",
        "fit",
        said("Put it in; what is in the way comes out"),
        On.ITEM,
        _hang_asks,
        _hang,
        lambda filled: said("{item} into {inside}", item=filled.subject.named, inside=filled.text("inside")),
        kinds=frozenset(FITS_IN),
    ),
    Deed(
        "take-in",
        "fit",
        said("Put something in here; what is in the way comes out"),
        On.ITEM,
        _take_in_asks,
        _take_in,
        lambda filled: said("{item} into {inside}", item=filled.text("what"), inside=filled.subject.named),
        kinds=frozenset(FITS_IN.values()),
    ),
    Deed(
        "take-out",
        "unfit",
        said("Take it out"),
        On.ITEM,
        _take_out_asks,
        _take_out,
        lambda filled: said("{item} taken out", item=filled.subject.named),
        kinds=frozenset(FITS_IN),
    ),
    Deed(
        "put",
        "put",
        said("Put it to a place: rack, bench, toolroom, outside"),
        On.ITEM,
        _put_asks,
        _put,
        lambda filled: said("{item} put to {place}", item=filled.subject.named, place=filled.text("to")),
        kinds=frozenset({*FITS_IN, Kind.GAUGE}),
    ),
    Deed(
        "restart",
        "restart",
        said("Counter replaced or set back"),
        On.ITEM,
        _restart_asks,
        _restart,
        lambda filled: said("counter of {press} set back", press=filled.subject.named),
        kinds=_COUNTERS,
    ),
    Deed(
        "configure-counter",
        "configure-counter",
        said("How its counter counts"),
        On.ITEM,
        _configure_asks,
        _configure,
        lambda filled: said("how the counter of {press} counts", press=filled.subject.named),
        kinds=_COUNTERS,
    ),
    Deed(
        "quantity",
        "quantity",
        said("Pieces made"),
        On.ITEM,
        _made_asks,
        _made,
        lambda filled: said("{n} pieces on {press}", n=filled.number("pieces"), press=filled.subject.named),
        kinds=frozenset({Kind.PRESS}),
    ),
    Deed(
        "order",
        "order",
        said("Plan an order"),
        On.PLANT,
        _order_asks,
        _order,
        lambda filled: said("order {order}", order=filled.text("order")),
        when=False,
    ),
)

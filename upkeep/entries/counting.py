"""Entries about counters and quantities: counts, restarts, how a counter counts, pieces made, strokes not counted."""

from __future__ import annotations

from typing import Any, Protocol

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, under_item, under_press
from upkeep.entries.reader import ID, Reader
from upkeep.frozen import frozen
from upkeep.plant.rights import Act
from upkeep.said import said

BEFORE_THE_BOOK = ("bought-used", "other-plant", "before-book")
"""Strokes done before an item came into this book: bought used, in another plant, or here already."""

UNCOUNTED_WAYS = ("hand", "stood-still", "set-up", "dry", *BEFORE_THE_BOOK)
"""How strokes were done that no press counter shows, or that wear otherwise."""


@frozen(kw_only=True)
class Count(Entry):
    """A counter was read: of a press, or a module's own.

    ``rolled_over``: it passed its last figure once since the reading before.  ``after_reset``: somebody had set it back
    to zero since; what it showed before that was not read.  Then ``fastest`` is the most strokes an hour the press can
    do, as the book knew it: more than the figure tells may have been done (None, as in entries written before the book
    asked: no more is taken to have been).  ``disputes`` is the entry that cannot be true if this one is: it counts only
    when the lead has settled which of the two is wrong (None: it counts).
    """

    press: str
    value: int
    rolled_over: bool = False
    after_reset: bool = False
    fastest: int | None = None
    disputes: int | None = None


@frozen(kw_only=True)
class Restart(Entry):
    """A counter that showed one figure shows another from now on: reset, or replaced by a new one.

    The strokes go on; ``shown`` counts as the last reading of the old figure, ``now`` is what the next one counts from.
    Where nobody knows what it showed (None), the strokes since the reading before are an estimate: ``rate`` an hour of
    the clock, by how the press ran before as the book knew it, between none and ``fastest`` an hour.
    """

    press: str
    shown: int | None
    now: int
    rate: int | None = None
    fastest: int | None = None


@frozen(kw_only=True)
class ConfigureCounter(Entry):
    """How a counter counts from now on: ``way`` ("running", "resettable", "countdown", "none"), its figures, and the
    strokes to each count (10 where it counts in tens; 0.5 where it counts every stroke twice)."""

    press: str
    way: str
    digits: int
    times: float = 1.0


@frozen(kw_only=True)
class QuantityMade(Entry):
    """Pieces made on a press in the ``minutes`` before ``at``, with the die set and for the order that made them.

    Where a count was not taken, the quantities say how the strokes are shared; a press without a counter has only them.
    """

    press: str
    pieces: int
    minutes: int
    item: str | None = None
    order: str | None = None


@frozen(kw_only=True)
class UncountedStrokes(Entry):
    """Strokes that the press counter did not count as they wore: ``hand`` (not counted at all), ``stood-still`` (made
    while the counter stood still, as many as pieces), ``set-up`` or ``dry`` (counted, but wearing less),
    ``bought-used``, ``other-plant`` or ``before-book`` (done before the item came into this book: the last as a plant's
    own sheets said, stated and not verified).  ``weight`` is the plant's rule on
    that day; ``on`` the items that did them."""

    item: str
    way: str
    strokes: int
    weight: float | None = None
    on: tuple[str, ...] = ()


def _count(e: Count) -> str:
    if not (e.rolled_over or e.after_reset or e.disputes):
        return f"{e.press} {e.value}"
    disputed = "" if e.disputes is None else f" disputes #{e.disputes}"
    return f"{e.press} {e.value}{came_to_it(e)}{disputed}"


def _read_count(r: Reader) -> dict[str, Any]:
    read = {"press": r.id(said("a press")), "value": r.figure(said("a count")), **read_came_to_it(r)}
    return {**read, "disputes": r.number() if r.keyword("disputes") else None}


class _Confirmed(Protocol):
    """An entry with a figure that needed a word of how the counter came to it."""

    @property
    def rolled_over(self) -> bool: ...

    @property
    def after_reset(self) -> bool: ...

    @property
    def fastest(self) -> int | None: ...


CAME_TO_IT = '[["rolled-over"] ["after-reset"] ["fastest" figure]]'
"""How a counter came to its figure, behind it."""


def came_to_it(e: _Confirmed) -> str:
    """How a counter came to its figure, in words."""
    fastest = "" if e.fastest is None else f" fastest {e.fastest}"
    return f"{' rolled-over' * e.rolled_over}{' after-reset' * e.after_reset}{fastest}"


def read_came_to_it(r: Reader) -> dict[str, Any]:
    """The same from its words."""
    rolled_over, after_reset = r.keyword("rolled-over"), r.keyword("after-reset")
    fastest = _strokes_an_hour(r, "fastest") if rolled_over or after_reset else None
    return {"rolled_over": rolled_over, "after_reset": after_reset, "fastest": fastest}


def _strokes_an_hour(r: Reader, word: str) -> int | None:
    return r.figure(said("strokes an hour")) if r.keyword(word) else None


def _restart(e: Restart) -> str:
    if e.shown is not None:
        return f"{e.press} from {e.shown} to {e.now}"
    rates = "".join(f" {word} {n}" for word, n in (("rate", e.rate), ("fastest", e.fastest)) if n is not None)
    return f"{e.press} from ?{rates} to {e.now}"


def _read_restart(r: Reader) -> dict[str, Any]:
    press = r.id(said("a press"))
    r.expect("from")
    read: dict[str, Any] = {"press": press, "shown": None}
    if r.keyword("?"):
        read |= {word: _strokes_an_hour(r, word) for word in ("rate", "fastest")}
    else:
        read["shown"] = r.figure(said("the figure shown before, or ?"))
    r.expect("to")
    return {**read, "now": r.figure(said("the figure shown now"))}


def _read_configuration(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"press": r.id(said("a press")), "way": r.word(said("how it counts"))}
    r.expect("digits")
    read["digits"] = r.figure(said("how many digits it has"))
    r.expect("times")
    return {**read, "times": r.value(said("strokes to a count"))}


def _quantity(e: QuantityMade) -> str:
    by_order = f" order {e.order}" if e.order else ""
    return f"{e.press} {e.pieces} over {e.minutes} min{f' with {e.item}' if e.item else ''}{by_order}"


def _read_quantity(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"press": r.id(said("a press")), "pieces": r.figure(said("pieces"))}
    r.expect("over")
    read["minutes"] = r.figure(said("minutes"))
    r.expect("min")
    read["item"] = r.id(said("a die set")) if r.keyword("with") else None
    return {**read, "order": r.id(said("an order")) if r.keyword("order") else None}


def _uncounted(e: UncountedStrokes) -> str:
    weight = "" if e.weight is None else f" weight {e.weight!r}"
    on = f" on {','.join(e.on)}" if e.on else ""
    return f"{e.item} {e.way} {e.strokes}{weight}{on}"


def _read_uncounted(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"item": r.id(said("an item")), "way": r.word(said("how they were done, like hand or dry"))}
    read["strokes"] = r.figure(said("strokes"))
    if r.keyword("weight"):
        read["weight"] = r.value(said("a weight"))
    if r.keyword("on"):
        read["on"] = tuple(r.word(said("items, separated by commas")).split(","))
        if not all(map(ID.match, read["on"])):
            raise r.fail(said("items, separated by commas,"))
    return read


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Count,
        "count",
        f'press figure {CAME_TO_IT} ["disputes" "#"number]',
        _count,
        _read_count,
        under_press,
    ),
    EntryKind(
        Restart,
        "restart",
        'press "from" (figure | "?" ["rate" figure] ["fastest" figure]) "to" figure',
        _restart,
        _read_restart,
        under_press,
    ),
    EntryKind(
        ConfigureCounter,
        "configure-counter",
        'press way "digits" figure "times" value',
        lambda e: f"{e.press} {e.way} digits {e.digits} times {e.times!r}",
        _read_configuration,
        under_press,
        act=Act.COUNTER,
    ),
    EntryKind(
        QuantityMade,
        "quantity",
        'press figure "over" figure "min" ["with" item] ["order" id]',
        _quantity,
        _read_quantity,
        under_press,
    ),
    EntryKind(
        UncountedStrokes,
        "uncounted",
        'item way figure ["weight" value] ["on" item{","item}]',
        _uncounted,
        _read_uncounted,
        under_item,
    ),
)

"""Entries about spares on the shelf, and about items that are out for rework."""

from __future__ import annotations

from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, Filed, under_item, under_nothing
from upkeep.entries.reader import Reader, quoted
from upkeep.frozen import frozen
from upkeep.plant.line_names import LineName
from upkeep.plant.rights import Act
from upkeep.said import said

Measured = tuple[tuple[str, tuple[float, ...]], ...]
"""Values by measured point."""


@frozen(kw_only=True)
class ShelfMove(Entry):
    """So many pieces of a spare, counted in its unit; ``batch`` is the one they are of (None: nobody said), ``pieces``
    are the ids of those that are items."""

    spare: str
    number: int
    batch: str | None = None
    pieces: tuple[str, ...] = ()


@frozen(kw_only=True)
class Receive(ShelfMove):
    """Spares came in and lie on the shelf.  ``bought`` is the number of the order they came for; None: for none."""

    bought: int | None = None


@frozen(kw_only=True)
class Issue(ShelfMove):
    """Spares were taken off the shelf, for a ``line`` (item/task) or for something else, said in ``because``."""

    line: str | None = None


@frozen(kw_only=True)
class GiveBack(ShelfMove):
    """Spares that had been taken were put back on the shelf; ``line`` is the one they had been taken for."""

    line: str | None = None


@frozen(kw_only=True)
class CountShelf(ShelfMove):
    """Somebody counted a spare on the shelf, or one batch of it; ``should`` is what the book had, as it puts in."""

    should: int | None = None


@frozen(kw_only=True)
class Buy(Entry):
    """Spares were ordered and are expected on a day (ISO text); ``text`` is the order's own name."""

    spare: str
    number: int
    expected: str
    text: str = ""


@frozen(kw_only=True)
class SendOut(Entry):
    """An item left for rework outside the plant: ``to`` whom, what for (``text``), and the day it is ``expected``."""

    item: str
    to: str
    expected: str
    text: str


@frozen(kw_only=True)
class ComeBack(Entry):
    """An item came back from outside; ``bears`` is the id on what came, where that is another piece; ``text`` the
    supplier's own record of what was done."""

    item: str
    bears: str | None = None
    text: str = ""


@frozen(kw_only=True)
class TakeIn(Entry):
    """The receiving inspection of what came back from outside: whether it is ``good``, what was measured, and with
    which gauge.  Before it nothing is fitted."""

    item: str
    good: bool
    points: Measured = ()
    gauge: str | None = None
    text: str = ""


_FOUND = ("good", "bad")


def _move(e: ShelfMove) -> str:
    batch = "" if e.batch is None else f" batch {e.batch}"
    return f"{e.spare} {e.number}{batch}" + (f" as {','.join(e.pieces)}" if e.pieces else "")


def _read_move(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"spare": r.id(said("a spare")), "number": r.figure(said("how many"))}
    read |= r.ids_after(batch="batch")
    if r.keyword("as"):
        read["pieces"] = r.ids(said("ids of items, separated by commas,"))
    return read


def _receive(e: Receive) -> str:
    return _move(e) + ("" if e.bought is None else f" for #{e.bought}")


def _read_receive(r: Reader) -> dict[str, Any]:
    return {**_read_move(r), "bought": r.number() if r.keyword("for") else None}


def _for_line(e: Issue | GiveBack) -> str:
    return _move(e) + ("" if e.line is None else f" for {e.line}")


def _read_for_line(r: Reader) -> dict[str, Any]:
    read = _read_move(r)
    return {**read, "line": str(LineName(**r.line_name())) if r.keyword("for") else None}


def _count(e: CountShelf) -> str:
    return _move(e) + ("" if e.should is None else f" should {e.should}")


def _read_count(r: Reader) -> dict[str, Any]:
    return {**_read_move(r), "should": r.figure(said("how many the book had")) if r.keyword("should") else None}


def _text(text: str) -> str:
    return f" text {quoted(text)}" if text else ""


def _read_text(r: Reader) -> str:
    return r.json(str, said("a quoted text")) if r.keyword("text") else ""


def _read_buy(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"spare": r.id(said("a spare")), "number": r.figure(said("how many"))}
    r.expect("expected")
    return {**read, "expected": r.day(), "text": _read_text(r)}


def _read_send_out(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    r.expect("to")
    to = r.json(str, said("a quoted name"))
    r.expect("expected")
    expected = r.day()
    return {"item": item, "to": to, "expected": expected, "text": r.json(str, said("what it is sent for, quoted"))}


def _read_come_back(r: Reader) -> dict[str, Any]:
    return {"item": r.id(said("an item")), "bears": None, **r.ids_after(bears="bears"), "text": _read_text(r)}


def _take_in(e: TakeIn) -> str:
    return f"{e.item} {_FOUND[not e.good]}{written_points(e.points)}{_with(e.gauge)}{_text(e.text)}"


def _read_take_in(r: Reader) -> dict[str, Any]:
    item, good = r.id(said("an item")), r.one_of(_FOUND) == _FOUND[0]
    points = tuple(iter(r.point, None))
    gauge = r.ids_after(gauge="with")
    return {"item": item, "good": good, "points": points, **gauge, "text": _read_text(r)}


def _with(gauge: str | None) -> str:
    return "" if gauge is None else f" with {gauge}"


def written_points(points: Measured) -> str:
    """Measured values as the words of an entry have them, each behind a blank."""
    return "".join(f" {point}={','.join(map(repr, values))}" for point, values in points)


def _of_spare(e: ShelfMove | Buy) -> Filed:
    return under_nothing(e)


_MOVED = 'spare figure ["batch" id] ["as" item{","item}]'

KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Receive, "receive", f'{_MOVED} ["for" "#"number]', _receive, _read_receive, _of_spare, act=Act.SHELF
    ),
    EntryKind(Issue, "issue", f'{_MOVED} ["for" item "/" task]', _for_line, _read_for_line, _of_spare),
    EntryKind(GiveBack, "give-back", f'{_MOVED} ["for" item "/" task]', _for_line, _read_for_line, _of_spare),
    EntryKind(
        CountShelf, "count-shelf", f'{_MOVED} ["should" figure]', _count, _read_count, _of_spare, act=Act.SHELF
    ),
    EntryKind(
        Buy, "buy", 'spare figure "expected" day ["text" text]',
        lambda e: f"{e.spare} {e.number} expected {e.expected}{_text(e.text)}", _read_buy, _of_spare, act=Act.SHELF,
    ),
    EntryKind(
        SendOut, "send-out", 'item "to" text "expected" day text',
        lambda e: f"{e.item} to {quoted(e.to)} expected {e.expected} {quoted(e.text)}", _read_send_out, under_item,
        act=Act.OUTSIDE,
    ),
    EntryKind(
        ComeBack, "come-back", 'item ["bears" item] ["text" text]',
        lambda e: f"{e.item}{'' if e.bears is None else f' bears {e.bears}'}{_text(e.text)}", _read_come_back,
        under_item, standing=True, act=Act.OUTSIDE,
    ),
    EntryKind(
        TakeIn, "take-in", 'item ("good" | "bad") {point "=" value{","value}} ["with" gauge] ["text" text]',
        _take_in, _read_take_in, under_item, act=Act.REWORK,
    ),
)  # fmt: skip

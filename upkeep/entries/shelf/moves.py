"""Entries about spares: what moves on the shelf, and what was ordered for it."""

from __future__ import annotations

from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, under_nothing
from upkeep.entries.reader import Reader, quoted
from upkeep.frozen import frozen
from upkeep.plant.line_names import LineName
from upkeep.plant.rights import Act
from upkeep.said import said


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


def written_text(text: str) -> str:
    """A text that may be missing, behind its word."""
    return f" text {quoted(text)}" if text else ""


def read_text(r: Reader) -> str:
    """The same from its words."""
    return r.json(str, said("a quoted text")) if r.keyword("text") else ""


def _read_buy(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"spare": r.id(said("a spare")), "number": r.figure(said("how many"))}
    r.expect("expected")
    return {**read, "expected": r.day(), "text": read_text(r)}


_MOVED = 'spare figure ["batch" id] ["as" item{","item}]'

KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Receive, "receive", f'{_MOVED} ["for" "#"number]', _receive, _read_receive, under_nothing, act=Act.SHELF
    ),
    EntryKind(Issue, "issue", f'{_MOVED} ["for" item "/" task]', _for_line, _read_for_line, under_nothing),
    EntryKind(GiveBack, "give-back", f'{_MOVED} ["for" item "/" task]', _for_line, _read_for_line, under_nothing),
    EntryKind(
        CountShelf, "count-shelf", f'{_MOVED} ["should" figure]', _count, _read_count, under_nothing, act=Act.SHELF
    ),
    EntryKind(
        Buy, "buy", 'spare figure "expected" day ["text" text]',
        lambda e: f"{e.spare} {e.number} expected {e.expected}{written_text(e.text)}", _read_buy, under_nothing,
        act=Act.SHELF,
    ),
)  # fmt: skip

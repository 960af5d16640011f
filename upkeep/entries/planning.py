"""Entries about the plant and its plans: definitions from its files, orders."""

from __future__ import annotations

from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, Filed, under_item
from upkeep.entries.reader import Reader
from upkeep.frozen import frozen
from upkeep.plant.definition import Defined
from upkeep.plant.rights import Act
from upkeep.said import said


@frozen(kw_only=True)
class Define(Entry):
    """A definition of the plant as loaded from its files: what ("plant", "place", "person", "item", "task"), its id
    and its content as canonical JSON.  A later one for the same id replaces it from then on."""

    what: str
    key: str
    content: str


@frozen(kw_only=True)
class Order(Entry):
    """An order is planned: pieces to be made with a die set on a press from a day on (ISO date)."""

    order: str
    pieces: int
    item: str
    press: str
    day: str


def _read_define(r: Reader) -> dict[str, Any]:
    what, key, start = r.word(said("what is defined")), r.id(said("an id")), r.next_place()
    r.json(dict, said("a definition in braces"))
    return {"what": what, "key": key, "content": r.line[start : r.position]}


def _read_order(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"order": r.id(said("an order")), "pieces": r.figure(said("pieces"))}
    r.expect("with")
    read["item"] = r.id(said("a die set"))
    r.expect("on")
    read["press"] = r.id(said("a press"))
    r.expect("from")
    return {**read, "day": r.word(said("a day like 2026-03-09"))}


def _define_filed(e: Define) -> Filed:
    return Filed(e.key if e.what == Defined.ITEM else None)


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Order,
        "order",
        'id figure "with" item "on" press "from" day',
        lambda e: f"{e.order} {e.pieces} with {e.item} on {e.press} from {e.day}",
        _read_order,
        under_item,
        act=Act.ORDER,
    ),
    EntryKind(
        Define,
        "define",
        "what id json-object",
        lambda e: f"{e.what} {e.key} {e.content}",
        _read_define,
        _define_filed,
    ),
)

"""Rows of the shelf: what moved on it, what was ordered for it, and what is out for rework."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.store.rows.table import Table


class ShelfMoveRow(NamedTuple):
    """Something came onto the shelf, left it, or was counted there.

    Attributes:
        spare: The kind of spare.
        at: When.
        entry: The entry that says so.
        place: Its place among the rows of that entry, from 0.
        way: "receive", "issue", "give-back", "count-shelf", or "sign" where a sign-off used it.
        number: How many; 0 to tell one piece more of a move whose number stands in another row.
        batch: The batch they are of; None: nobody said.
        item: The piece with an id of its own; None: it is counted.
        line: The line (item/task) they were taken for; None: no line.
        bought: The order they came for, by the number of its entry; None: for none.
    """

    spare: str
    at: str
    entry: int
    place: int
    way: str
    number: int
    batch: str | None
    item: str | None
    line: str | None
    bought: int | None


class PurchaseRow(NamedTuple):
    """Spares were ordered.

    Attributes:
        spare: The kind of spare.
        at: When they were ordered.
        entry: The entry that says so, whose number names the order.
        number: How many.
        expected: The day they are expected on, as ISO text.
    """

    spare: str
    at: str
    entry: int
    number: int
    expected: str


class OutsideRow(NamedTuple):
    """An item left for rework outside the plant, came back, or was inspected on its return.

    Attributes:
        item: The item.
        at: When.
        entry: The entry that says so.
        way: "send-out", "come-back", or what the receiving inspection found: "good" or "bad".
        sent_to: To whom it was sent; None: it came back.
        expected: The day it is expected on, as ISO text; None: it came back.
        bears: The id on what came back, where that is another piece.
    """

    item: str
    at: str
    entry: int
    way: str
    sent_to: str | None
    expected: str | None
    bears: str | None


SHELF_MOVES = Table(
    "shelf_moves", ShelfMoveRow, ("spare", "at", "entry", "place"), without_rowid=True, items=("item",),
    entries=("entry", "bought"), indexes={"shelf_moves_of_item": "(item, at, entry)"},
)  # fmt: skip
PURCHASES = Table("purchases", PurchaseRow, ("entry",), indexes={"purchases_of_spare": "(spare, at)"})
OUTSIDE = Table("outside", OutsideRow, ("item", "at", "entry"), without_rowid=True, items=("item", "bears"))

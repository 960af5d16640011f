"""What the tables keep of the shelf, read by spare and by item."""

from __future__ import annotations

from upkeep.store.file import BookFile
from upkeep.store.rows.findings import RetiredRow
from upkeep.store.rows.places import FittingRow
from upkeep.store.rows.shelf import OutsideRow, PurchaseRow, ShelfMoveRow


class ShelfHistory:
    """Reads moves on the shelf, orders for it, and what is out for rework."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def moves(self, spare: str) -> list[ShelfMoveRow]:
        """The moves of a spare, oldest first."""
        return self._file.all(
            ShelfMoveRow, "SELECT * FROM shelf_moves WHERE spare = ? ORDER BY at, entry, place", (spare,)
        )

    def moves_of_item(self, item: str) -> list[ShelfMoveRow]:
        """The moves of a piece with an id of its own, oldest first."""
        return self._file.all(
            ShelfMoveRow, "SELECT * FROM shelf_moves WHERE item = ? ORDER BY at, entry, place", (item,)
        )

    def fitted(self, spare: str) -> list[FittingRow]:
        """Each fitting of a piece of a spare, by its beginning."""
        return self._file.all(
            FittingRow,
            "SELECT f.* FROM fittings f WHERE f.item IN (SELECT item FROM shelf_moves WHERE spare = ?) "
            "ORDER BY f.start, f.started_by",
            (spare,),
        )

    def gone(self, spare: str) -> list[RetiredRow]:
        """The pieces of a spare that left for ever."""
        return self._file.all(
            RetiredRow,
            "SELECT * FROM retired WHERE item IN (SELECT item FROM shelf_moves WHERE spare = ?) ORDER BY at, entry",
            (spare,),
        )

    def sent(self, spare: str) -> list[OutsideRow]:
        """When pieces of a spare were sent out for rework."""
        return self._file.all(
            OutsideRow,
            "SELECT * FROM outside WHERE way = 'send-out' AND item IN (SELECT item FROM shelf_moves WHERE spare = ?) "
            "ORDER BY at, entry",
            (spare,),
        )

    def purchases(self, spare: str) -> list[PurchaseRow]:
        """The orders for a spare, oldest first."""
        return self._file.all(PurchaseRow, "SELECT * FROM purchases WHERE spare = ? ORDER BY at, entry", (spare,))

    def purchase(self, entry: int) -> PurchaseRow | None:
        """An order by its number; None: there is none."""
        return self._file.first(PurchaseRow, "SELECT * FROM purchases WHERE entry = ?", (entry,))

    def outside_of(self, item: str) -> list[OutsideRow]:
        """What was sent out, came back and was inspected of an item, oldest first."""
        return self._file.all(OutsideRow, "SELECT * FROM outside WHERE item = ? ORDER BY at, entry", (item,))

    def last_outside(self) -> list[OutsideRow]:
        """The last of it for each item that was ever out, by item."""
        rows = self._file.all(OutsideRow, "SELECT * FROM outside ORDER BY item, at, entry")
        return list({row.item: row for row in rows}.values())

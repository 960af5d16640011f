"""What lies on the shelf, from what moved: received, taken, used by a sign-off, put back, counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import datetime

from upkeep.frozen import frozen

Batch = str | None
"""A batch; None: nobody said which."""


@frozen
class Moved:
    """One move of a spare.

    ``way`` is "receive", "issue", "give-back", "count-shelf", "sign" (a sign-off used it), or "left": a piece was
    fitted, sent out or left for ever.  ``line`` is what it was taken for; ``item`` a piece with an id of its own.
    """

    at: datetime
    entry: int
    way: str
    number: int
    batch: Batch = None
    item: str | None = None
    line: str | None = None


@frozen
class Count:
    """A count of the shelf: what the book had and what was found, and the pieces that were not there."""

    at: datetime
    entry: int
    should: int
    found: int
    missing: tuple[str, ...] = ()

    @property
    def difference(self) -> int:
        """How many more were found than the book had; below 0: fewer."""
        return self.found - self.should


class Stock:
    """A spare on the shelf after some moves.

    ``pieces`` are those with ids, each with its batch; ``loose`` the others by batch; ``bags`` what was taken for a
    line and is not used or put back yet; ``missing`` the pieces a count did not find.
    """

    def __init__(self) -> None:
        self.pieces: dict[str, Batch] = {}
        self.batch_of: dict[str, Batch] = {}
        self.loose: Counter[Batch] = Counter()
        self.bags: dict[str, Counter[Batch]] = {}
        self.missing: dict[str, datetime] = {}
        self.counts: list[Count] = []
        self.used: list[tuple[datetime, int]] = []

    @property
    def number(self) -> int:
        """How many lie on the shelf; below 0 where more were taken than the book had."""
        return len(self.pieces) + sum(self.loose.values())

    def bag(self, line: str) -> int:
        """How many were taken for a line and are not used yet."""
        return sum(self.bags.get(line, Counter()).values())

    def take(self, moves: Iterable[Moved]) -> None:
        """Brings the stock up with the rows of one entry."""
        rows = list(moves)
        if rows and rows[0].way == "count-shelf":
            self._counted(rows)
            return
        for move in rows:
            if move.item is not None:
                self._piece(move)
            else:
                self._loose(move)

    def _piece(self, move: Moved) -> None:
        item = move.item or ""
        if move.way in ("receive", "give-back"):
            self.batch_of.setdefault(item, move.batch)
            self.pieces[item] = self.batch_of[item]
            self.missing.pop(item, None)
        elif item in self.pieces:
            del self.pieces[item]
            self.used.append((move.at, 1))

    def _loose(self, move: Moved) -> None:
        if move.way == "receive":
            self.loose[move.batch] += move.number
        elif move.way == "give-back":
            self._from_bag(move.line, move.number)
            self.loose[move.batch] += move.number
            self.used.append((move.at, -move.number))
        elif move.way == "issue":
            taken = self._off(move.number, move.batch)
            self.used.append((move.at, move.number))
            if move.line is not None:
                self.bags.setdefault(move.line, Counter()).update(taken)
        elif move.way == "sign":
            self._signed(move)

    def _signed(self, move: Moved) -> None:
        """What a sign-off used comes out of the bag taken for its line, the rest off the shelf; what is left in the
        bag goes back."""
        bag = self.bags.pop(move.line or "", Counter())
        held = sum(bag.values())
        self.used.append((move.at, move.number - held))
        if held < move.number:
            self._off(move.number - held, move.batch)
            return
        for batch in _in_turn(bag, move.number):
            bag[batch] -= 1
        self.loose.update(bag)

    def _from_bag(self, line: str | None, number: int) -> None:
        bag = self.bags.get(line or "")
        if bag is not None:
            for batch in _in_turn(bag, number):
                bag[batch] -= 1

    def _off(self, number: int, batch: Batch) -> Counter[Batch]:
        """Takes loose ones off the shelf: of a batch, else of the batch that came first."""
        if batch is not None:
            self.loose[batch] -= number
            return Counter({batch: number})
        taken = Counter(_in_turn(self.loose, number))
        taken[None] += number - sum(taken.values())
        self.loose.subtract(taken)
        return taken

    def _counted(self, rows: list[Moved]) -> None:
        first = rows[0]
        batch, seen = first.batch, [row.item for row in rows if row.item is not None]
        found = sum(row.number for row in rows)
        should = self.number_of(batch)
        missing: tuple[str, ...] = ()
        if seen or self.pieces:
            missing = tuple(
                item for item, of in self.pieces.items() if item not in seen and (batch is None or of == batch)
            )
            for item in missing:
                del self.pieces[item]
                self.missing[item] = first.at
            for item in seen:
                self.pieces[item] = self.batch_of.setdefault(item, batch)
                self.missing.pop(item, None)
        loose = found - len(seen)
        if batch is not None:
            self.loose[batch] = loose
        else:
            self._set_loose(loose)
        self.counts.append(Count(first.at, first.entry, should, found, missing))

    def number_of(self, batch: Batch) -> int:
        """How many of a batch lie there; of all (None)."""
        if batch is None:
            return self.number
        return self.loose[batch] + sum(of == batch for of in self.pieces.values())

    def _set_loose(self, found: int) -> None:
        """Counted without looking at batches: what is gone came from the oldest, what is more is of none known."""
        there = sum(self.loose.values())
        if found < there:
            self._off(there - found, None)
        else:
            self.loose[None] += found - there


def _in_turn(of: Counter[Batch], number: int) -> list[Batch]:
    """So many batches, one for each piece, in the order in which they came."""
    there = [batch for batch, many in of.items() for _ in range(max(0, many))]
    return there[:number]


def stock_from(moves: Iterable[Moved]) -> Stock:
    """The stock after all moves, given in order of moment and entry."""
    stock = Stock()
    together: list[Moved] = []
    for move in moves:
        if together and move.entry != together[-1].entry:
            stock.take(together)
            together = []
        together.append(move)
    if together:
        stock.take(together)
    return stock

"""What lies on the shelf at a moment, from its rows and from where its pieces were fitted since."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime

from upkeep.answers.shelf.outside import StillOut, away
from upkeep.counting.strokes import strokes_since_new
from upkeep.keeping.context import Context
from upkeep.planning.shelf.stock import Moved, Stock, stock_from
from upkeep.plant.model import Kind
from upkeep.plant.values.spare import Spare
from upkeep.units.instants import from_utc_text
from upkeep.views.overview.shelf import OnOrder, Piece, ShelfRow


class Shelf:
    """The shelf at the moment of a context; each spare is worked out once."""

    def __init__(self, context: Context) -> None:
        self._context, self._history = context, context.shelf_history
        self._stocks: dict[str, Stock] = {}
        self._away: dict[str, StillOut] | None = None

    def stock(self, spare: str) -> Stock:
        """What lies there of a spare."""
        if spare not in self._stocks:
            self._stocks[spare] = stock_from(self._moves(spare))
        return self._stocks[spare]

    def _moves(self, spare: str) -> list[Moved]:
        history = self._history
        moves = [
            Moved(from_utc_text(row.at), row.entry, row.way, row.number, row.batch, row.item, row.line)
            for row in history.moves(spare)
        ]
        moves += [Moved(from_utc_text(row.start), row.started_by, "left", 1, item=row.item)
                  for row in history.fitted(spare)]  # fmt: skip
        moves += [Moved(from_utc_text(row.at), row.entry, "left", 1, item=row.item) for row in history.gone(spare)]
        moves += [Moved(from_utc_text(row.at), row.entry, "left", 1, item=row.item) for row in history.sent(spare)]
        return sorted(moves, key=lambda move: (move.at, move.entry))

    def coming(self, spare: Spare) -> tuple[OnOrder, ...]:
        """What is on order and not received yet, and the pieces that are out for rework, by the day expected."""
        received: dict[int, int] = {}
        for row in self._history.moves(spare.id):
            if row.bought is not None:
                received[row.bought] = received.get(row.bought, 0) + row.number
        left = [
            OnOrder(date.fromisoformat(row.expected), row.number - received.get(row.entry, 0), row.entry)
            for row in self._history.purchases(spare.id)
        ]
        out = [
            OnOrder(one.expected, 1, one.entry, one.item)
            for one in self._pieces_away().values()
            if one.item in self.stock(spare.id).batch_of
        ]
        still = [one for one in [*left, *out] if one.number > 0]
        return tuple(sorted(still, key=lambda one: (one.expected, one.entry)))

    def _pieces_away(self) -> dict[str, StillOut]:
        if self._away is None:
            self._away = {one.item: one for one in away(self._context)}
        return self._away

    def rows(self) -> tuple[ShelfRow, ...]:
        """Every spare, in the order of its id."""
        spares = self._context.known.spares
        return tuple(self.row(spares[key]) for key in sorted(spares))

    def row(self, spare: Spare) -> ShelfRow:
        """One spare as it lies there."""
        stock, context = self.stock(spare.id), self._context
        last = stock.counts[-1] if stock.counts else None
        counted = context.entries.by_number(last.entry) if last else None
        return ShelfRow(
            spare=spare.id,
            title=spare.title,
            kind=spare.kind,
            families=spare.families,
            place=spare.place,
            unit=spare.unit,
            pack=spare.pack,
            number=stock.number,
            pieces=tuple(self._pieces(stock)),
            batches=tuple((batch, many) for batch, many in stock.loose.items() if many),
            missing=tuple(sorted(stock.missing)),
            bagged=sum(sum(bag.values()) for bag in stock.bags.values()),
            coming=self.coming(spare),
            counted_at=last.at if last else None,
            counted_by=context.names.of(counted.entry.by, counted.id) if counted else None,
            difference=last.difference if last else None,
            obsolete=self.is_obsolete(spare),
            supplier=spare.supplier,
            supplier_id=spare.supplier_id,
            lead_days=spare.lead_days,
        )

    def _pieces(self, stock: Stock) -> Iterator[Piece]:
        counts, at = self._context.whereabouts.counts, self._context.moment
        for item, batch in sorted(stock.pieces.items()):
            yield Piece(item, batch, strokes_since_new(counts, item, at).best)

    def is_obsolete(self, spare: Spare) -> bool:
        """Whether every die set of the families it is for has left; one that is for any family never is."""
        return bool(spare.families) and not any(family in self._families() for family in spare.families)

    def _families(self) -> set[str]:
        known, history = self._context.known, self._context.wear_history
        sets = (item for item in known.items.values() if item.kind is Kind.DIE_SET and not item.scrapped)
        return {item.family for item in sets if item.family and history.retired(item.id) is None}

    def spare_of(self, item: str) -> tuple[str, str | None] | None:
        """The spare a piece came as, and its batch; None: it never lay on the shelf."""
        rows = [row for row in self._history.moves_of_item(item) if row.way == "receive"]
        return (rows[-1].spare, rows[-1].batch) if rows else None

    def uses(self, spare: str, since: datetime) -> int:
        """How many were used from a moment on, what was put back taken off."""
        return max(0, sum(number for at, number in self.stock(spare).used if at >= since))

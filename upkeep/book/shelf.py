"""What a book answers of the shelf, and the entries with which spares come onto it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.book.overview import Overview
from upkeep.progress import Watch, nobody

if TYPE_CHECKING:
    from upkeep.entries.entry import Entry
    from upkeep.views.overview.shelf import KitList, LifeTag, OrderList, Outside, PiecesOf, ShelfRow
    from upkeep.views.week import WeekList


class OnTheShelf(Overview):
    """The questions of the stores."""

    def keeps_spares(self) -> bool:
        """Whether the plant keeps spares on a shelf."""
        return bool(self.known.spares)

    def shelf(self, at: datetime, spare: str | None = None) -> tuple[ShelfRow, ...]:
        """What lies on the shelf, or one spare by its id or another name; raises :class:`NotFound`."""
        from upkeep.answers.shelf.stock import Shelf

        context = self._seen_from.at(at)
        shelf = Shelf(context)
        return shelf.rows() if spare is None else (shelf.row(context.known.spare(spare)),)

    def to_order(self, at: datetime, watch: Watch = nobody) -> OrderList:
        """What to order and by when; ``watch`` is told how many spares were gone through."""
        from upkeep.answers.shelf.ordering import order_list

        return order_list(self._seen_from.at(at), watch)

    def kits(self, at: datetime, week: str | WeekList | None = None) -> KitList:
        """The kits of a week - a list that was printed or frozen, or the one of a name (this week's: None) as it stands
        at the moment - by the shelf at that moment.  Raises :class:`Unreadable` for a week that is none."""
        from upkeep.answers.shelf.kits import kits_of

        listed = self.week(at, week=week) if week is None or isinstance(week, str) else week
        return kits_of(listed, self._seen_from.at(at))

    def outside(self, at: datetime, *, all_of_them: bool = False) -> tuple[Outside, ...]:
        """What is out for rework or waits for its receiving inspection, the first expected first."""
        from upkeep.answers.shelf.outside import outside

        return outside(self._seen_from.at(at), all_of_them=all_of_them)

    def life_tag(self, at: datetime, item: str) -> LifeTag:
        """What goes with a part that leaves the plant; raises :class:`NotFound`."""
        from upkeep.answers.shelf.life_tag import life_tag

        return life_tag(self._seen_from.at(at), item)

    def pieces_of(self, at: datetime, item: str) -> PiecesOf:
        """The pieces of one batch with an item, and where each is; raises :class:`NotFound`."""
        from upkeep.answers.shelf.batches import pieces_of

        return pieces_of(self._seen_from.at(at), item)

    def received(
        self, at: datetime, by: str, spare: str, number: int, *, batch: str | None = None, pieces: Sequence[str] = (),
        bought: int | None = None, used: int = 0, way: str = "bought-used", because: str = "",
    ) -> list[Entry]:  # fmt: skip
        """The entries with which spares are received: new pieces with ids are defined, and what a used one has done
        before (``used`` strokes each, in a ``way``) is told."""
        from upkeep.book.receiving import entries_received

        known = self.known
        return entries_received(
            known, at, by, known.spare(spare), number, batch=batch, pieces=pieces, bought=bought, used=used, way=way,
            because=because,
        )  # fmt: skip

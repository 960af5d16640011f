"""Where items sit and stand, and the counts of the presses they hung on: what is asked of an item beside its lines."""

from __future__ import annotations

from upkeep.keeping.definitions import Known
from upkeep.keeping.kept_counts import KeptCounts
from upkeep.keeping.lookups import Rows
from upkeep.plant.model import Item, Kind
from upkeep.store.rows.places import FittingRow


class Whereabouts:
    """Looks them up in one book at its present state, in the file or in a replay.

    Made for one question or one write: what it has looked up of fittings and counts it keeps, since many lines ask the
    same.
    """

    def __init__(self, rows: Rows, known: Known) -> None:
        self.rows, self.known = rows, known
        self.counts = KeptCounts(rows, known.calendar)
        self._last_fittings: dict[str, FittingRow | None] = {}

    def sits_in(self, item: str) -> str | None:
        """What an item sits in now; None: in nothing."""
        row = self._last_fitting(item)
        return row.inside if row and row.until is None else None

    def _last_fitting(self, item: str) -> FittingRow | None:
        if item not in self._last_fittings:
            self._last_fittings[item] = self.rows.last_fitting(item)
        return self._last_fittings[item]

    def press_of(self, item: str) -> str | None:
        """The press an item hangs on now, through whatever it sits in; a press hangs on itself."""
        key: str | None = item
        while key is not None:
            holder = self.known.items.get(key)
            if holder is not None and holder.kind is Kind.PRESS:
                return key
            key = self.sits_in(key)
        return None

    def place_of(self, item: Item) -> str:
        """Where an item is now: its press, or the place it was put, or its home; "-" if nobody said."""
        root = item.id
        inside = self.sits_in(root)
        while inside is not None:
            root, inside = inside, self.sits_in(inside)
        top = self.known.items.get(root, item)
        if top.kind is Kind.PRESS:
            return top.id
        last = self._last_fitting(root)
        return (last.left_to if last else None) or top.place or "-"

    def area_and_route(self, place: str) -> tuple[str, int]:
        """The area and walking order of a place; a press stands where its definition says."""
        press = self.known.items.get(place)
        place_named = self.known.places.get(press.place or "" if press else place)
        return (place_named.area, place_named.route) if place_named else ("-", 0)

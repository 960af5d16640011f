"""What is written where tools are changed: the item that goes in, what is in its way and comes out, the count."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from upkeep.entries.fitting import Fit, Unfit
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import Known
from upkeep.plant.model import FITS_IN, Kind


class Moves:
    """The entries of a change of tools at the moment of a context.

    ``count`` is what the counter of the press showed then; None: nobody read it, or no press is involved.
    """

    def __init__(self, context: Context, by: str, because: str) -> None:
        self._known: Known = context.known
        self._at, self._by, self._because = context.moment, by, because
        self._hanging: Mapping[str, str] = dict(context.rows.hanging())

    def press_over(self, item: str) -> str | None:
        """The press an item hangs on, through whatever it sits in; a press hangs on itself; None: on none."""
        key: str | None = item
        while key is not None and self._known.item(key).kind is not Kind.PRESS:
            key = self._hanging.get(key)
        return key

    def out(self, item: str, count: int | None, to: str | None) -> Unfit:
        """The item comes out of what it sits in, and goes ``to`` a place (None: its home)."""
        where = self.press_over(item)
        return Unfit(at=self._at, by=self._by, item=item, count=count if where else None, to=to, because=self._because)

    def in_(self, item: str, inside: str, count: int | None, *, swap: bool) -> list[Fit | Unfit]:
        """The item goes into another; with ``swap`` what is in the way comes out at the same moment."""
        where = self.press_over(inside)
        moves: list[Fit | Unfit] = []
        for content in self.in_the_way(item, inside) if swap else ():
            figure = count if self.press_over(content) == where else None
            moves.append(Unfit(at=self._at, by=self._by, item=content, count=figure, because=self._because))
        fit = Fit(
            at=self._at, by=self._by, item=item, inside=inside, count=count if where else None, because=self._because
        )
        return [*moves, fit]

    def in_the_way(self, item: str, inside: str) -> list[str]:
        """What has to come out first: the item from where it sits, and what sits in its slot."""
        kind = self._known.item(item).kind
        same = [
            other
            for other, where in self._hanging.items()
            if where == inside and other != item and self._known.item(other).kind is kind and kind in FITS_IN
        ]
        return [*([item] if item in self._hanging else []), *same]


def came_to_count(moves: Sequence[Fit | Unfit], *, rolled_over: bool, after_reset: bool) -> list[Fit | Unfit]:
    """The moves, of which the first one with a count says how the counter came to it: the others read the same."""
    counted = [place for place, move in enumerate(moves) if move.count is not None]
    return [
        replace(move, rolled_over=rolled_over, after_reset=after_reset) if place in counted[:1] else move
        for place, move in enumerate(moves)
    ]

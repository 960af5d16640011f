"""What somebody measures in the demo plant: true wear and the scatter of a reading."""

from __future__ import annotations

from random import Random

from demo_plant.shop import Shop
from upkeep.plant.model import Kind, Point

Points = tuple[tuple[str, tuple[float, ...]], ...]

NEW_SLUG_MM = 1.180
"""Slug height of a set with new parts."""

SLIGHT_MM, VISIBLE_MM, MOST_MM = 0.012, 0.030, 0.034
"""Growth of the slug height that grades 1 and 2 begin at, and the most a set of this plant reaches."""

_SCATTER_MM = 0.0015
_GROWTH_MM = (0.02e-6, 0.06e-6)
"""Growth per stroke, from the slowest to the fastest set.  Invented for the demo, like every figure here."""


class Wear:
    """How worn each die set and blade is.  ``chipped`` sets have a chipped punch."""

    def __init__(self, shop: Shop, rng: Random) -> None:
        self._shop, self._rng = shop, rng
        self._growth = {die_set: rng.uniform(*_GROWTH_MM) for die_set in shop.of_kind(Kind.DIE_SET)}
        self._as_new_at: dict[str, int] = {}
        self.chipped: set[str] = set()

    def drift_mm(self, die_set: str) -> float:
        """How much the slug height of a die set has grown since it was as new."""
        strokes = self._shop.strokes.get(die_set, 0) - self._as_new_at.get(die_set, 0)
        return min(MOST_MM, strokes * self._growth.get(die_set, 0.0))

    def make_as_new(self, item: str) -> None:
        """A die set was polished or got a new punch; a blade was changed or ground."""
        self._as_new_at[item] = self._shop.strokes.get(item, 0)
        self.chipped.discard(item)

    def readings(self, point: Point, item: str) -> tuple[float, ...]:
        """The readings of a measured point of a task."""
        return tuple(self._reading(point.id, item) for _ in range(point.readings))

    def _reading(self, point: str, item: str) -> float:
        drift, gauss = self.drift_mm(item), self._rng.gauss
        match point:
            case "slug-height":
                return round(NEW_SLUG_MM + drift + gauss(0, _SCATTER_MM), 3)
            case "crimp-width":
                return round(2.500 + drift / 2 + gauss(0, 0.004), 3)
            case "burr":
                return round((0.078 if item in self.chipped else 0.012 + drift / 3) + abs(gauss(0, 0.002)), 3)
            case "tab-burr":
                strokes = self._shop.strokes.get(item, 0) - self._as_new_at.get(item, 0)
                return round(0.02 + strokes * 0.11e-6 + abs(gauss(0, 0.003)), 3)
            case "shut-height":
                return round(135.8 + gauss(0, 0.006), 3)
            case "pressure":
                return round(5.5 + gauss(0, 0.08), 1)
            case "counted":
                return 10.0
            case "block-error":
                return 0.0
            case _:
                raise ValueError(f"nobody in the demo plant measures {point!r}")

    def grade(self, item: str, points: Points) -> int:
        """What an inspection with these readings finds."""
        if item in self.chipped:
            return 4
        if self._shop.items[item].kind is Kind.CUT_OFF_BLADE:
            return 1 if max(dict(points)["tab-burr"]) > 0.04 else 0
        if max(dict(points)["slug-height"]) > NEW_SLUG_MM + VISIBLE_MM:
            return 2
        return 1 if self.drift_mm(item) > SLIGHT_MM else 0

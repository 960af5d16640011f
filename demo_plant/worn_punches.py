"""Conductor punches of the demo plant wear out: each is good for so many strokes, then a new one takes its place."""

from __future__ import annotations

import math
from datetime import timedelta
from random import Random

from demo_plant.notebook import Notebook
from demo_plant.shop import Shop
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.lives import Retire
from upkeep.entries.signing import Sign
from upkeep.plant.model import Kind

_SHAPE = 5.0
_SCALE = {"tab-28": 90_000, "pin-15": 110_000, "splice-10": 130_000}
_SCALE_ELSEWHERE = 330_000
"""Strokes that 63 % of the punches of a family do not outlive.  Invented, as is the shape."""


class WornPunches:
    """How long each punch is good for, drawn when somebody first asks; from a seed of its own."""

    def __init__(self, shop: Shop, seed: int) -> None:
        self._rng = Random(seed)
        families = {item.id: item.family or "" for item in shop.items.values() if item.kind is Kind.DIE_SET}
        self._scale = {die_set: _SCALE.get(family, _SCALE_ELSEWHERE) for die_set, family in families.items()}
        self._life: dict[str, float] = {}

    def is_worn(self, shop: Shop, die_set: str) -> bool:
        """Whether the conductor punch of a die set has done what it is good for."""
        punch = shop.held_by(die_set, Kind.CONDUCTOR_PUNCH)
        if punch is None:
            return False
        if punch not in self._life:
            self._life[punch] = self._scale[die_set] * (-math.log(1 - self._rng.random())) ** (1 / _SHAPE)
        return shop.strokes.get(punch, 0) >= self._life[punch]

    def replace_punch(self, shop: Shop, notebook: Notebook, inspected: Sign) -> None:
        """After the inspection that found it worn: out, gone for ever, a new one in."""
        old, spares = shop.held_by(inspected.item, Kind.CONDUCTOR_PUNCH), shop.free(Kind.CONDUCTOR_PUNCH)
        if old is None or not spares:
            return
        at, by, new = inspected.at + timedelta(minutes=1), inspected.by, spares[0]
        notebook.note(Unfit(at=at, by=by, item=old))
        notebook.note(Fit(at=at, by=by, item=new, inside=inspected.item))
        notebook.note(Retire(at=at + timedelta(minutes=1), by=by, item=old, end="worn", because="edges rounded"))
        shop.take_out(old)
        shop.inside[new] = inspected.item
        shop.away.add(old)

"""A spare as the rules see it: what it is, for which families, how long it takes to come, how many are kept."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Any

from upkeep.frozen import frozen
from upkeep.plant.definition import Defined, Definition
from upkeep.plant.model import PARTS, Kind, given


class Counted(StrEnum):
    """Kinds of spares that have no ids of their own and are counted."""

    MODULE_PART = "module part"
    PRESS_PART = "press part"
    GAUGE_PART = "gauge part"
    CONSUMABLE = "consumable"


SHELF_KINDS = (*map(str, PARTS), *map(str, Counted))
"""What a spare may be."""

SERVICE = 95
"""How often, in percent, the shelf is to last until what was ordered comes.  Plant default, no source."""


@frozen
class Spare:
    """A kind of spare on the shelf.

    ``kind`` is a kind of part, or one of :class:`Counted`; ``families`` are those it is for (none: any); ``place``
    where it lies.  ``unit`` is what one of it is called, ``pack`` how many come in a box (1: they come one by one).
    ``lead_days`` is how long an order takes (None: nobody knows), ``service`` how often in percent the shelf is to
    last that long, ``least`` how many are kept whatever the forecast says (an insurance).  ``supplier`` and
    ``supplier_id`` are texts.  ``names`` are other names it goes by; ``life`` is how many strokes a new one is good
    for, where its items do not say.
    """

    id: str
    kind: str
    title: str
    place: str | None = None
    families: tuple[str, ...] = ()
    unit: str = "piece"
    pack: int = 1
    lead_days: int | None = None
    service: int = SERVICE
    least: int = 0
    supplier: str | None = None
    supplier_id: str | None = None
    names: tuple[str, ...] = ()
    life: int | None = None

    @property
    def part(self) -> Kind | None:
        """The kind of part its pieces are, each an item with an id; None: they are counted."""
        return Kind(self.kind) if self.kind in PARTS else None

    def is_for(self, family: str | None) -> bool:
        """Whether it goes into die sets of a family."""
        return not self.families or family in self.families


def spare_from(content: Mapping[str, Any]) -> Spare:
    """A spare from its definition."""
    return Spare(**given(content, families=tuple, names=tuple))


def piece_of(spare: Spare, key: str) -> Definition:
    """The item that a new piece of a spare with an id becomes."""
    content: dict[str, Any] = {"id": key, "kind": spare.kind, "title": spare.title}
    if spare.place is not None:
        content["place"] = spare.place
    if len(spare.families) == 1:
        content["family"] = spare.families[0]
    if spare.life is not None:
        content["life"] = spare.life
    return Definition(Defined.ITEM, key, content)

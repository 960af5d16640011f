"""Frozen view of where everything in the plant is."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum

from upkeep.frozen import frozen


class WhereStanding(StrEnum):
    """How an item is there."""

    ON_PRESS = "on a press"
    INSIDE = "in another item"
    PUT_AWAY = "put away"
    IN_PIECES = "in pieces"
    RESTING = "out of use"
    HELD = "held"


@frozen
class WhereRow:
    """An item: the place it is at with its area, what it sits in, how deep (0: it stands there itself), and whose it
    is (None: the plant's own).  ``standing`` is the one that matters most: held before out of use before the rest."""

    item: str
    kind: str
    title: str
    place: str
    area: str
    inside: str | None
    depth: int
    standing: WhereStanding
    owner: str | None = None
    family: str | None = None


@frozen
class WhereQuery:
    """Which items to show; empty means all.  ``search`` matches id, title, place, family and owner, ignoring case."""

    place: str | None = None
    standing: WhereStanding | None = None
    owner: str | None = None
    search: str = ""


@frozen
class Whereabouts:
    """Where everything is at a moment, in walking order: what stands at a place, and under it what sits in it."""

    at: datetime
    rows: tuple[WhereRow, ...]
    total: int

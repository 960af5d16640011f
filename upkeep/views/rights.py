"""Frozen view of who may do what in a plant."""

from __future__ import annotations

from datetime import date

from upkeep.frozen import frozen
from upkeep.plant.model import SignedWith
from upkeep.said import Said


@frozen
class RightLine:
    """One act that asks for a role: its word in plant.toml, what it is, the roles that may do it in this plant, those
    it may be given to, whether this plant has changed it, and the people who have the right now, by id."""

    act: str
    what: Said
    roles: tuple[str, ...]
    choice: tuple[str, ...]
    changed: bool
    people: tuple[str, ...]


@frozen
class TrainingLine:
    """A kind of item or a task that asks for training: who is trained for it, by id with the day it runs out (None:
    never), and whose training ran out, with its last day."""

    work: str
    trained: tuple[tuple[str, date | None], ...]
    over: tuple[tuple[str, date], ...]


@frozen
class RightsTable:
    """Every act, the keepers of the book by id (none where nobody was named, or all have left), and what asks for
    training, and whether names are given or proven."""

    acts: tuple[RightLine, ...]
    keepers: tuple[str, ...]
    training: tuple[TrainingLine, ...] = ()
    signed_with: str = SignedWith.NAMES_ONLY

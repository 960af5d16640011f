"""Frozen view of who may do what in a plant."""

from __future__ import annotations

from dataclasses import dataclass

from upkeep.said import Said


@dataclass(frozen=True, slots=True)
class RightLine:
    """One act that asks for a role: its word in plant.toml, what it is, the roles that may do it in this plant, those
    it may be given to, whether this plant has changed it, and the people who have the right now, by id."""

    act: str
    what: Said
    roles: tuple[str, ...]
    choice: tuple[str, ...]
    changed: bool
    people: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RightsTable:
    """Every act, and the keepers of the book by id; none where nobody was named, or all have left."""

    acts: tuple[RightLine, ...]
    keepers: tuple[str, ...]

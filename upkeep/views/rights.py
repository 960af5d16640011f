"""Frozen view of who may do what in a plant, and what somebody asks whether they may."""

from __future__ import annotations

from datetime import date

from upkeep.entries.entry import Entry
from upkeep.entries.faults import Repair
from upkeep.entries.fitting import Fit
from upkeep.entries.kinds import kind_of
from upkeep.frozen import frozen
from upkeep.plant.values.facts import SignedWith
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


@frozen
class Wish:
    """What somebody wants to write, as far as it is known before it is filled in: the ``verb`` of its entry, the item
    and task, what the item goes ``into``, the entry it refers to (``about``) or corrects, the ``stage`` of a repair."""

    verb: str
    item: str | None = None
    task: str | None = None
    into: str | None = None
    about: int | None = None
    corrects: int | None = None
    stage: str | None = None

    @classmethod
    def of(cls, entry: Entry) -> Wish:
        """The wish that an entry fulfils."""
        kind = kind_of(type(entry))
        filed = kind.filed(entry)
        into = entry.inside if isinstance(entry, Fit) else None
        stage = entry.stage if isinstance(entry, Repair) else None
        return cls(kind.verb, filed.item, filed.task, into, filed.about, entry.corrects, stage)

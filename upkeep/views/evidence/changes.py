"""Frozen views of what changed in the definitions of a plant: who, when, why, from what to what."""

from __future__ import annotations

from datetime import datetime

from upkeep.entries.origin import Proof
from upkeep.frozen import frozen
from upkeep.said import Said


@frozen
class FieldChange:
    """A field of a definition: its path as the definition files have it (``points.crimp-height.upper``), what people
    call it, and its value before and after in words."""

    path: str
    field: Said
    before: Said
    after: Said


@frozen
class Change:
    """Something was defined: for the first time (``first``) or anew, with each field that changed.

    ``what`` is the kind of thing, ``key`` its id.
    """

    what: str
    key: str
    entry: int
    at: datetime
    by: str
    by_name: str
    proof: Proof
    because: str
    first: bool
    fields: tuple[FieldChange, ...]


@frozen
class Stood:
    """A definition as it stood at a moment: each field by its path, what people call it, its value in words."""

    what: str
    key: str
    entry: int
    since: datetime
    fields: tuple[tuple[str, Said, Said], ...]


@frozen
class Changes:
    """What was defined from ``first`` on (None: ever), newest first, and how many older ones are ``hidden``; ``stood``
    is how what was asked for stood at the moment."""

    first: datetime | None
    last: datetime
    changes: tuple[Change, ...]
    hidden: int
    stood: tuple[Stood, ...]

"""Every kind of entry: the one list from which the rest of the house knows them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from upkeep.entries import bookkeeping, checking, counting, faults, fitting, lives, planning, signing, suspect
from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, Filed

KINDS: tuple[EntryKind[Any], ...] = (
    *counting.KINDS,
    *lives.KINDS,
    *planning.KINDS,
    *fitting.KINDS,
    *signing.KINDS,
    *faults.KINDS,
    *checking.KINDS,
    *suspect.KINDS,
    *bookkeeping.KINDS,
)
"""All kinds of entry."""

KIND_OF: Mapping[type[Entry], EntryKind[Any]] = {kind.of: kind for kind in KINDS}
"""The kind of an entry by its class."""

KIND_NAMED: Mapping[str, EntryKind[Any]] = {kind.verb: kind for kind in KINDS}
"""A kind by its verb, the first word of its entries."""

VERBS = tuple(KIND_NAMED)
"""The first word of every kind of entry."""

STANDING = tuple(kind.verb for kind in KINDS if kind.standing)
"""The verbs of those that say whether an item may run, or what happened to it."""


def filed(entry: Entry) -> Filed:
    """Where an entry is filed; the item of another entry that it refers to is looked up by the caller."""
    return KIND_OF[type(entry)].filed(entry)

"""Every kind of entry: the one list from which the rest of the house knows them.

A module is loaded with the first of its kinds that somebody asks for: most answers read few kinds, or none.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module
from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, Filed

_VERBS_IN: Mapping[str, tuple[str, ...]] = {
    "counting": ("count", "restart", "configure-counter", "quantity", "uncounted"),
    "lives": ("rework", "unknown-life", "retire", "picture", "remark"),
    "planning": ("order", "define"),
    "fitting": ("fit", "unfit", "put", "changeover"),
    "signing": ("sign", "defer", "cancel", "verify", "looked-again", "stated"),
    "faults": ("happened", "fault", "repair", "hold", "release", "pause", "resume"),
    "checking": ("check", "out-of-tolerance"),
    "suspect": ("disposition", "restrict", "permit"),
    "jobs": ("start", "interrupt", "go-on", "give-up", "lock", "unlock", "handover"),
    "keys": ("given", "withdrawn", "wrong-codes"),
    "shelf.moves": ("receive", "issue", "give-back", "count-shelf", "buy"),
    "shelf.outside": ("send-out", "come-back", "take-in"),
    "plans.weeks": ("absent", "propose", "plan-job", "agree-week", "freeze-week", "carried"),
    "bookkeeping": ("strike", "seen", "note", "begin"),
}
"""The verbs of the kinds in each module."""

_MODULE_OF = {verb: f"{__package__}.{module}" for module, verbs in _VERBS_IN.items() for verb in verbs}

VERBS = tuple(_MODULE_OF)
"""The first word of every kind of entry."""

_KIND_OF: dict[type[Entry], EntryKind[Any]] = {}
"""The kinds of modules that are loaded."""


@cache
def kind_named(verb: str) -> EntryKind[Any]:
    """A kind by its verb, the first word of its entries; one of :data:`VERBS`."""
    return next(kind for kind in _kinds_in(_MODULE_OF[verb]) if kind.verb == verb)


def kind_of(made: type[Entry]) -> EntryKind[Any]:
    """The kind of an entry by its class."""
    if made not in _KIND_OF:
        _KIND_OF.update((kind.of, kind) for kind in _kinds_in(made.__module__))
    return _KIND_OF[made]


def _kinds_in(module: str) -> tuple[EntryKind[Any], ...]:
    kinds: tuple[EntryKind[Any], ...] = import_module(module).KINDS
    return kinds


def all_kinds() -> tuple[EntryKind[Any], ...]:
    """All kinds of entry."""
    return tuple(map(kind_named, VERBS))


@cache
def standing_verbs() -> tuple[str, ...]:
    """The verbs of those that say whether an item may run, or what happened to it."""
    return tuple(kind.verb for kind in all_kinds() if kind.standing)


def filed(entry: Entry) -> Filed:
    """Where an entry is filed; the item of another entry that it refers to is looked up by the caller."""
    return kind_of(type(entry)).filed(entry)

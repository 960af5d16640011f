"""The list of kinds names what the modules of entries hold, so that each can be loaded by its verb alone."""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

import upkeep.entries
from upkeep.entries.kinds import VERBS, all_kinds, kind_named, kind_of


def test_every_kind_of_every_module_is_listed_once() -> None:
    """A kind that is left out could be written and never read again."""
    modules = [import_module(f"upkeep.entries.{module.name}") for module in iter_modules(upkeep.entries.__path__)]
    made = [kind for module in modules for kind in getattr(module, "KINDS", ())]
    assert len(made) > 30
    assert sorted(kind.verb for kind in made) == sorted(VERBS)
    assert {kind_named(kind.verb) for kind in made} == set(made) == set(all_kinds())
    assert all(kind_of(kind.of) is kind for kind in made)

"""Rows of what is defined, of the entries that have no effect, and of what is asked of entries."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.store.rows.table import Table


class DefinitionRow(NamedTuple):
    """A definition in force.

    Attributes:
        what: What is defined: plant, place, person, item, task ...
        key: Its id.
        content: Its content as JSON.
        since: The moment of its first definition.
        entry: The entry that defined it last.
    """

    what: str
    key: str
    content: str
    since: str
    entry: int


class WithoutEffectRow(NamedTuple):
    """An entry that was corrected or struck.

    Attributes:
        entry: The entry without effect.
        through: The entry that took its effect.
    """

    entry: int
    through: int


class Moment(NamedTuple):
    """The moment of an entry, and its number."""

    at: str
    entry: int


class DefinedRow(NamedTuple):
    """What was defined at a moment; a definition in force later does not change it.

    Attributes:
        what: What is defined, as in :class:`DefinitionRow`.
        key: Its id.
        content: Its content as JSON.
        at: When.
        entry: The entry that says so.
    """

    what: str
    key: str
    content: str
    at: str
    entry: int


DEFINITIONS = Table("definitions", DefinitionRow, ("what", "key"))
DEFINED = Table("defined", DefinedRow, ("entry",), indexes={"defined_of": "(what, key, at, entry)"})
WITHOUT_EFFECT = Table("without_effect", WithoutEffectRow, ("entry",), entries=("entry", "through"))

IN_EFFECT = "NOT EXISTS (SELECT 1 FROM without_effect w WHERE w.entry = entries.id)"
"""The condition on ``entries`` that leaves out those without effect."""

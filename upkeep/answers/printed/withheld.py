"""Whose names stay in the house: people who left longer ago than the plant keeps names in what it hands out.

In their place stands the role they had.  The chain stays whole, for a name is hashed with a salt of its own, and its
hash can stand where the name stood (:mod:`upkeep.entries.chain`).
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from datetime import date, timedelta
from typing import Any

from upkeep.entries.chain import hidden_of
from upkeep.entries.row import EntryRow
from upkeep.frozen import frozen
from upkeep.plant.people import Person


def left_long_ago(people: Iterable[Person], day: date, after_days: int | None) -> Withheld:
    """Those whose names are withheld on a day; nobody where the plant keeps all names (None)."""
    if after_days is None:
        return Withheld(())
    long_ago = day - timedelta(days=after_days)
    return Withheld(tuple(one for one in people if one.until is not None and one.until < long_ago))


@frozen
class Withheld:
    """People whose names and ids are withheld; nothing is, where there are none."""

    people: tuple[Person, ...]

    def text(self, text: str) -> str:
        """A text with the role of each of them in the place of their name or id."""
        for person in self.people:
            names = [re.escape(name) for name in (person.name, person.formerly, person.id) if name]
            text = re.sub(rf"(?<!\w)(?:{'|'.join(names)})(?!\w)", f"({person.roles[0]})", text)
        return text

    def value(self, value: Any) -> Any:
        """What was read from JSON, with every text in it as :meth:`text` has it."""
        if not self.people:
            return value
        if isinstance(value, str):
            return self.text(value)
        if isinstance(value, list):
            return [self.value(one) for one in value]
        return {key: self.value(one) for key, one in value.items()} if isinstance(value, dict) else value

    def kept_back(self, row: EntryRow) -> Collection[str] | None:
        """The hidden fields of an entry that name one of them; None: it names one where nothing can be hidden, so that
        it is withheld as a whole."""
        if not self.people:
            return ()
        plain, hidden = hidden_of(row)
        return None if self._names(plain) else [name for name, value in hidden.items() if self._names(value)]

    def _names(self, text: str) -> bool:
        return self.text(text) != text

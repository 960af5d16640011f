"""What held when something was signed: the roles and training of whoever did, and the instruction they worked by."""

from __future__ import annotations

import json
from bisect import bisect_left
from collections.abc import Collection
from datetime import date

from upkeep.keeping.context import Context
from upkeep.plant.definition import Defined
from upkeep.plant.model import ABOVE_THE_ROLES
from upkeep.plant.people import Person, person_from
from upkeep.plant.values.facts import facts_from
from upkeep.store.evidence.asked import Asked
from upkeep.store.rows.definitions import DefinedRow
from upkeep.views.evidence.dossier import Authority


class Then:
    """Looks up definitions as they were when an entry was written; what it has read it keeps."""

    def __init__(self, context: Context) -> None:
        self._asked = Asked(context.file)
        self._rows: dict[tuple[str, str], list[DefinedRow]] = {}
        self._people: dict[tuple[str, int], Person] = {}

    def defined(self, what: str, key: str, entry: int) -> DefinedRow | None:
        """The definition of a thing that was in the book when an entry was written, or its first; None: it has none."""
        if (what, key) not in self._rows:
            self._rows[what, key] = self._asked.defined(what, key)
        rows = self._rows[what, key]
        place = bisect_left(rows, entry, key=lambda row: row.entry)
        return rows[max(place - 1, 0)] if rows else None

    def person(self, key: str, entry: int) -> Person | None:
        """Somebody as they were defined when an entry was written; None: nobody knows them."""
        row = self.defined(Defined.PERSON, key, entry)
        if row is None:
            return None
        if (key, row.entry) not in self._people:
            self._people[key, row.entry] = person_from(json.loads(row.content))
        return self._people[key, row.entry]

    def authority(self, by: str, entry: int, roles: Collection[str], work: Collection[str], day: date) -> Authority:
        """Whether somebody had one of some roles (or one that stands for all) when an entry was written, and was
        trained on a day for what of ``work`` asked for training then."""
        person = self.person(by, entry)
        plant = self.defined(Defined.PLANT, "plant", entry)
        asks = facts_from(json.loads(plant.content)).training if plant is not None else ()
        has = person.roles if person is not None else ()
        trained = []
        for one in (one for one in work if one in asks):
            rows = [row for row in person.training if row.work == one] if person is not None else []
            held = person is not None and person.is_trained_for(one, day)
            ends = [row.until for row in rows]
            last = None if None in ends else max((end for end in ends if end is not None), default=None)
            trained.append((one, last, held))
        given = bool(set(has) & {*roles, *ABOVE_THE_ROLES})
        return Authority(tuple(has), tuple(roles), given, tuple(trained))

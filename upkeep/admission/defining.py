"""Admission of definitions: who may add or change what, with a reason, and that an id stands for one thing for ever."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import datetime

from upkeep.admission import rules as checks
from upkeep.admission.lives import check_not_gone
from upkeep.answers.people.who_may import check_right
from upkeep.entries.planning import Define
from upkeep.errors import Refused, Unreadable
from upkeep.keeping.context import Context
from upkeep.plant.definition import Defined
from upkeep.plant.model import Item, Kind, item_from
from upkeep.plant.people import Person, person_from
from upkeep.plant.rights import Act, act_of_definition
from upkeep.plant.values.facts import facts_from
from upkeep.said import Quoted, Value, either, listed, said, term


class DefinitionAdmission:
    """Judges definitions against those in force; the first of all, with which a plant begins, are anybody's."""

    def __init__(self, context: Context) -> None:
        self._context, self._known = context, context.known

    def check(self, entry: Define) -> None:
        """Raises :class:`Refused` with the reason why a definition does not go into the book."""
        check_definition(entry.what, entry.key, entry.content)
        if self._known.people:
            self._check_may_change(entry)
        if entry.what == Defined.ITEM and entry.key in self._known.items:
            self._check_same_thing(self._known.items[entry.key], item_from(json.loads(entry.content)), entry.at)
        if entry.what == Defined.PERSON and entry.key in self._known.people:
            _check_same_person(self._known.people[entry.key], person_from(json.loads(entry.content)))

    def _check_may_change(self, entry: Define) -> None:
        person = checks.check_signer(self._known, entry.by, entry.at)
        act = act_of_definition(entry.what, entry.what == Defined.ITEM and self._is_gauge(entry))
        if entry.what == Defined.PLANT and self._keepers_change(entry):
            self._check_may_name_keepers(person, entry)
        else:
            check_right(self._known, person, act, entry.at)
        if not entry.because and self._known.defines(entry.what, entry.key):
            named = said("{what} {key}", what=entry.what, key=entry.key)
            if entry.what == Defined.PLANT:
                named = said("the plant")
            raise Refused(
                said(
                    "Say why {named} changes (--because). Who changed it, when and why stays in the book.", named=named
                )
            )

    def _is_gauge(self, entry: Define) -> bool:
        old = self._known.items.get(entry.key)
        new = item_from(json.loads(entry.content))
        return Kind.GAUGE in (new.kind, old.kind if old else None)

    def _check_same_thing(self, old: Item, new: Item, at: datetime) -> None:
        _check_same_thing(old, new)
        if replace(new, scrapped=None) != replace(old, scrapped=None):
            check_not_gone(self._context, old.id, at, said("changed"))

    def _keepers_change(self, entry: Define) -> bool:
        return facts_from(json.loads(entry.content)).keepers != self._known.facts.keepers

    def _check_may_name_keepers(self, person: Person, entry: Define) -> None:
        keepers = self._known.keepers_on(self._known.zone.day(entry.at))
        if keepers and person.id not in keepers:
            raise Refused(
                said(
                    "Only a keeper of this book may name its keepers: {keepers}.",
                    keepers=either(self._known.names[keeper] for keeper in keepers),
                )
            )
        if not keepers:
            check_right(self._known, person, Act.PEOPLE, entry.at)


def _check_same_thing(old: Item, new: Item) -> None:
    """An id stands for one thing for ever: a scrapped item stays as it was, and a module never becomes a press."""
    if old.scrapped and new != old:
        raise Refused(
            said(
                "{id} was scrapped on {scrapped}; an id is never used again, and what it stood for stays as it was. "
                "Give a new item an id of its own.",
                id=old.id,
                scrapped=old.scrapped,
            )
        )
    if new.kind is not old.kind:
        raise Refused(
            said(
                "{id} is a {kind} in this book and cannot become something else. Give the {other_kind} an "
                "id of its own.",
                id=old.id,
                kind=term(old.kind, "kind"),
                other_kind=term(new.kind, "kind"),
            )
        )


def _check_same_person(old: Person, new: Person) -> None:
    """An id is one person's for ever: that of somebody who has left keeps their name, and a new name says whose it was
    before."""
    if old.until is not None and new.name != old.name:
        raise Refused(
            said(
                "{id} is {name}, who has not been allowed to sign since {until}; what they signed keeps "
                "their name. Give {other} an id of their own.",
                id=old.id,
                name=old.name,
                until=old.until,
                other=new.name,
            )
        )
    if new.name != old.name and new.formerly != old.name:
        raise Refused(
            said(
                "{id} is {name} in this book, and an id is never given to somebody else. If {other} is a new name of "
                "the same person, write the old one into the column formerly of people.csv; what they signed keeps it. "
                "Somebody else needs an id of their own.",
                id=old.id,
                name=old.name,
                other=new.name,
            )
        )


def check_definition(what: str, key: str, content: str) -> None:
    """Refuses a definition that the rules cannot read."""
    import json

    from upkeep.plant import crimps, model
    from upkeep.plant.values.spare import spare_from

    readers = {
        "plant": facts_from, "place": model.place_from, "person": person_from,
        "item": model.item_from, "task": model.task_from, "crimp": crimps.crimp_from,
        "pull-table": crimps.pull_table_from, "spare": spare_from,
    }  # fmt: skip
    if what not in readers:
        raise Refused(
            said("{what} cannot be defined; these can: {readers}.", what=Quoted(what), readers=listed(readers))
        )
    try:
        readers[what](json.loads(content))
    except (TypeError, ValueError, KeyError, AttributeError, Unreadable) as error:
        raise Refused(
            said(
                "The definition of {what} {key} cannot be read: {why}.", what=what, key=key, why=_why_unreadable(error)
            )
        ) from None


def _why_unreadable(error: Exception) -> Value:
    return error.said if isinstance(error, Unreadable) else str(error)

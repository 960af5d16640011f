"""Who may do what in this plant, by the table of rights and what the plant says otherwise."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.keeping.context import Context
from upkeep.plant.rights import RIGHTS, roles_for
from upkeep.views.rights import RightLine, RightsTable


def rights_table(context: Context) -> RightsTable:
    """The rights at the moment of a context."""
    return RightsTable(tuple(_lines(context)), context.known.keepers_on(context.known.zone.day(context.moment)))


def _lines(context: Context) -> Iterator[RightLine]:
    known, day = context.known, context.known.zone.day(context.moment)
    signing = [person for person in known.people.values() if (person.until or day) >= day]
    for act, right in RIGHTS.items():
        roles = roles_for(act, known.facts)
        people = tuple(sorted(person.id for person in signing if set(person.roles) & set(roles)))
        choice = tuple(role.value for role in right.choice)
        yield RightLine(
            act.value, right.what, tuple(str(role) for role in roles), choice, act in known.facts.rights, people
        )

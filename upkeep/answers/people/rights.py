"""Who may do what in this plant, by the table of rights and what the plant says otherwise."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from upkeep.keeping.context import Context
from upkeep.keeping.definitions import Known
from upkeep.plant.rights import RIGHTS, roles_for
from upkeep.views.rights import RightLine, RightsTable, TrainingLine


def rights_table(context: Context) -> RightsTable:
    """The rights at the moment of a context."""
    known, day = context.known, context.known.zone.day(context.moment)
    training = tuple(_training(known, work, day) for work in sorted(known.facts.training))
    return RightsTable(tuple(_lines(context)), known.keepers_on(day), training, known.facts.signed_with)


def _training(known: Known, work: str, day: date) -> TrainingLine:
    trained: dict[str, date | None] = {}
    over: dict[str, date] = {}
    for person in known.people.values():
        if not person.signs_on(day):
            continue
        rows = [row for row in person.training if row.work == work and row.since <= day]
        ends = [row.until or date.max for row in rows]
        if ends and max(ends) >= day:
            trained[person.id] = None if max(ends) == date.max else max(ends)
        elif ends:
            over[person.id] = max(ends)
    return TrainingLine(work, tuple(sorted(trained.items())), tuple(sorted(over.items())))


def _lines(context: Context) -> Iterator[RightLine]:
    known, day = context.known, context.known.zone.day(context.moment)
    signing = [person for person in known.people.values() if person.signs_on(day)]
    for act, right in RIGHTS.items():
        roles = roles_for(act, known.facts)
        people = tuple(sorted(person.id for person in signing if set(person.roles) & set(roles)))
        choice = tuple(role.value for role in right.choice)
        yield RightLine(
            act.value, right.what, tuple(str(role) for role in roles), choice, act in known.facts.rights, people
        )

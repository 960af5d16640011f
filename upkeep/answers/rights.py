"""Who may do what in this plant, by the table of rights and what the plant says otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from upkeep.keeping.context import Context
from upkeep.keeping.definitions import Known
from upkeep.plant.line_names import LineName
from upkeep.plant.model import ABOVE_THE_ROLES, Task
from upkeep.plant.people import Person
from upkeep.plant.rights import RIGHTS, roles_for
from upkeep.said import Said, all_of, either, in_turn, listed, said
from upkeep.views.rights import RightLine, RightsTable, TrainingLine


def rights_table(context: Context) -> RightsTable:
    """The rights at the moment of a context."""
    known, day = context.known, context.known.zone.day(context.moment)
    training = tuple(_training(known, work, day) for work in sorted(known.facts.training))
    return RightsTable(tuple(_lines(context)), known.keepers_on(day), training, known.facts.signed_with)


def why_not_sign(context: Context, line: str, person_id: str) -> Said | None:
    """Why somebody may not sign a line, and whom to ask instead; None: they may."""
    known, (item_id, task_id) = context.known, LineName.read(line)
    person, task, item = known.person(person_id), known.task(task_id), known.item(item_id)
    day = known.zone.day(context.moment)
    asked_for = [work for work in (item.kind.value, task.id) if work in known.facts.training]

    def may(one: Person) -> bool:
        roles = set(one.roles) & {*task.by, *ABOVE_THE_ROLES}
        return bool(roles) and one.signs_on(day) and all(one.is_trained_for(work, day) for work in asked_for)

    if may(person):
        return None
    others = [one.name for one in known.people.values() if may(one) and set(one.roles) & set(task.by)]
    ask = said("Ask {people}.", people=either(others[:_ASKED_AT_MOST])) if others else said("Ask the lead.")
    return in_turn(_why_not(person, task, asked_for, day), ask)


_ASKED_AT_MOST = 3
"""People named as those to ask."""


def _why_not(person: Person, task: Task, asked_for: Sequence[str], day: date) -> Said:
    has = listed(person.roles) if person.roles else said("no role")
    untrained = [work for work in asked_for if not person.is_trained_for(work, day)]
    if not set(person.roles) & {*task.by, *ABOVE_THE_ROLES}:
        return said(
            "{person} ({has}) may not sign this: it needs the role of {roles}.", person=person.name, has=has,
            roles=either(task.by),
        )  # fmt: skip
    return said(
        "{person} ({has}) may not sign this: it needs somebody who is trained for {work}.", person=person.name,
        has=has, work=all_of(untrained),
    )  # fmt: skip


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

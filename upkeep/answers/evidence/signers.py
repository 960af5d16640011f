"""Who may sign what at a moment, and until when their training holds."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date

from upkeep.answers.people.rights import rights_table
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import Known
from upkeep.plant.model import ABOVE_THE_ROLES, Task
from upkeep.plant.people import Person
from upkeep.views.evidence.signers import NotTrained, Signer, SignerList, TaskSigners


def signers(
    context: Context, task: str | None = None, *, item: str | None = None, area: str | None = None
) -> SignerList:
    """Who may sign a task, those on an item, or all, and who has each right; of the people of an area where one is
    named.  Raises :class:`NotFound`."""
    known, day = context.known, context.known.zone.day(context.moment)
    if area is not None:
        known.area(area)
    tasks = [known.task(task)] if task is not None else [known.tasks[key] for key in sorted(known.tasks)]
    if item is not None:
        on_it = known.tasks_on(known.item(item))
        tasks = [one for one in tasks if one in on_it]
    people = [one for one in known.people.values() if one.signs_on(day) and area in (None, one.area or area)]
    found = tuple(_task(known, one, people, day) for one in tasks)
    rights = rights_table(context).acts if task is None and item is None else ()
    return SignerList(context.moment, area, item, found, rights)


def _task(known: Known, task: Task, people: Collection[Person], day: date) -> TaskSigners:
    may = [one for one in people if set(one.roles) & {*task.by, *ABOVE_THE_ROLES}]
    lacking = [lack for one in may for lack in _not_trained(known, task, one, day)]
    without = {one.person for one in lacking}
    second = task.second_signature
    others = [one for one in people if second is not None and set(one.roles) & {second, *ABOVE_THE_ROLES}]
    return TaskSigners(
        task=task.id,
        title=task.title,
        applies_to=task.applies_to.value,
        roles=tuple(task.by),
        signers=tuple(_signer(known, task, one) for one in may if one.id not in without),
        not_trained=tuple(lacking),
        second_role=second,
        second=tuple(
            _signer(known, task, one) for one in others if not list(_not_trained(known, task, one, day))
        ),
    )  # fmt: skip


def _asked(known: Known, task: Task) -> tuple[str, ...]:
    """What of a task asks for training in this plant: its kind of item, or itself."""
    return tuple(work for work in (task.applies_to.value, task.id) if work in known.facts.training)


def _not_trained(known: Known, task: Task, person: Person, day: date) -> Iterator[NotTrained]:
    for work in _asked(known, task):
        if not person.is_trained_for(work, day):
            ends = [row.until for row in person.training if row.work == work and row.until is not None]
            yield NotTrained(person.id, person.name, work, max((end for end in ends if end < day), default=None))


def _signer(known: Known, task: Task, person: Person) -> Signer:
    trained = []
    for work in _asked(known, task):
        ends = [row.until for row in person.training if row.work == work]
        trained.append((work, None if None in ends else max((end for end in ends if end is not None), default=None)))
    return Signer(person.id, person.name, tuple(person.roles), person.area, person.until, tuple(trained))

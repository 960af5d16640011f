"""Admission of work by training: some kinds of item and some tasks ask for people who are trained for them."""

from __future__ import annotations

from datetime import date, datetime

from upkeep.errors import Refused
from upkeep.keeping.definitions import Known
from upkeep.plant.model import Item, Task
from upkeep.plant.people import Person
from upkeep.said import Said, said


def check_trained(known: Known, person: Person, at: datetime, item: Item, task: Task | None = None) -> None:
    """Refuses work on a kind of item, or of a task, by somebody who was not trained for it on that day.

    Work told late is judged by the training of the day on which it was done.
    """
    day = known.zone.day(at)
    for work in (item.kind.value, task.id if task is not None else ""):
        if work in known.facts.training and not person.is_trained_for(work, day):
            raise Refused(
                said(
                    "{person} may not work on {item}: {why}. Somebody who is trained for it does it; the lead or "
                    "quality enters training in training.csv.",
                    person=person.name,
                    item=item.id if task is None else said("{item} ({task})", item=item.id, task=task.title),
                    why=_why_not(person, work, day),
                )
            )


def _why_not(person: Person, work: str, day: date) -> Said:
    rows = [row for row in person.training if row.work == work]
    over = max((row.until for row in rows if row.until is not None and row.until < day), default=None)
    begins = min((row.since for row in rows if row.since > day), default=None)
    if over is not None:
        return said("the training for {work} ran out on {until}", work=work, until=over)
    if begins is not None:
        return said("the training for {work} begins on {since}", work=work, since=begins)
    return said("{work} asks for training, and none is on record", work=work)

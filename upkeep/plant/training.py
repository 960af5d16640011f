"""Who is trained for what, and until when: training.csv, whose rows become part of the definitions of people.

Which kinds of item and which tasks ask for training stands in plant.toml; a plant that names none has no such file.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from upkeep.plant.definition import Definition, Problem, near, quoted
from upkeep.plant.fields import DAY_SAYS, ID_SAYS, Day, Id, Line, says
from upkeep.plant.model import Kind
from upkeep.plant.rows import Sheet
from upkeep.plant.schema import Row, checked, columns_of, missing_from
from upkeep.plant.tables import rows_of
from upkeep.said import Said, said

_WORK_SAYS = said("a kind of item, like press, or the id of a task in tasks.toml")


class TrainingRow(Row):
    """A row of training.csv."""

    required = ("person", "work", "since")
    person: Id | None = says(ID_SAYS)
    work: Line | None = says(_WORK_SAYS, max_length=60)
    since: Day | None = says(DAY_SAYS)
    until: Day | None = says(DAY_SAYS)


def training_of(file: str, text: str, problems: list[Problem]) -> Sheet:
    """The rows of a training.csv, each as a definition named by its person."""
    table = rows_of(file, text, columns_of(TrainingRow), TrainingRow.required, problems)
    rows = []
    for given in table.rows:
        content = checked(TrainingRow, given, problems)
        problems += missing_from(TrainingRow, given, content, table.missing)
        if content.get("since", "") > content.get("until", "9"):
            problems.append(given.problem("until", quoted(content["until"]), said("a day from since on")))
        rows.append((given, Definition("training", str(content.get("person", "")), content)))
    return Sheet(tuple(rows), whole="person" not in table.missing)


def with_training(people: Sheet, training: Sheet) -> Sheet:
    """The people, each with what they are trained for, in order of the work and its first day."""
    rows: dict[str, list[dict[str, Any]]] = {}
    for _, definition in training.rows:
        kept = {key: value for key, value in definition.content.items() if key != "person"}
        rows.setdefault(definition.key, []).append(kept)
    if not rows:
        return people
    return Sheet(
        tuple((given, _trained(person, sorted(rows.get(person.key, []), key=_order))) for given, person in people.rows),
        people.whole,
    )


def _order(row: dict[str, Any]) -> tuple[str, str]:
    return row.get("work", ""), row.get("since", "")


def _trained(person: Definition, training: list[dict[str, Any]]) -> Definition:
    return Definition(person.what, person.key, {**person.content, "training": training}) if training else person


def training_astray(training: Sheet, plant: Sheet, people: Sheet, tasks: Sheet) -> Iterator[Problem]:
    """A problem for each row of a person the plant has not, and for work that is no kind of item and no task."""
    known, works = [row.key for _, row in people.rows], [*Kind, *(row.key for _, row in tasks.rows)]
    for given, definition in training.rows:
        content = definition.content
        if people.whole and definition.key and definition.key not in known:
            who = said("the id of somebody in people.csv{near}", near=near(definition.key, known))
            yield given.problem("person", quoted(definition.key), who)
        if tasks.whole and "work" in content and content["work"] not in works:
            yield given.problem("work", quoted(content["work"]), _work(content["work"], works))
    for given, definition in plant.rows:
        for work in definition.content.get("training", []):
            if tasks.whole and work not in works:
                yield given.problem("training", quoted(work), _work(work, works))


def _work(found: str, works: list[str]) -> Said:
    return said("{phrase}{near}", phrase=_WORK_SAYS, near=near(found, works))

"""The definition files a plant writes: plant.toml, places.csv, people.csv, items.csv and tasks.toml in one folder, and
crimps.toml where crimps are checked, training.csv where work asks for training, spares.csv where there is a shelf.

All of them are read before anything is refused, so a person gets every problem of every file in one list.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from upkeep.errors import DefinitionProblems
from upkeep.plant.catalogue import shipped_tasks
from upkeep.plant.crimp_files import crimps_of
from upkeep.plant.definition import Definition, Problem
from upkeep.plant.references import (
    crimps_astray,
    keepers_astray,
    one_each,
    people_astray,
    tasks_astray,
    twice_given,
    unknown_places,
)
from upkeep.plant.rows import Sheet, items_of, people_of, places_of, plant_of
from upkeep.plant.tables import text_of
from upkeep.plant.tasks import tasks_of
from upkeep.plant.training import training_astray, training_of, with_training
from upkeep.plant.values.hours import hours_astray
from upkeep.plant.values.spares import parts_astray, spares_astray, spares_of

__all__ = ["FILES", "OPTIONAL", "Definition", "Problem", "read_definitions"]


def _tasks_of(file: str, text: str, problems: list[Problem]) -> Sheet:
    catalogue = {definition.key: definition for definition in shipped_tasks()}
    return Sheet(tuple(tasks_of(file, text, catalogue, problems)))


_READERS: dict[str, Callable[[str, str, list[Problem]], Sheet]] = {
    "plant.toml": plant_of,
    "places.csv": places_of,
    "people.csv": people_of,
    "items.csv": items_of,
    "tasks.toml": _tasks_of,
    "crimps.toml": crimps_of,
    "training.csv": training_of,
    "spares.csv": spares_of,
}

OPTIONAL = ("crimps.toml", "training.csv", "spares.csv")
"""Files that a plant's folder may have."""

FILES = tuple(file for file in _READERS if file not in OPTIONAL)
"""The files that it must have, in the order in which their definitions are loaded."""


def read_definitions(folder: Path) -> tuple[Definition, ...]:
    """The definitions in a folder, in loading order: the plant, its places, people, items and tasks, its tables
    of pull forces and crimps, its spares.

    Raises :class:`DefinitionProblems` with every problem of every file; then nothing may be loaded.
    """
    problems: list[Problem] = []
    sheets = [_sheet(folder / file, problems) for file in _READERS]
    problems += _problems_between(*sheets)
    if problems:
        raise DefinitionProblems(list(one_each(sorted(problems, key=_reading_order))))
    return tuple(definition for sheet in _joined(*sheets) for _, definition in sheet.rows)


def _joined(
    plant: Sheet, places: Sheet, people: Sheet, items: Sheet, tasks: Sheet, crimps: Sheet, training: Sheet,
    spares: Sheet,
) -> tuple[Sheet, ...]:  # fmt: skip
    """The sheets in loading order; training goes with the people."""
    return plant, places, with_training(people, training), items, tasks, crimps, spares


def _sheet(path: Path, problems: list[Problem]) -> Sheet:
    if path.name in OPTIONAL and not path.exists():
        return Sheet(())
    text = text_of(path, problems)
    return Sheet((), whole=False) if text is None else _READERS[path.name](path.name, text, problems)


def _problems_between(
    plant: Sheet, places: Sheet, people: Sheet, items: Sheet, tasks: Sheet, crimps: Sheet, training: Sheet,
    spares: Sheet,
) -> Iterator[Problem]:  # fmt: skip
    for sheet in (places, people, items, tasks, crimps, spares):
        yield from twice_given(sheet)
    yield from people_astray(people)
    yield from unknown_places(items, places)
    yield from tasks_astray(tasks, items, plant)
    yield from crimps_astray(crimps, items, people)
    yield from keepers_astray(plant, people)
    yield from hours_astray(people, plant, places)
    yield from training_astray(training, plant, people, tasks)
    yield from spares_astray(spares, items, places)
    yield from parts_astray(tasks, spares)


def _reading_order(problem: Problem) -> tuple[int, int]:
    return list(_READERS).index(problem.file), problem.line or 0

"""The task catalogue shipped with the program: kinds of task that crimp shops commonly do, to start from.

Calendar intervals are plant defaults without source, unless a task names one.  Stroke intervals and limits are left
empty: no published figure was found for them, so the plant sets its own.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from upkeep.errors import DefinitionProblems
from upkeep.plant.definition import Definition, Problem
from upkeep.plant.tasks import tasks_of

_FILE = "catalogue.toml"


@cache
def shipped_tasks() -> tuple[Definition, ...]:
    """The tasks of the catalogue, in the order of its file.

    Raises :class:`DefinitionProblems` when the shipped file has been altered so that it no longer reads.
    """
    problems: list[Problem] = []
    text = files("upkeep.plant").joinpath(_FILE).read_text("utf-8")
    tasks = tuple(definition for _, definition in tasks_of(_FILE, text, {}, problems))
    if problems:
        raise DefinitionProblems(problems)
    return tasks

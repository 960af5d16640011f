"""The task catalogue shipped with the program: kinds of task that crimp shops commonly do, to start from.

Calendar intervals are plant defaults without source, unless a task names one.  Stroke intervals and limits are left
empty: no published figure was found for them, so the plant sets its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

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


_WORDS = ("title", "steps", "caution", "source", "texts")
"""What a task of the catalogue says in words; all else of it is a rule."""


def only_rephrased(before: Mapping[str, Any], now: Mapping[str, Any]) -> bool:
    """Whether a task differs from what it was by nothing but sentences of the catalogue: another version of the program
    says them otherwise, and the plant's own files have not changed."""
    changed = {name for name in {*before, *now} if before.get(name) != now.get(name)}
    return changed <= set(_WORDS) and any(
        all(task.content.get(name) == now.get(name) for name in changed) for task in shipped_tasks()
    )

"""What a task says in other languages, as tasks.toml has it."""

from __future__ import annotations

import pytest

from upkeep.plant.definition import Problem
from upkeep.plant.model import task_from
from upkeep.plant.tasks import tasks_of
from upkeep.plant.values.texts import said_in

OIL = """
[[task]]
id = "oil"
title = "Oil the slide"
applies_to = "press"
by = ["operator"]
each_shift = true
steps = ["Wipe", "Oil"]

[task.texts.es]
title = "Engrasar la guía"
"""


def read(more: str) -> tuple[dict[str, str], list[str]]:
    """What the task says and the same in Spanish, and the problems of its file."""
    problems: list[Problem] = []
    [(_, definition)] = tasks_of("tasks.toml", OIL + more, {}, problems)
    texts = {} if problems else dict(said_in(task_from(definition.content), "es"))
    return texts, [str(problem.said) for problem in problems]


def test_a_task_says_the_same_in_another_language() -> None:
    texts, problems = read('steps = ["Limpiar", "Engrasar"]\n')
    assert texts["Oil the slide"] == "Engrasar la guía"
    assert texts["Wipe"] == "Limpiar"
    assert problems == []


def test_steps_that_are_not_translated_stay() -> None:
    assert read("")[0]["Wipe"] == ""


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ('steps = ["Limpiar"]\n', "2 steps, as many as its own"),
        ('points = { nothing = "Nada" }\n', "the ids of its points"),
        ('[task.texts.spanish]\ntitle = "x"\n', "by language"),
    ],
)
def test_texts_that_do_not_go_with_the_task_are_refused(more: str, told: str) -> None:
    problems = read(more)[1]
    assert len(problems) == 1
    assert told in problems[0]

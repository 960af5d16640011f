"""What a task says in other languages than the first of its plant."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field
from typing import TYPE_CHECKING, Any

from upkeep.frozen import frozen

if TYPE_CHECKING:
    from upkeep.plant.model import Task


@frozen
class TaskTexts:
    """What a task says in another language than its own, where it says it; ``points`` are titles by id."""

    title: str = ""
    caution: str = ""
    steps: tuple[str, ...] = ()
    points: Mapping[str, str] = field(default_factory=dict)


def texts_from(content: Mapping[str, Mapping[str, Any]]) -> dict[str, TaskTexts]:
    """The texts by language from their definition."""
    return {
        language: TaskTexts(**{**texts, "steps": tuple(texts.get("steps", ()))}) for language, texts in content.items()
    }


def said_in(task: Task, language: str) -> Iterator[tuple[str, str]]:
    """What a task says, each beside the same in another language; empty where it is not said there, as what is
    photographed and the kinds of gauge it asks for never are."""
    other = task.texts.get(language, TaskTexts())
    yield task.title, other.title
    yield task.caution, other.caution
    yield from zip(task.steps, other.steps or ("",) * len(task.steps), strict=True)
    yield from ((point.title, other.points.get(point.id, "")) for point in task.points)
    yield from ((what, "") for what in (task.photo,) if what)
    yield from ((gauges, "") for gauges in (task.gauge_class, *(point.gauge_class for point in task.points)) if gauges)

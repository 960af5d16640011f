"""Bigger work that covers smaller: which task it may cover, which stands for itself alone, and where chains lead."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import NamedTuple

from upkeep.plant.model import Role, Task
from upkeep.said import Said, said


class Covers(NamedTuple):
    """What a task declares: the tasks done with it, and how many days ahead that answers them."""

    tasks: Sequence[str]
    days: int


def stands_for_itself(
    *, statutory: bool, measured: bool, second_signature: str | None, by: Collection[str]
) -> Said | None:
    """Why no other work covers a task: what the law asks, what has to be measured, what a second person signs, and the
    certificate of an appointed person (a guard test) are nobody else's work; None: other work may cover it."""
    if statutory:
        return said("it is required by law")
    if measured:
        return said("it has to be measured")
    if second_signature is not None:
        return said("it needs a second signature")
    if list(by) == [Role.APPOINTED.value]:
        return said("only an {role} signs it", role=Role.APPOINTED)
    return None


def reaches(declared: Mapping[str, Covers], own: Collection[str]) -> dict[str, dict[str, int]]:
    """Of each covered task the tasks whose work covers it, with the days that reaches ahead.

    What is covered covers in turn what it declares, as far ahead as the shortest of the chain; a chain ends at a task
    of ``own``, which other work does not do.
    """
    covered: dict[str, dict[str, int]] = {}
    for bigger, direct in declared.items():
        reached: dict[str, int] = {}
        ahead = [(task, direct.days) for task in direct.tasks]
        for task, days in ahead:
            if task == bigger or task in reached or task in own:
                continue
            reached[task] = days
            further = declared.get(task, Covers((), 0))
            ahead += [(next_task, min(days, further.days)) for next_task in further.tasks]
        for task, days in reached.items():
            covered.setdefault(task, {})[bigger] = days
    return covered


def why_never_covered(task: Task) -> Said | None:
    """Why no other work covers a task; None: it may."""
    return stands_for_itself(
        statutory=task.statutory,
        measured=bool(task.points),
        second_signature=task.second_signature,
        by=task.by,
    )


class IdleCover(NamedTuple):
    """A task that declares to cover another and never does, and why."""

    task: str
    covered: str
    why: Said


def idle_covers(tasks: Mapping[str, Task]) -> Iterator[IdleCover]:
    """Every declaration to cover that can never work."""
    for key, task in tasks.items():
        for covered in task.covers:
            why = _why_idle(tasks, key, covered)
            if why is not None:
                yield IdleCover(key, covered, why)


def _why_idle(tasks: Mapping[str, Task], key: str, covered: str) -> Said | None:
    if covered == key:
        return said("it is the same task")
    other = tasks.get(covered)
    if other is None:
        return said("this plant has no such task")
    if other.applies_to is not tasks[key].applies_to:
        return said(
            "{task} is done on a {kind} and {other} on a {other_kind}",
            task=key,
            kind=tasks[key].applies_to,
            other=covered,
            other_kind=other.applies_to,
        )
    return why_never_covered(other)

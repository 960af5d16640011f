"""Admission of what tasks declare to cover: a declaration that can never work is refused, not kept in silence."""

from __future__ import annotations

from collections.abc import Collection

from upkeep.errors import Refused
from upkeep.keeping.definitions import Known
from upkeep.plant.covering import idle_covers
from upkeep.said import Quoted, said


def check_covers(before: Known, known: Known, changed: Collection[str]) -> None:
    """Refuses definitions with which one of the ``changed`` tasks covers in vain, or is so from now on."""
    already = {(idle.task, idle.covered) for idle in idle_covers(before.tasks)}
    for idle in idle_covers(known.tasks):
        if idle.task in changed or (idle.task, idle.covered) not in already:
            raise Refused(
                said(
                    "{task} can never cover {covered}: {why}. Take {quoted} out of its 'covers'.",
                    task=idle.task,
                    covered=idle.covered,
                    why=idle.why,
                    quoted=Quoted(idle.covered),
                )
            )

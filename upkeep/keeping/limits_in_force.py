"""The definition of a task as it stood when something was signed: an inspection is judged by the limits valid then."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import TYPE_CHECKING

from upkeep.keeping.definitions import Known
from upkeep.plant.model import Point, Task, task_from
from upkeep.store.findings import Findings

if TYPE_CHECKING:
    from upkeep.entries.entry import Recorded


class LimitsThen:
    """Looks up such definitions; what it has read it keeps."""

    def __init__(self, findings: Findings, known: Known) -> None:
        self._findings, self._known = findings, known
        self._read: dict[str, Task] = {}

    def task(self, recorded: Recorded) -> Task:
        """The task of a sign-off as it was defined when that was written."""
        from upkeep.entries.signing import Sign

        assert isinstance(recorded.entry, Sign)
        return self._task(recorded.entry.task, recorded.id)

    def _task(self, task: str, before: int) -> Task:
        content = self._findings.definition_before("task", task, before)
        if content is None:
            return self._known.task(task)
        if content not in self._read:
            self._read[content] = task_from(json.loads(content))
        return self._read[content]

    def points(self, recorded: Recorded) -> dict[str, Point]:
        """The measured points, by id, of the task a sign-off was for, with the limits that held then."""
        return {point.id: point for point in self.task(recorded).points}

    def points_of(self, task: str, entry: int) -> dict[str, Point]:
        """Those of the sign-off of a task with a number."""
        return {point.id: point for point in self._task(task, entry).points}


def is_within(point: Point, values: Sequence[float]) -> bool:
    """Whether all readings lie within the limits of a point."""
    return all(
        (point.lower is None or value >= point.lower) and (point.upper is None or value <= point.upper)
        for value in values
    )

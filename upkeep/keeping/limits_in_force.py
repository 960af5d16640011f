"""The definition of a task as it stood when something was signed: an inspection is judged by the limits valid then."""

from __future__ import annotations

import json

from upkeep.entries.entry import Recorded
from upkeep.entries.signing import Sign
from upkeep.keeping.definitions import Known
from upkeep.plant.model import Point, Task, task_from
from upkeep.store.findings import Findings


class LimitsThen:
    """Looks up such definitions; what it has read it keeps."""

    def __init__(self, findings: Findings, known: Known) -> None:
        self._findings, self._known = findings, known
        self._read: dict[str, Task] = {}

    def task(self, recorded: Recorded) -> Task:
        """The task of a sign-off as it was defined when that was written."""
        assert isinstance(recorded.entry, Sign)
        content = self._findings.definition_before("task", recorded.entry.task, recorded.id)
        if content is None:
            return self._known.task(recorded.entry.task)
        if content not in self._read:
            self._read[content] = task_from(json.loads(content))
        return self._read[content]

    def points(self, recorded: Recorded) -> dict[str, Point]:
        """The measured points, by id, of the task a sign-off was for, with the limits that held then."""
        return {point.id: point for point in self.task(recorded).points}


def is_within(point: Point, values: tuple[float, ...]) -> bool:
    """Whether all readings lie within the limits of a point."""
    return all(
        (point.lower is None or value >= point.lower) and (point.upper is None or value <= point.upper)
        for value in values
    )

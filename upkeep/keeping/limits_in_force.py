"""Tasks, crimps and pull tables as defined when something was signed or checked: the limits of then judge it."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any, TypeVar

from upkeep.keeping.definitions import Known
from upkeep.plant.crimps import Crimp, PullTable, crimp_from, pull_table_from
from upkeep.plant.definition import Defined
from upkeep.plant.model import Point, Task, task_from
from upkeep.store.file import BookFile
from upkeep.store.findings import Findings
from upkeep.store.measurements import Measurements
from upkeep.units.instants import utc_text

if TYPE_CHECKING:
    from upkeep.entries.entry import Recorded
    from upkeep.keeping.rows.asked import Rows
    from upkeep.store.rows.findings import OutOfToleranceRow
    from upkeep.store.rows.signatures import SignOffRow


T = TypeVar("T")


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
        content = self._findings.definition_before(Defined.TASK, task, before)
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


class DefinitionsThen:
    """Looks up a crimp or a pull table as it was defined when a check was made."""

    def __init__(self, file: BookFile, known: Known) -> None:
        self._measurements, self._known = Measurements(file), known

    def crimp(self, key: str, at: datetime) -> Crimp:
        """A crimp as it was defined at a moment (as it is now, where it came into the book later)."""
        now = self._known.crimp(key)
        return self._defined(Defined.CRIMP, key, at, crimp_from) or now

    def pull_tables(self, at: datetime) -> Mapping[str, PullTable]:
        """All tables of pull forces as they were defined at a moment."""
        now = self._known.pull_tables
        return {key: self._defined(Defined.PULL_TABLE, key, at, pull_table_from) or now[key] for key in now}

    def _defined(self, what: str, key: str, at: datetime, read: Callable[[Mapping[str, Any]], T]) -> T | None:
        """None where the definition in force now held then as well, or where there was none."""
        content = self._measurements.earlier_definition(what, key, utc_text(at))
        return None if content is None else read(json.loads(content))


# Gauges found out

GAUGE_FOUND_OUT = "gauge found out"
"""What opens the lines again that a gauge was used for which reads wrong, and holds what it measured good last."""


def last_vouched(rows: Rows, known: Known, out: OutOfToleranceRow) -> str:
    """When a calibration or block check found a gauge good last before it was found to read wrong; "" for never."""
    good = (
        row.at
        for task in known.vouching
        for row in rows.done_before(out.gauge, task.id, out.at, out.entry)
        if _found_good(task, row)
    )
    return max(good, default="")


def _found_good(task: Task, row: SignOffRow) -> bool:
    """Whether a sign-off found its gauge good: what the task asks for was read, and is within its limits."""
    values = json.loads(row.points)
    read = {point.id: values.get(point.id, ()) for point in task.points}
    return all(is_within(point, read[point.id]) for point in task.points) and (not read or any(read.values()))

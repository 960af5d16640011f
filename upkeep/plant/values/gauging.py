"""What measures the points of a task."""

from __future__ import annotations

from upkeep.plant.model import Point, Task


def gauge_class_of(task: Task, point: Point) -> str | None:
    """The kind of gauge that measures a point of a task: its own, else that of the task; None: none is asked for."""
    return point.gauge_class or task.gauge_class

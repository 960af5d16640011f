"""What findings and wear say about the stroke interval of an inspection."""

from __future__ import annotations

import json
from collections.abc import Iterator

from upkeep.answers.wear.readings import defined_points
from upkeep.answers.wear.trends import Trends
from upkeep.due.usage import stroke_interval
from upkeep.keeping.context import Context
from upkeep.plant.definition import Defined
from upkeep.plant.model import Item, Point, Task, task_from
from upkeep.said import said
from upkeep.views.wear import Advice, PointWear
from upkeep.wear.interval import Bound, bound_of, proposal


class Advising:
    """Proposes a stroke interval, from what was known at the moment of its context."""

    def __init__(self, context: Context) -> None:
        self._known, self._wear_history, self._rows = context.known, context.wear_history, context.rows
        self._trends = Trends(context)
        self._defined: dict[str, list[tuple[str, Task]]] = {}
        self._warned = frozenset(point.id for point in defined_points(context.known) if _warns(point))

    def of(self, item: Item) -> tuple[Advice, ...]:
        """The advice on each graded inspection of an item."""
        if self._wear_history.retired(item.id) is not None:
            return ()
        return tuple(self._on(item, task) for task in self._known.tasks_on(item) if task.graded)

    def _on(self, item: Item, task: Task) -> Advice:
        present = stroke_interval(task, item)
        grades = tuple(self._wear_history.grades(item.id, task.id, self._in_force_since(item, task, present)))
        proposed = proposal(present, grades, list(self._bounds(item)))
        definition = ""
        if proposed.changes:
            shown = {**task.strokes_for, item.id: proposed.strokes}
            inside = ", ".join(f"{json.dumps(key)} = {strokes}" for key, strokes in shown.items())
            definition = f"strokes_for = {{ {inside} }}"
        return Advice(item.id, task.id, task.title, grades, proposed, definition)

    def _in_force_since(self, item: Item, task: Task, present: int | None) -> str:
        """Since when the interval is what it is: findings before were about another one."""
        since = ""
        for at, defined in self._definitions(task.id)[::-1]:
            if stroke_interval(defined, item) != present:
                break
            since = at
        return since

    def _definitions(self, task: str) -> list[tuple[str, Task]]:
        """Every definition of a task with its moment, in order."""
        if task not in self._defined:
            defined = self._wear_history.definitions_of(Defined.TASK, task)
            self._defined[task] = [(row.at, task_from(json.loads(row.content))) for row in defined]
        return self._defined[task]

    def _bounds(self, item: Item) -> Iterator[Bound]:
        """How long the interval may be by each point of the item and of what is in it."""
        for key in (item.id, *(row.item for row in self._rows.inside_now(item.id))):
            points, _ = self._trends.of(self._known.item(key), self._warned)
            for point in points:
                bound = _bound(key, point)
                if bound is not None:
                    yield bound


def _warns(point: Point) -> bool:
    """Whether a point has a warning before a limit: no other bounds an interval."""
    return (None not in (point.warn_upper, point.upper)) or (None not in (point.warn_lower, point.lower))


def _bound(item: str, wear: PointWear) -> Bound | None:
    line = wear.trend.line
    if wear.trend.ahead is None or line is None:
        return None
    limit, warning = wear.limits.toward(line.slope)
    if limit is None or warning is None or limit == warning:
        return None
    bound = bound_of(limit - warning, line.slope, wear.unit)
    return Bound(bound.strokes, said("{point} of {item}: {why}", point=wear.point, item=item, why=bound.why))

"""What was measured on pieces of the same set-up, for work that measures the same points: it is not typed twice."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from upkeep.answers.checks.results import Results
from upkeep.entries.checking import Check
from upkeep.entries.entry import Recorded
from upkeep.keeping.context import Context
from upkeep.plant.model import Item, Kind, Point, Task
from upkeep.quality.set_ups import FIRST, FITTED, SETTINGS, begun, span_of
from upkeep.quality.settings import SETTINGS as SET
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.views.signing import Taken


def checks_of_set_up(context: Context, item: str, at: datetime) -> list[Recorded]:
    """The checks of an item by a moment since its last set-up began, in order; none where it never hung on a press."""
    stay = context.judge.counts.stay_from(item, at)
    if stay is None:
        return []
    told = context.entries.of_item(item, ("check",), from_at=utc_text(stay.start), to_at=utc_text(at))
    checks = [(recorded, recorded.entry) for recorded in told if isinstance(recorded.entry, Check)]
    started = [(check.at, check.occasion, check.order) for _, check in checks if check.occasion in (SETTINGS, FIRST)]
    since, _ = span_of(begun([(stay.start, FITTED, None), *started]), stay.start, at)
    return [recorded for recorded, check in checks if check.at >= since]


class TakenOver:
    """Looks up what of a task was measured in checks of the same set-up."""

    def __init__(self, context: Context) -> None:
        self._context, self._known = context, context.known
        self._results = Results(context)

    def latest(self, item: Item, task: Task, at: datetime) -> tuple[Taken, ...]:
        """The last values of each point of a task, as a check by a moment has them; only points that have some."""
        last = {taken.point: taken for taken in self.of(item, task, at)}
        return tuple(last[point.id] for point in task.points if point.id in last)

    def of(self, item: Item, task: Task, at: datetime) -> Iterator[Taken]:
        """All values that may be taken over, in order: as many as the task asks for, in its unit, by a gauge that
        counted then, with the parts the item still has."""
        if item.kind not in (Kind.DIE_SET, Kind.MODULE) or not task.points:
            return
        wanted = {point.id: point for point in task.points}
        changed = self._changed(item.id, at)
        for recorded in checks_of_set_up(self._context, item.id, at):
            check = recorded.entry
            assert isinstance(check, Check)
            if check.at < changed or self._results.doubt(check.gauge, check.at) is not None:
                continue
            for key, values in check.points:
                point = wanted.get(key)
                if point is not None and len(values) >= point.readings and self._is_same(point, check):
                    yield Taken(key, values, check.gauge, recorded.id, check.at)

    def _is_same(self, point: Point, check: Check) -> bool:
        """Whether a check measured a point in the unit that the task asks for."""
        crimp = self._known.crimps.get(check.crimp or "")
        measured: Sequence[Point] = (*SET.values(), *self._on(check.item), *(crimp.points if crimp else ()))
        return {other.id: other.unit for other in measured}.get(point.id) == point.unit

    def _on(self, item: str) -> Iterable[Point]:
        tasks = self._known.tasks_of_kind.get(self._known.item(item).kind, [])
        return (point for task in tasks for point in task.points)

    def _changed(self, item: str, at: datetime) -> datetime:
        """When a part of an item was last fitted, taken out or reworked by a moment; the beginning where none was."""
        moments = [utc_text(self._known.since[item])]
        for row in self._context.rows.fittings_in(item):
            moments += [row.start, row.until or ""]
            moments += [rework.at for rework in self._context.wear_history.reworks_of(row.item)]
        return from_utc_text(max(moment for moment in moments if moment and moment <= utc_text(at)))

"""Jobs and locks as they stand: who has them, since when, and what became of work that waited."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from upkeep.counting.strokes import strokes_between
from upkeep.entries.entry import Recorded
from upkeep.entries.jobs import GoOn, Interrupt, Lock
from upkeep.errors import NotFound
from upkeep.keeping.context import Context
from upkeep.plant.line_names import LineName
from upkeep.said import said
from upkeep.store.rows.under_way import UnderWayRow
from upkeep.units.instants import utc_text
from upkeep.views.jobs import Job
from upkeep.views.jobs import Lock as HungLock


class WorkUnderWay:
    """The jobs and locks of one book at the moment of its context."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._rows = context.rows.under_way()

    def jobs(self) -> Iterator[Job]:
        """All jobs that have not ended, the oldest first."""
        return (self._job(row, row.task) for row in self._rows if row.task is not None)

    def job(self, number: int) -> Job:
        """The job under way with a number; raises :class:`NotFound` where there is none."""
        for row in self._rows:
            if row.entry == number and row.task is not None:
                return self._job(row, row.task)
        raise NotFound(said("job under way"), f"#{number}", [f"#{row.entry}" for row in self._rows if row.task])

    def job_on(self, item: str, task: str) -> Job | None:
        """The job under way on a line; None: there is none."""
        return next((self._job(row, task) for row in self._rows if (row.item, row.task) == (item, task)), None)

    def locks(self) -> Iterator[HungLock]:
        """All locks that hang, the oldest first."""
        for row in self._rows:
            recorded = self._context.entries.by_number(row.entry) if row.task is None else None
            if recorded is not None and isinstance(recorded.entry, Lock):
                hung = recorded.entry
                name = self._context.names.of(hung.by, recorded.id)
                yield HungLock(row.entry, row.item, hung.point, hung.by, name, hung.at)

    def _job(self, row: UnderWayRow, task: str) -> Job:
        begun = self._context.entries.by_number(row.entry)
        assert begun is not None
        steps = self._steps_of(row.entry)
        had = [begun, *(step for step in steps if isinstance(step.entry, GoOn))]
        holder, last = had[-1], steps[-1] if steps else begun
        left = last.entry if isinstance(last.entry, Interrupt) else None
        told = [step.entry for step in steps if isinstance(step.entry, Interrupt)]
        known = self._known.tasks.get(task)
        names = [self._context.names.of(one.entry.by, one.id) for one in had]
        return Job(
            number=row.entry,
            line=str(LineName(row.item, task)),
            item=row.item,
            task=task,
            title=known.title if known else task,
            place=self._context.whereabouts.place_of(self._known.item(row.item)),
            began_at=begun.entry.at,
            by=holder.entry.by,
            name=names[-1],
            since=holder.entry.at,
            before=tuple(name for name in dict.fromkeys(names[:-1]) if name != names[-1]),
            interrupted_at=left.at if left else None,
            why=left.because if left else "",
            step=told[-1].step if told else None,
            steps=len(known.steps) if known else 0,
            left=left.left if left else "",
            ran=self._ran(row.item, steps),
        )

    def _steps_of(self, number: int) -> list[Recorded]:
        """Each time a job was interrupted or somebody went on with it, in order."""
        steps = [
            other
            for other in self._context.entries.referring_to(number)
            if isinstance(other.entry, Interrupt | GoOn)
            and self._context.rows.effect_lost_through(other.id) is None
            and utc_text(other.entry.at) <= utc_text(self._at)
        ]
        return sorted(steps, key=lambda step: (step.entry.at, step.id))

    def _ran(self, item: str, steps: Sequence[Recorded]) -> int:
        """The strokes an item did at the least while its job waited."""
        ran = 0
        for place, step in enumerate(steps):
            if isinstance(step.entry, Interrupt):
                until = steps[place + 1].entry.at if place + 1 < len(steps) else self._at
                ran += strokes_between(self._context.whereabouts.counts, item, step.entry.at, until).low
        return ran

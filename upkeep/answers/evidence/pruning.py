"""Which tasks to drop or to look at: work that never finds anything, and work that finds too much."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from upkeep.keeping.context import Context
from upkeep.plant.model import Task
from upkeep.quality.pruning import Advice, advice_on, chance_of_none
from upkeep.stats.passes import clopper_pearson
from upkeep.store.evidence.data_quality import Found, QualityRows
from upkeep.units.instants import utc_text
from upkeep.views.evidence.quality import Pruning, TaskFindings

LOOKED_AT = timedelta(days=365)
"""How far back findings are counted where nobody says."""

_ORDER = (Advice.NEVER_FINDS, Advice.FINDS_TOO_MUCH, Advice.NOTHING_TO_SAY, Advice.FINDS)


def pruning(context: Context, first: datetime | None = None) -> Pruning:
    """What each task found from ``first`` on (None: over a year), what speaks for dropping it at the top."""
    first = context.moment - LOOKED_AT if first is None else first
    found = [row for row in QualityRows(context.file).found(utc_text(first), utc_text(context.moment))
             if row.task in context.known.tasks]  # fmt: skip
    lines = [_line(context.known.tasks[row.task], row, found) for row in found]
    lines.sort(key=lambda line: (_ORDER.index(line.advice), -line.times, line.task))
    return Pruning(first, context.moment, tuple(lines))


def _line(task: Task, row: Found, found: Iterable[Found]) -> TaskFindings:
    others = _share(one for one in found if one.task != row.task)
    band = clopper_pearson(row.findings, row.times)
    return TaskFindings(
        task=task.id,
        title=task.title,
        kind=task.applies_to.value,
        times=row.times,
        findings=row.findings,
        low=100 * band.low,
        high=100 * band.high,
        others=None if others is None else 100 * others,
        chance=None if row.findings or others is None else 100 * chance_of_none(row.times, others),
        minutes=task.minutes * row.times,
        advice=advice_on(row.findings, row.times, others),
        statutory=task.statutory,
    )


def _share(found: Iterable[Found]) -> float | None:
    """The share of findings of several tasks together; None where none was done."""
    rows = list(found)
    times = sum(row.times for row in rows)
    return sum(row.findings for row in rows) / times if times else None

"""Late work of some days, with its reasons."""

from __future__ import annotations

from datetime import date

from upkeep.answers.figures.on_time import figures
from upkeep.entries.occurrences import OfShift, occurrence_of
from upkeep.entries.origin import Proof
from upkeep.entries.signing import Sign
from upkeep.keeping.context import Context
from upkeep.progress import Watch, nobody
from upkeep.views.evidence.late import LateLine, LateWork
from upkeep.views.figures import Answered


def late_work(
    context: Context, first: date | None = None, last: date | None = None, *, area: str | None = None,
    item: str | None = None, watch: Watch = nobody,
) -> LateWork:  # fmt: skip
    """What was not done in time from ``first`` to ``last`` (this month where none is named), of an area or an item.

    Raises :class:`Refused` and :class:`NotFound` as the figures do.
    """
    found = figures(context, context.moment, first, last, area, watch, item=item)
    lines = [_line(context, one) for one in found.late if not isinstance(occurrence_of(one.occurrence), OfShift)]
    return LateWork(
        found.first_day, found.last_day, area, item, found.on_time, tuple(lines),
        sum(1 for line in lines if line.done_at is not None and not line.because),
    )  # fmt: skip


def _line(context: Context, answered: Answered) -> LateLine:
    recorded = context.entries.by_number(answered.entry) if answered.entry is not None else None
    entry = recorded.entry if recorded is not None else None
    day = context.known.zone.day
    return LateLine(
        line=answered.line,
        title=answered.title,
        area=answered.area,
        occurrence=answered.occurrence,
        due_at=answered.due_at,
        verdict=answered.verdict,
        done_at=answered.done_at,
        by=context.names.of(entry.by, answered.entry or 0) if entry is not None else None,
        proof=entry.origin.proof if entry is not None else Proof.NOT_KNOWN,
        entry=answered.entry,
        days=(day(answered.done_at) - day(answered.due_at)).days if answered.done_at is not None else None,
        because=(entry.because or (entry.remark if isinstance(entry, Sign) else "")) if entry is not None else "",
        deferred=answered.deferred,
        statutory=answered.statutory,
    )

"""Frozen views of how much was done on time."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime

from upkeep.due.compliance import Share, Verdict
from upkeep.frozen import frozen
from upkeep.said import Said
from upkeep.views.overview.indicators import Indicators


@frozen
class Answered:
    """One occurrence that was not on time: where it hung then, when it was due, and what became of it.

    ``gap_days`` are the days between this time and the time before; None where it was not done, or never before.
    """

    line: str
    title: str
    area: str
    occurrence: str
    due_at: datetime
    verdict: Verdict
    done_at: datetime | None
    done_by: str | None
    entry: int | None
    gap_days: int | None
    deferred: bool
    statutory: bool


@frozen
class ChangedTask:
    """A task defined anew: who, when and why, and each field that moves due dates, before and after."""

    task: str
    at: datetime
    by: str
    because: str
    entry: int
    fields: tuple[Said, ...]


@frozen
class Figures:
    """The figures of some days, looked at from a moment.

    ``began`` is the day the book began: figures begin there at the earliest. ``counts`` has every verdict;
    ``on_time``, ``by_area`` and ``by_week`` (the ISO week in which it was due) count those of the base.
    ``signed_besides`` is how often somebody signed work of a shift that was not asked for. ``late`` is all that
    was in the base and not on time, ``changes`` the tasks changed in these days. ``indicators`` are the other
    figures of the same days (None: they were not asked for).
    """

    plant: str
    zone: str
    at: datetime
    area: str | None
    item: str | None
    first_day: date
    last_day: date
    began: date
    definition: Said
    on_time: Share
    statutory: Share
    by_area: Mapping[str, Share]
    by_week: Mapping[str, Share]
    counts: Mapping[Verdict, int]
    signed_besides: int
    deferrals: int
    late: tuple[Answered, ...]
    changes: tuple[ChangedTask, ...]
    indicators: Indicators | None = None

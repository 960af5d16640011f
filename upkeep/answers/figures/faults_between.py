"""Faults of some days: how many strokes lay between them, and how long what they stopped stood."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import cached_property
from math import isinf

from upkeep.answers.faults.cases import Case, FaultCases
from upkeep.keeping.context import Context
from upkeep.stats.rates import mean_between
from upkeep.views.overview.indicators import Between, Restored

_MINUTE = 60


class FaultsBetween:
    """The faults of an item (None: of all) that ``is_within`` says belong to what is looked at."""

    def __init__(self, context: Context, item: str | None, is_within: Callable[[str, datetime], bool]) -> None:
        self._context, self._item, self._is_within = context, item, is_within

    @cached_property
    def _cases(self) -> list[Case]:
        return list(FaultCases(self._context).all(self._item))

    def all(self) -> list[Case]:
        """Every fault there ever was."""
        return self._cases

    def of(self, start: datetime, end: datetime) -> list[Case]:
        """The faults reported over [start, end), in order."""
        return [
            case
            for case in self._cases
            if start <= case.report.at < end and self._is_within(case.report.item, case.report.at)
        ]

    def between(self, strokes: int, start: datetime, end: datetime, *, stops: bool) -> Between:
        """So many strokes and the faults reported meanwhile; ``stops``: only those for which something stopped."""
        faults = sum(1 for case in self.of(start, end) if case.report.stopped or not stops)
        bounds = mean_between(strokes, faults)
        return Between(strokes, faults, bounds.low, None if isinf(bounds.high) else bounds.high)

    def _ended(self, start: datetime, end: datetime) -> list[tuple[datetime, datetime]]:
        """From when to when each fault stood that ended over [start, end)."""
        found = ((case.report.at, case.way.ended, case.report.item) for case in self._cases)
        return [
            (at, ended)
            for at, ended, item in found
            if ended is not None and start <= ended < end and self._is_within(item, at)
        ]

    def restored(self, start: datetime, end: datetime) -> Restored:
        """How long those faults stood that ended over [start, end)."""
        ended, worked = self._ended(start, end), self._context.known.calendar.worked_between
        if not ended:
            return Restored(0, None, None)
        in_work = sum(worked(since, until).total_seconds() for since, until in ended)
        by_clock = sum((until - since).total_seconds() for since, until in ended)
        return Restored(len(ended), in_work / _MINUTE / len(ended), by_clock / _MINUTE / len(ended))

    def repair_minutes(self, start: datetime, end: datetime) -> float:
        """Working minutes of the repairs that were fixed over [start, end), from taken to fixed."""
        worked = self._context.known.calendar.worked_between
        repaired = (
            (case.way.taken.at, case.way.fixed.at)
            for case in self._cases
            if case.way.taken is not None and case.way.fixed is not None
            if start <= case.way.fixed.at < end and self._is_within(case.report.item, case.report.at)
        )
        return sum(worked(taken, fixed).total_seconds() / _MINUTE for taken, fixed in repaired)

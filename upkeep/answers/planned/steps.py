"""How far the plan of a week has come, from its entries: proposed, changed, agreed, frozen, decided."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from functools import cached_property
from typing import TypeVar

from upkeep.entries.entry import Entry, Recorded
from upkeep.entries.plans.weeks import (
    AgreeWeek,
    Carried,
    FreezeWeek,
    PlanJob,
    Planned,
    Propose,
    rows_from,
)
from upkeep.keeping.context import Context
from upkeep.plant.line_names import LineName
from upkeep.said import Said, listed, said
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.views.planned.week_plan import Mark, Stage, Unplaced

E = TypeVar("E", bound=Entry)

WEEKS_BACK = 12
"""Frozen weeks that are looked through for how often a line was carried over."""


class WeekSteps:
    """The steps of one week in the order they were written; those struck are not among them."""

    def __init__(self, context: Context, week: str) -> None:
        self._context, self.week = context, week

    @cached_property
    def _all(self) -> list[Recorded]:
        rows = self._context.plans.steps_of(self.week)
        found = (self._context.entries.by_number(row.entry) for row in rows)
        return [recorded for recorded in found if recorded is not None]

    def _of(self, kind: type[E]) -> Iterator[tuple[int, E]]:
        return ((one.id, one.entry) for one in self._all if isinstance(one.entry, kind))

    @cached_property
    def proposed(self) -> tuple[int, Propose] | None:
        """The last proposal with its number; None: there is none."""
        return max(self._of(Propose), key=lambda one: one[0], default=None)

    @cached_property
    def frozen(self) -> tuple[int, FreezeWeek] | None:
        """The last freezing with its number; None: the week was not frozen."""
        return max(self._of(FreezeWeek), key=lambda one: one[0], default=None)

    @property
    def issue(self) -> int:
        """How often the week was frozen."""
        return sum(1 for _ in self._of(FreezeWeek))

    @property
    def frozen_at(self) -> datetime:
        """When the list was frozen; asked for only where it was."""
        assert self.frozen is not None
        return self.frozen[1].at

    @cached_property
    def agreed(self) -> tuple[int, AgreeWeek] | None:
        """By which the plan was agreed as it stands; None: it was not, or was changed since."""
        last = max(self._of(AgreeWeek), key=lambda one: one[0], default=None)
        return None if last is None or last[0] < self._last_change else last

    @property
    def _last_change(self) -> int:
        numbers = [number for number, _ in (*self._of(Propose), *self._of(PlanJob))]
        return max(numbers, default=0)

    @property
    def stage(self) -> Stage:
        """How far it has come."""
        if self.frozen is not None:
            return Stage.FROZEN
        if self.proposed is None:
            return Stage.NONE
        if self.agreed is not None:
            return Stage.AGREED
        return Stage.CHANGED if self._last_change > self.proposed[0] else Stage.PROPOSED

    def not_to_be_frozen(self) -> Said | None:
        """Why the list cannot be frozen as it stands; None: it can."""
        if self.stage is Stage.AGREED or (self.stage is Stage.FROZEN and self.changes):
            return None
        if self.stage is Stage.FROZEN:
            return said("{week} is frozen already, and nothing was changed since.", week=self.week)
        return said("{week} is not agreed as it stands. Propose it, change it, agree it, then freeze it.",
                    week=self.week)  # fmt: skip

    @cached_property
    def decisions(self) -> dict[str, Carried]:
        """What was last decided in this week about lines carried over too often, by line."""
        return {decided.line: decided for _, decided in self._of(Carried)}

    @cached_property
    def changes(self) -> dict[str, PlanJob]:
        """What the lead last said of lines, by line: since the list was frozen, or since the proposal."""
        base = self.frozen or self.proposed
        return {change.line: change for number, change in self._of(PlanJob) if base is None or number > base[0]}

    @property
    def base(self) -> tuple[Planned, ...]:
        """The rows as they were frozen, or else proposed."""
        if self.frozen is not None:
            return rows_from(self.frozen[1].rows)
        return rows_from(self.proposed[1].rows) if self.proposed is not None else ()

    @property
    def standing(self) -> frozenset[str] | None:
        """The lines that stand on the frozen list, those taken off since left out; None: the week is not frozen."""
        if self.frozen is None:
            return None
        return frozenset(row.line for row, mark in self.rows() if mark is not Mark.REMOVED)

    def rows(self) -> list[tuple[Planned, Mark]]:
        """The rows as they stand, each with what became of it since the list was frozen; those added come last."""
        frozen, changes = self.frozen is not None, dict(self.changes)
        rows = [_changed(row, changes.pop(row.line, None), frozen) for row in self.base]
        added = (change for change in changes.values() if change.shift is not None)
        rows += [(_added(change), Mark.ADDED if frozen else Mark.NONE) for change in added]
        return rows


def _changed(row: Planned, change: PlanJob | None, frozen: bool) -> tuple[Planned, Mark]:
    if change is None or (change.shift, change.person) == (row.shift, row.person):
        return row, Mark.NONE
    if change.shift is None:
        taken_out = replace(row, shift=None, person=None, why=str(Unplaced.OUT))
        return taken_out, Mark.REMOVED if frozen and row.shift is not None else Mark.NONE
    mark = Mark.NONE if not frozen else Mark.ADDED if row.shift is None else Mark.MOVED
    return replace(row, shift=change.shift, person=change.person, why=None), mark


def _added(change: PlanJob) -> Planned:
    return Planned(change.line, "", change.shift, change.person)


class CarriedOver:
    """How often lines were carried over: frozen weeks in a row that had them on a shift and did not see them done."""

    def __init__(self, context: Context, week: str) -> None:
        self._context = context
        frozen = context.plans.frozen_before(week, WEEKS_BACK)
        self._weeks = [WeekSteps(context, row.week) for row in frozen]

    @cached_property
    def _lists(self) -> list[dict[str, Planned]]:
        """The lines that each week promised, the latest week first."""
        return [
            {row.line: row for row, mark in steps.rows() if _is_promised(row) and mark is not Mark.REMOVED}
            for steps in self._weeks
        ]

    def times(self, line: str) -> int:
        """How many weeks in a row, up to the last one, had a line that has not been done since the first of them."""
        times = 0
        for steps, rows in zip(self._weeks, self._lists, strict=True):
            if line not in rows or self._done_since(line, steps):
                break
            times += 1
        return times

    def _done_since(self, line: str, steps: WeekSteps) -> bool:
        return answered_since(self._context, line, steps.frozen_at) is not None


def _is_promised(row: Planned) -> bool:
    """Whether a week answers for a row: it has it on a shift, or took it over while the week before still had it."""
    return row.shift is not None or row.why == Unplaced.PROMISED


def undecided_said(lines: Sequence[str], times: int) -> Said:
    """That the lead has to decide about lines before the week can be frozen."""
    return said(
        "{lines}: carried over {times} times or more. Decide first, with a reason: defer, cancel, change the interval, "
        "or give hours ('strokebook carried').",
        lines=listed(lines),
        times=times,
    )


def answered_since(context: Context, line: str, since: datetime) -> datetime | None:
    """When a line was first done or cancelled from a moment on, by the moment of the context; None: it was not."""
    item, task = LineName.read(line)
    rows = context.rows.sign_offs_from(item, task, utc_text(since))
    moments = (from_utc_text(row.at) for row in rows)
    return min((at for at in moments if at <= context.moment), default=None)

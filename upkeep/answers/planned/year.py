"""The year ahead of a plant: its lines, people, parts and spares as they stand, played many times; and what a change of
an interval, of hours or of the shelf would do to it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from upkeep.answers.life import life
from upkeep.answers.planned.recurring import Paced, RecurringLines, days_of
from upkeep.answers.planned.role_hours import role_minutes
from upkeep.answers.shelf.ordering import order_list
from upkeep.answers.wear.lives import LivesOfParts
from upkeep.errors import NotFound, Unreadable
from upkeep.keeping.context import Context
from upkeep.planning.year.simulation import Year, YearLine, YearPart, YearPlan, YearSpare, simulated
from upkeep.planning.year.spreading import WEEK
from upkeep.plant.model import PARTS, Item, Kind, Task
from upkeep.progress import Watch, nobody
from upkeep.said import said
from upkeep.stats.weibull import Weibull
from upkeep.views.overview.shelf import OrderRow
from upkeep.views.planned.year import PolicyChange, PolicyYear, Range, YearAhead

DAYS = 260
"""Working days that are played: 52 weeks of five."""

REPLACING = 30
"""Minutes that a replacement counts for (plant default, no source)."""

REPLACED_BY = "maintenance technician"

_LOW, _HIGH = 5, 95


class FamilyLivesKnown:
    """The life distributions of families, each found once; ``shape`` is one stated by the plant, with which a single
    failure is enough (None: it is fitted, from five on)."""

    def __init__(self, context: Context, shape: float | None) -> None:
        self._lives, self._shape = LivesOfParts(context), shape
        self._found: dict[tuple[str, Kind], tuple[Weibull, int] | None] = {}

    def of(self, family: str, kind: Kind) -> tuple[Weibull, int] | None:
        """The distribution of the parts of a kind in a family, and how many failures it is from; None: too few."""
        if (family, kind) not in self._found:
            self._found[family, kind] = self._curve(family, kind)
        return self._found[family, kind]

    def _curve(self, family: str, kind: Kind) -> tuple[Weibull, int] | None:
        try:
            report = self._lives.report(family, kind, False, self._shape, None)
        except NotFound:
            return None
        curves = [(one.curve.weibull, one.failures) for _, one in report.reports if one.curve is not None]
        return max(curves, key=lambda curve: curve[1], default=None)


class YearsAhead:
    """Makes plans of a year from the book as it stands at the moment of a context."""

    def __init__(self, context: Context, shape: float | None = None, watch: Watch = nobody) -> None:
        self._context, self._known, self._watch, self._shape = context, context.known, watch, shape
        self._recurring = RecurringLines(context)

    def year(self, changes: Sequence[PolicyChange], runs: int, seed: int) -> YearAhead:
        """The year of now beside that with some changes.  Raises :class:`NotFound` or :class:`Unreadable` for a change
        of what is not there."""
        changed = self._changed(changes) if changes else None
        plans = [self._plan] if changed is None else [self._plan, changed]
        years = [simulated(plan, runs, seed, self._watch) for plan in plans]
        facts = self._known.facts.planning
        return YearAhead(
            plant=self._known.facts.name,
            first_day=self._recurring.today,
            days=DAYS,
            runs=runs,
            seed=seed,
            now=self._policy(years[0]),
            changed=self._policy(years[1]) if len(years) > 1 else None,
            differences=_differences(*years) if len(years) > 1 else None,
            changes=tuple(changes),
            lines=len(self._plan.lines),
            unpaced=self._recurring.unpaced,
            shift_care=self._recurring.shift_care,
            parts=len(self._plan.parts),
            unknown_lives=self._unknown_lives,
            stated_shape=self._shape,
            role_hours=tuple((role, minutes * WEEK / 60) for role, minutes in self._plan.minutes.items()),
            reserve_percent=facts.reserve,
            currency=facts.currency if facts.has_money else "",
        )

    # The plan of now

    @cached_property
    def _paced(self) -> tuple[Paced, ...]:
        return self._recurring.lines

    @cached_property
    def _places(self) -> dict[str, int]:
        """Items with a rate, each with its place in the plan; place 0 is for what does no strokes."""
        ids = [line.pace.item for line in self._paced if line.pace] + [part.id for part, _ in self._parts_in_use]
        paced = [item for item in dict.fromkeys(ids) if self._recurring.pace(item) is not None]
        return {item: place for place, item in enumerate(paced, 1)}

    @cached_property
    def _plan(self) -> YearPlan:
        rates = [(0.0, 0.0)]
        for item in self._places:
            pace = self._recurring.pace(item)
            rates.append((pace.mean, pace.scatter) if pace else (0.0, 0.0))
        lines = tuple(self._line(paced) for paced in self._paced)
        parts = tuple(self._parts())
        roles = {line.role for line in lines} | {part.role for part in parts}
        return YearPlan(tuple(rates), lines, role_minutes(self._context, roles), parts, self._spares, DAYS)

    def _line(self, paced: Paced) -> YearLine:
        line = paced.line
        return YearLine(
            line=line.line,
            role=line.roles[0],
            minutes=paced.minutes,
            item=self._places.get(line.item, 0),
            first=paced.first,
            every=paced.every,
            left=paced.left if line.item in self._places else None,
            strokes=paced.strokes if line.item in self._places else None,
            grace=paced.grace,
            law=line.statutory,
            fixed=bool(self._known.task(line.task).rule),
        )

    @cached_property
    def _parts_in_use(self) -> tuple[tuple[Item, str | None], ...]:
        """Each part that sits in something, with its family."""
        known, whereabouts = self._known, self._context.whereabouts
        found = []
        for item in known.items.values():
            inside = whereabouts.sits_in(item.id) if item.kind in PARTS and not item.scrapped else None
            if inside is not None:
                found.append((item, item.family or known.item(inside).family))
        return tuple(found)

    @cached_property
    def _known_lives(self) -> FamilyLivesKnown:
        return FamilyLivesKnown(self._context, self._shape)

    @cached_property
    def _unknown_lives(self) -> int:
        return len(self._parts_in_use) - len(self._plan.parts)

    def _parts(self) -> Iterator[YearPart]:
        for item, family in self._parts_in_use:
            known = self._known_lives.of(family, item.kind) if family is not None else None
            place = self._places.get(item.id)
            if known is None or place is None:
                continue
            numbers, weibull = life(self._context, item.id), known[0]
            done = numbers.since_rework or numbers.since_new
            task = self._replacing.get(item.kind)
            yield YearPart(
                item=place,
                age=float(done[1]),
                shape=weibull.shape,
                scale=weibull.scale,
                replace_at=float(item.life) if item.life and task else None,
                role=task.by[0] if task else REPLACED_BY,
                minutes=(task.minutes if task else 0) or REPLACING,
                spare=self._spare_for(item, family),
            )

    @cached_property
    def _replacing(self) -> Mapping[Kind, Task]:
        """The tasks that replace parts when their life is used up, by kind of part."""
        return {task.applies_to: task for task in self._known.tasks.values() if task.life}

    @cached_property
    def _spare_keys(self) -> list[str]:
        return [row.shelf.spare for row in self._to_order]

    @cached_property
    def _to_order(self) -> tuple[OrderRow, ...]:
        return order_list(self._context).rows

    @cached_property
    def _spares(self) -> tuple[YearSpare, ...]:
        share = self._recurring.share
        return tuple(
            YearSpare(max(0, row.shelf.number), row.level, max(1, row.shelf.pack, row.level),
                      max(1, round((row.shelf.lead_days or 0) * share)))
            for row in self._to_order
        )  # fmt: skip

    def _spare_for(self, item: Item, family: str | None) -> int | None:
        for number, key in enumerate(self._spare_keys):
            spare = self._known.spare(key)
            if spare.part is item.kind and spare.is_for(family):
                return number
        return None

    # A policy

    def _changed(self, changes: Sequence[PolicyChange]) -> YearPlan:
        plan = self._plan
        for change in changes:
            plan = {"every": self._every, "strokes": self._strokes, "hours": self._hours, "stock": self._stock}[
                change.what
            ](plan, change)
        return plan

    def _every(self, plan: YearPlan, change: PolicyChange) -> YearPlan:
        task = self._known.task(change.name)
        days = self._recurring.working_days(days_of(change.value, self._recurring.today))
        return replace(plan, lines=tuple(
            replace(line, every=days, first=_moved(line, days))
            if line.every is not None and line.line.endswith(f"/{task.id}") else line
            for line in plan.lines
        ))  # fmt: skip

    def _strokes(self, plan: YearPlan, change: PolicyChange) -> YearPlan:
        task, strokes = self._known.task(change.name), _number(change)
        return replace(plan, lines=tuple(
            replace(line, strokes=strokes, left=line.left + strokes - line.strokes)
            if line.strokes is not None and line.left is not None and line.line.endswith(f"/{task.id}") else line
            for line in plan.lines
        ))  # fmt: skip

    def _hours(self, plan: YearPlan, change: PolicyChange) -> YearPlan:
        if change.name not in plan.minutes:
            raise NotFound(said("role"), change.name, list(plan.minutes))
        more = _number(change) * 60 / WEEK
        return replace(plan, minutes={
            role: max(0.0, minutes + more) if role == change.name else minutes for role, minutes in plan.minutes.items()
        })  # fmt: skip

    def _stock(self, plan: YearPlan, change: PolicyChange) -> YearPlan:
        self._known.spare(change.name)
        if change.name not in self._spare_keys:
            raise NotFound(said("spare with a lead time"), change.name, self._spare_keys)
        at, more = self._spare_keys.index(change.name), round(_number(change))
        spares = list(plan.spares)
        spares[at] = replace(
            spares[at], stock=max(0, spares[at].stock + more), reorder=max(0, spares[at].reorder + more)
        )
        return replace(plan, spares=tuple(spares))

    # What came out

    def _policy(self, year: Year) -> PolicyYear:
        facts = self._known.facts.planning
        hours = [sum(week) / 60 for week in zip(*year.weeks, strict=True)]
        money = None
        if facts.has_money:
            each = zip(hours, year.failed, strict=True)
            money = _range([(facts.hour_cost or 0) * h + (facts.wear_cost or 0) * failed for h, failed in each])
        return PolicyYear(
            late=_range(year.late),
            failed=_range(year.failed),
            waited=_range(year.waited),
            hours=_range(hours),
            weeks=tuple(_range([minutes / 60 for minutes in week]) for week in year.weeks),
            money=money,
        )


def _moved(line: YearLine, days: int) -> int | None:
    """When a line falls due first with another interval: as long after its last time as the new one says."""
    return None if line.first is None or line.every is None else line.first + days - line.every


def _number(change: PolicyChange) -> float:
    try:
        return float(change.value.replace(",", ""))
    except ValueError:
        raise Unreadable(said("{value} is not a number.", value=change.value)) from None


def _range(values: Sequence[float]) -> Range:
    """The mean of some runs, and the values one in twenty lies below and above."""
    ordered = sorted(values)
    last = len(ordered) - 1
    return Range(
        sum(ordered) / len(ordered), float(ordered[last * _LOW // 100]), float(ordered[-(-last * _HIGH // 100)])
    )


def _differences(now: Year, then: Year) -> tuple[Range, Range, Range, Range]:
    """Changed less now, run by run."""
    hours = [[sum(week) / 60 for week in zip(*year.weeks, strict=True)] for year in (now, then)]
    return (
        _range([b - a for a, b in zip(now.late, then.late, strict=True)]),
        _range([b - a for a, b in zip(now.failed, then.failed, strict=True)]),
        _range([b - a for a, b in zip(now.waited, then.waited, strict=True)]),
        _range([b - a for a, b in zip(*hours, strict=True)]),
    )

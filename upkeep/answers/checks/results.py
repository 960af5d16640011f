"""The checks of one characteristic of an item, before and after a failed one, and whether each counts."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.entries.checking import Check
from upkeep.entries.entry import Recorded
from upkeep.entries.signing import Sign
from upkeep.keeping.context import Context
from upkeep.keeping.limits_in_force import is_within
from upkeep.plant.model import Kind, Point
from upkeep.quality.checks import found_bad
from upkeep.quality.settings import SETTINGS
from upkeep.quality.suspect import CheckResult
from upkeep.said import Said, listed, said
from upkeep.store.rows.findings import MeasuredRow
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.units.measures import Amount, InUnits, UnitName

GRADE = "grade"
"""The characteristic of an inspection that ends with grade 4 although every measured point is within its limits."""

CHECKED_KINDS = (Kind.DIE_SET, Kind.MODULE)
"""What pieces are made with: only their checks speak for product."""


_OUT = 4


class Results:
    """Reads the checks of a book; made for one question."""

    def __init__(self, context: Context) -> None:
        self._known = context.known
        self._rows, self._entries, self._findings = context.rows, context.entries, context.findings
        self._limits = context.limits
        self._gauges = GaugeStates(context)

    def before(self, recorded: Recorded, point: str) -> Iterator[CheckResult]:
        """The checks of a characteristic before one of them, newest first."""
        where = _item(recorded), point, utc_text(recorded.entry.at), recorded.id
        rows = self._findings.graded_back_from(*where) if point == GRADE else self._findings.back_from(*where)
        return (result for row in rows if (result := self._result(row)) is not None)

    def after(self, recorded: Recorded, point: str) -> Iterator[CheckResult]:
        """The results of a point on the same item after an entry, oldest first; without values that nothing judges."""
        where = _item(recorded), point, utc_text(recorded.entry.at), recorded.id
        rows = self._findings.graded_on_from(*where) if point == GRADE else self._findings.on_from(*where)
        return (result for row in rows if (result := self._result(row)) is not None)

    def _result(self, row: MeasuredRow) -> CheckResult | None:
        """One check; None for a value that nothing judges."""
        good = self._judged(row.entry, row.point) if row.good is None else bool(row.good)
        if good is None:
            return None
        moment = from_utc_text(row.at)
        return CheckResult(moment, row.entry, good, row.gauge, self.doubt(row.gauge, moment) if good else None)

    def doubt(self, gauge: str | None, moment: datetime) -> Said | None:
        """Why a gauge does not count at a moment; None: it does, or no gauge was needed."""
        if gauge is None:
            return None
        state = self._gauges.at(gauge, moment)
        return None if state.valid else state.why

    def _judged(self, entry: int, point: str) -> bool | None:
        recorded = self._entries.by_number(entry)
        if recorded is None or not isinstance(recorded.entry, Sign):
            return None
        limits = self._limits.points(recorded).get(point)
        if limits is None or (limits.lower is None and limits.upper is None):
            return None
        return is_within(limits, dict(recorded.entry.points)[point])

    def out_of_limits(self, recorded: Recorded) -> list[str]:
        """What was bad in a sign-off by the limits valid then: its points, or its grade; nothing in another entry."""
        if not isinstance(recorded.entry, Sign) or self._known.item(recorded.entry.item).kind not in CHECKED_KINDS:
            return []
        limits = self._limits.points(recorded) if recorded.entry.points else {}
        bad = [key for key, values in recorded.entry.measured if key in limits and not is_within(limits[key], values)]
        return bad or [GRADE] * (recorded.entry.grade == _OUT)

    def bad_inspections(self, item: str | None, at: datetime) -> Iterator[tuple[int, str]]:
        """The sign-offs with a point out of limits by a moment: (entry, point), in order for each item and task."""
        items = [self._known.item(item)] if item else list(self._known.items.values())
        for candidate in items:
            tasks = self._known.tasks_of_kind.get(candidate.kind, []) if candidate.kind in CHECKED_KINDS else []
            for task in (task for task in tasks if task.points or task.graded):
                for number in self._findings.judged_sign_offs(candidate.id, task.id, utc_text(at)):
                    signed = self._entries.by_number(number)
                    if signed is not None:
                        yield from ((number, point) for point in self.out_of_limits(signed))

    def part(self, item: str, point: str, at: datetime) -> tuple[str, datetime] | None:
        """The part a characteristic belongs to, and since when it sat in the item at a moment; None: to no part."""
        kind = self._part_kind(item, point)
        if kind is None:
            return None
        for row in self._rows.fittings_in(item, utc_text(at)):
            if self._known.item(row.item).kind is kind and row.start <= utc_text(at):
                return row.item, from_utc_text(row.start)
        return None

    def _part_kind(self, item: str, point: str) -> Kind | None:
        return next((p.part for p in self._points(item) if p.id == point and p.part is not None), None)

    def unit(self, item: str, point: str) -> str:
        """The unit a point of an item is measured in; "?" where nothing defines it any more."""
        known = (*self._points(item), *SETTINGS.values())
        return next((p.unit for p in known if p.id == point), "?")

    def _points(self, item: str) -> list[Point]:
        owner = self._known.item(item)
        points: list[Point] = [p for task in self._known.tasks_of_kind.get(owner.kind, []) for p in task.points]
        return points + [p for c in self._known.crimps.values() if c.family == owner.family for p in c.points]

    def finding(self, recorded: Recorded, point: str) -> Said:
        """What was found, in words: the readings with their limits and gauge, or that it looked bad."""
        entry = recorded.entry
        assert isinstance(entry, Check | Sign)
        values = dict(entry.points).get(point)
        if point == GRADE:
            return said("grade 4 (out) at the inspection")
        if values is None:
            return found_bad(point)
        if isinstance(entry, Check):
            lower, upper = next(((low, high) for key, low, high in entry.limits if key == point), (None, None))
        else:
            limits = self._limits.points(recorded)[point]
            lower, upper = limits.lower, limits.upper
        unit = self.unit(entry.item, point)
        readings = said(
            "{values} {unit} (allowed {within})",
            values=listed(Amount(value, unit) for value in values),
            unit=UnitName(unit),
            within=_within(lower, upper, unit),
        )
        readings = said("{found}", found=InUnits(readings, unit))
        gauge = entry.gauge_of(point)
        return said("{found} with {gauge}", found=readings, gauge=gauge) if gauge else readings


def _within(lower: float | None, upper: float | None, unit: str) -> Said:
    low, high = (None if limit is None else Amount(limit, unit) for limit in (lower, upper))
    if low is not None and high is not None:
        return said("{lower} to {upper}", lower=low, upper=high)
    if low is not None:
        return said("{lower} to", lower=low)
    return said("to {upper}", upper=high) if high is not None else said("to")


def _item(recorded: Recorded) -> str:
    assert isinstance(recorded.entry, Check | Sign)
    return recorded.entry.item

"""The values measured on a part while it sat somewhere, over the strokes it had done by then."""

from __future__ import annotations

import json
from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import datetime
from operator import attrgetter
from statistics import fmean
from typing import NamedTuple

from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.counting.marks import Band
from upkeep.counting.strokes import strokes_between, strokes_since_new
from upkeep.frozen import frozen
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import Known
from upkeep.plant.model import PARTS, Item, Kind, Point
from upkeep.quality.settings import SETTINGS
from upkeep.said import Said, said
from upkeep.store.rows.findings import MeasuredRow
from upkeep.store.rows.places import FittingRow
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.views.wear import Value
from upkeep.wear.shown import part_shown_by

SET = ("as-left", "first-off", "set-up")
"""Occasions whose values say what was set, not what wore: they are in no trend of wear."""

_NO_END = "~"
_BEGINNING = ""


@frozen
class Run:
    """What the strokes of an item count from: its last rework, or its being new (``start`` None)."""

    start: datetime | None
    entry: int
    name: Said


@frozen
class Measured:
    """The values of one point of an item, run after run; ``crimp`` None where they do not differ by it.

    ``values`` belong to the present run and say what wore, ``everything`` also what was set; ``earlier`` and
    ``left_out`` count values of runs before, and by gauges that read wrong; ``blamed`` those of ``blamed_press``, which
    is to be looked at before the part.
    """

    point: Point
    crimp: str | None
    values: tuple[Value, ...]
    everything: tuple[Value, ...]
    earlier: int
    left_out: int
    blamed: int = 0
    blamed_press: str | None = None


class Readings:
    """Gathers such values; made for one question."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._rows, self._wear_history = context.rows, context.wear_history
        self._counts, self._gauges = context.whereabouts.counts, GaugeStates(context)
        self._asked: dict[tuple[str, str | None, str | None], Mapping[str, Point]] = {}
        self._wrong: dict[tuple[str, datetime], bool] = {}
        self._sets_in: dict[str, list[FittingRow]] = {}

    def run(self, item: str) -> Run:
        """What the strokes of an item count from by now."""
        reworks = self._wear_history.reworks_of(item)
        if not reworks:
            return Run(None, 0, said("since new"))
        last = reworks[-1]
        return Run(from_utc_text(last.at), last.entry, said("since rework {number}", number=len(reworks)))

    def strokes(self, item: str, run: Run, moment: datetime) -> Band:
        """The strokes of an item from where its run began to a moment."""
        if run.start is None:
            return strokes_since_new(self._counts, item, moment)
        return strokes_between(self._counts, item, run.start, moment)

    def of(self, item: Item, only: Collection[str] | None = None) -> tuple[Measured, ...]:
        """The measured points of an item with their values, by point and crimp; ``only`` some (None: all)."""
        run = self.run(item.id)
        by_point: dict[tuple[str, str | None], list[_Taken]] = {}
        for row in self._measured_with(item, only):
            taken = self._taken(item, run, row)
            if taken is not None:
                by_point.setdefault((row.point, self._crimp_of(row)), []).append(taken)
        return tuple(_measured(crimp, taken) for (_, crimp), taken in sorted(_joined(by_point).items(), key=_by_name))

    # What was measured while the item sat where

    def _measured_with(self, item: Item, only: Collection[str] | None) -> set[MeasuredRow]:
        """What was measured on the item, and on what it sat in while it sat there."""
        points = set(self._values(item.id, _BEGINNING, _NO_END, only))
        shown = only
        if item.kind in PARTS:
            shown = self._shown(item.kind) if only is None else self._shown(item.kind) & frozenset(only)
        for fitting in self._rows.fittings_of(item.id):
            for other, first, last in self._with(fitting.inside, fitting.start, fitting.until or _NO_END):
                points.update(self._values(other, first, last, shown))
        return points

    def _values(self, item: str, start: str, end: str, points: Collection[str] | None) -> list[MeasuredRow]:
        return self._wear_history.values(item, start, min(end, utc_text(self._at) + _NO_END), points)

    def _shown(self, kind: Kind) -> frozenset[str]:
        """The points that show the wear of a kind of part, by all that is defined."""
        points = [*SETTINGS.values(), *defined_points(self._known)]
        return frozenset(point.id for point in points if part_shown_by(point) is kind)

    def _with(self, inside: str, start: str, end: str) -> Iterator[tuple[str, str, str]]:
        """What an item in ``inside`` over a span is measured with: that itself, the module around it, the die set in
        it - each with the span they share."""
        yield inside, start, end
        kind = self._known.item(inside).kind
        if kind is Kind.DIE_SET:
            for row in self._rows.fittings_of(inside, start):
                yield from _shared(row.inside, row, start, end)
        elif kind is Kind.MODULE:
            sets = self._die_sets_in(inside)
            for row in sets[bisect_right(sets, start, key=_end_of) : bisect_left(sets, end, key=_start_of)]:
                yield from _shared(row.item, row, start, end)

    def _die_sets_in(self, module: str) -> list[FittingRow]:
        """The fittings of die sets in a module, one after another: read once, since a set comes back day after day."""
        if module not in self._sets_in:
            rows = (row for row in self._rows.fittings_in(module) if row.start != row.until)
            self._sets_in[module] = [row for row in rows if self._known.item(row.item).kind is Kind.DIE_SET]
        return self._sets_in[module]

    # One value

    def _taken(self, item: Item, run: Run, row: MeasuredRow) -> _Taken | None:
        """A value over the strokes an item had then; None for one that does not show its wear."""
        measured, moment = self._known.item(row.item), from_utc_text(row.at)
        point = self._points(measured, row).get(row.point)
        if point is None or row.readings is None or not self._shows(item, measured, point, moment):
            return None
        low, best, high = self.strokes(item.id, run, moment)
        readings = tuple(json.loads(row.readings))
        value = Value(
            moment, row.entry, row.item, row.occasion, row.gauge, readings, fmean(readings), (low, best, high)
        )
        is_earlier = run.start is not None and (moment, row.entry) < (run.start, run.entry)
        return _Taken(point, value, self._is_wrong(row.gauge, moment), is_earlier)

    def _is_wrong(self, gauge: str | None, moment: datetime) -> bool:
        """Whether a gauge is known to have read wrong at a moment; one that is only overdue has not."""
        if gauge is None:
            return False
        if (gauge, moment) not in self._wrong:
            self._wrong[gauge, moment] = self._gauges.read_wrong(gauge, moment)
        return self._wrong[gauge, moment]

    def _points(self, measured: Item, row: MeasuredRow) -> Mapping[str, Point]:
        """The points of an entry as they are defined now: by what is asked now the wear is judged."""
        asked = measured.id, row.task, row.crimp
        if asked not in self._asked:
            self._asked[asked] = self._points_of(measured, row)
        return self._asked[asked]

    def _points_of(self, measured: Item, row: MeasuredRow) -> Mapping[str, Point]:
        if row.task is not None:
            task = self._known.tasks.get(row.task)
            return {point.id: point for point in task.points} if task else {}
        tasks = self._known.tasks_of_kind.get(measured.kind, [])
        known = dict(SETTINGS) | {point.id: point for task in tasks for point in task.points}
        crimp = self._known.crimps.get(row.crimp or "")
        return known | {point.id: point for point in (crimp.points if crimp else ())}

    def _shows(self, item: Item, measured: Item, point: Point, moment: datetime) -> bool:
        """Whether a point measured on something shows the wear of an item in it."""
        part = point.part if measured.kind is Kind.PRESS else part_shown_by(point)
        if item.kind in PARTS:
            return part is item.kind or measured.id == item.id
        if measured.id != item.id and item.kind is not Kind.DIE_SET:
            return False
        return part is None or not self._held(item.id, part, moment)

    def _held(self, inside: str, kind: Kind, moment: datetime) -> bool:
        """Whether a part of a kind sat in an item at a moment, or in the module around it."""
        text = utc_text(moment)
        around = [row.inside for row in self._rows.fittings_of(inside, text) if row.start <= text]
        return any(
            row.start <= text and self._known.item(row.item).kind is kind
            for holder in (inside, *around)
            for row in self._rows.fittings_in(holder, text)
        )

    def _crimp_of(self, row: MeasuredRow) -> str | None:
        """The crimp that was run; where none is named, the only one the set makes."""
        if row.crimp is not None:
            return row.crimp
        measured = self._known.item(row.item)
        made = [key for key, crimp in self._known.crimps.items() if measured.family and crimp.family == measured.family]
        return made[0] if len(made) == 1 else None


def defined_points(known: Known) -> Iterator[Point]:
    """Every measured point that a task or a crimp defines now."""
    for task in known.tasks.values():
        yield from task.points
    for crimp in known.crimps.values():
        yield from crimp.points


_start_of = attrgetter("start")


def _end_of(row: FittingRow) -> str:
    return row.until or _NO_END


def _shared(other: str, row: FittingRow, start: str, end: str) -> Iterator[tuple[str, str, str]]:
    first, last = max(start, row.start), min(end, _end_of(row))
    if first < last:
        yield other, first, last


class _Taken(NamedTuple):
    """A value taken of a point; whether its gauge read wrong, and whether it belongs to a run before the present."""

    point: Point
    value: Value
    is_wrong: bool
    is_earlier: bool


def _joined(by_point: Mapping[tuple[str, str | None], list[_Taken]]) -> dict[tuple[str, str | None], list[_Taken]]:
    """Values that name no crimp go with those of the only crimp there is; a point of one crimp differs by none."""
    joined: dict[tuple[str, str | None], list[_Taken]] = {}
    for point in {key for key, _ in by_point}:
        crimps = [crimp for key, crimp in by_point if key == point and crimp is not None]
        alone = len(crimps) <= 1
        for (key, crimp), rows in by_point.items():
            if key == point:
                joined.setdefault((point, None if alone else crimp), []).extend(rows)
    return joined


def _by_name(pair: tuple[tuple[str, str | None], object]) -> tuple[str, str]:
    (point, crimp), _ = pair
    return point, crimp or ""


def _measured(crimp: str | None, taken: list[_Taken]) -> Measured:
    ordered = sorted(taken, key=lambda reading: (reading.value.at, reading.value.entry))
    present = [reading for reading in ordered if not reading.is_earlier]
    sound = [reading.value for reading in present if not reading.is_wrong]
    judged = [
        reading.point for reading in ordered if reading.point.lower is not None or reading.point.upper is not None
    ]
    return Measured(
        point=judged[-1] if judged else ordered[-1].point,
        crimp=crimp,
        values=tuple(_wearing(sound)),
        everything=tuple(sound),
        earlier=len(ordered) - len(present),
        left_out=len(present) - len(sound),
    )


def _wearing(values: Iterable[Value]) -> Iterator[Value]:
    return (value for value in values if value.occasion not in SET)

"""The values measured on a part while it sat somewhere, over the strokes it had done by then."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from statistics import fmean
from typing import NamedTuple

from upkeep.book.gauge_states import GaugeStates
from upkeep.book.known import Known
from upkeep.book.reading import Views
from upkeep.book.wear_views import Value
from upkeep.counting.marks import Band
from upkeep.counting.strokes import strokes_between, strokes_since_new
from upkeep.entries.found import Check
from upkeep.entries.kinds import Recorded, Sign
from upkeep.plant.model import PARTS, Item, Kind, Point
from upkeep.quality.checks import SETTINGS
from upkeep.store.entries import EntryStore
from upkeep.store.projections import Projections
from upkeep.store.rows.places import FittingRow
from upkeep.store.worn import Worn
from upkeep.units.instants import from_utc_text, utc_text

SHOWN_BY: Mapping[str, Kind] = {
    "slug-height": Kind.CONDUCTOR_PUNCH, "crimp-height": Kind.CONDUCTOR_PUNCH, "crimp-width": Kind.CONDUCTOR_PUNCH,
    "burr": Kind.CONDUCTOR_PUNCH, "tab-burr": Kind.CUT_OFF_BLADE, "dial": Kind.CONDUCTOR_PUNCH,
    "shut-height": Kind.CONDUCTOR_PUNCH, "cam": Kind.INSULATION_PUNCH,
}  # fmt: skip
"""Whose wear points and settings of these names show, where their definition does not say it.  Of punch and anvil,
which make a height together, it is the punch: it galls, is changed more often, and so sets the pace (common practice,
no source)."""

SET = ("as-left", "first-off", "set-up")
"""Occasions whose values say what was set, not what wore: they are in no trend of wear."""

_NO_END = "~"
_BEGINNING = ""


@dataclass(frozen=True, slots=True)
class Run:
    """What the strokes of an item count from: its last rework, or its being new (``start`` None)."""

    start: datetime | None
    entry: int
    name: str


@dataclass(frozen=True, slots=True)
class Measured:
    """The values of one point of an item, run after run; ``crimp`` None where they do not differ by it.

    ``values`` belong to the present run and say what wore, ``everything`` also what was set; ``earlier`` and
    ``left_out`` count values of runs before, and by gauges that read wrong.
    """

    point: Point
    crimp: str | None
    values: tuple[Value, ...]
    everything: tuple[Value, ...]
    earlier: int
    left_out: int


class Readings:
    """Gathers such values; made for one question."""

    def __init__(self, views: Views, at: datetime) -> None:
        self._views, self._known, self._at = views, views.known, at
        self._rows, self._worn, self._entries = Projections(views.file), Worn(views.file), EntryStore(views.file)
        self._counts, self._gauges = views.judge.counts, GaugeStates(views.file, views.known)
        self._read: dict[int, Recorded | None] = {}
        self._wrong: dict[tuple[str, datetime], bool] = {}

    def run(self, item: str) -> Run:
        """What the strokes of an item count from by now."""
        reworks = self._worn.reworks_of(item)
        if not reworks:
            return Run(None, 0, "since new")
        last = reworks[-1]
        return Run(from_utc_text(last.at), last.entry, f"since rework {len(reworks)}")

    def strokes(self, item: str, run: Run, moment: datetime) -> Band:
        """The strokes of an item from where its run began to a moment."""
        if run.start is None:
            return strokes_since_new(self._counts, item, moment)
        return strokes_between(self._counts, item, run.start, moment)

    def of(self, item: Item, only: Collection[str] | None = None) -> tuple[Measured, ...]:
        """The measured points of an item with their values, by point and crimp; ``only`` some (None: all)."""
        run = self.run(item.id)
        found: dict[tuple[str, str | None], list[_Taken]] = {}
        for measured, entries in self._measured_with(item, only):
            for one in entries:
                for point, value, wrong in self._values(item, run, measured, one, only):
                    before = run.start is not None and (one.entry.at, one.id) < (run.start, run.entry)
                    key = point.id, self._crimp_of(one, measured)
                    found.setdefault(key, []).append(_Taken(point, value, wrong, before))
        return tuple(_measured(key[1], rows) for key, rows in sorted(_joined(found).items(), key=_by_name))

    # What was measured while the item sat where

    def _measured_with(self, item: Item, only: Collection[str] | None) -> Iterator[tuple[Item, list[Recorded]]]:
        """The items that were measured with it inside (itself too), each with the entries that did."""
        numbers: dict[str, set[int]] = {item.id: self._numbers(item.id, _BEGINNING, _NO_END, only)}
        shown = self._shown(item.kind) if item.kind in PARTS else None
        if shown is not None and only is not None:
            shown = shown & frozenset(only)
        for fitting in self._rows.fittings_of(item.id):
            for other, first, last in self._with(fitting.inside, fitting.start, fitting.until or _NO_END):
                numbers.setdefault(other, set()).update(self._numbers(other, first, last, shown))
        for key, found in numbers.items():
            entries = [one for number in sorted(found) if (one := self._entry(number)) is not None]
            yield self._known.item(key), sorted(entries, key=lambda one: (one.entry.at, one.id))

    def _numbers(self, item: str, start: str, end: str, points: Collection[str] | None) -> set[int]:
        rows = self._worn.measured(item, start, min(end, utc_text(self._at) + _NO_END), points)
        return {row.entry for row in rows}

    def _entry(self, number: int) -> Recorded | None:
        if number not in self._read:
            self._read[number] = self._entries.one(number)
        return self._read[number]

    def _shown(self, kind: Kind) -> frozenset[str]:
        """The points that show the wear of a kind of part, by all that is defined."""
        points = [*SETTINGS.values(), *defined_points(self._known)]
        return frozenset(point.id for point in points if (point.part or SHOWN_BY.get(point.id)) is kind)

    def _with(self, inside: str, start: str, end: str) -> Iterator[tuple[str, str, str]]:
        """What an item in ``inside`` over a span is measured with: that itself, the module around it, the die set in
        it - each with the span they share."""
        yield inside, start, end
        kind = self._known.item(inside).kind
        if kind is Kind.DIE_SET:
            for row in self._rows.fittings_of(inside, start):
                yield from _shared(row.inside, row, start, end)
        elif kind is Kind.MODULE:
            for row in self._rows.fittings_in(inside, start):
                if self._known.item(row.item).kind is Kind.DIE_SET:
                    yield from _shared(row.item, row, start, end)

    # The values of one entry

    def _values(
        self, item: Item, run: Run, measured: Item, one: Recorded, only: Collection[str] | None
    ) -> Iterator[tuple[Point, Value, bool]]:
        entry = one.entry
        assert isinstance(entry, Check | Sign)
        known = self._points(measured, entry)
        occasion = entry.occasion if isinstance(entry, Check) else None
        for key, readings in entry.points:
            point = known.get(key)
            if point is not None and (only is None or key in only) and self._shows(item, measured, point, entry.at):
                low, best, high = self.strokes(item.id, run, entry.at)
                value = Value(
                    entry.at, one.id, measured.id, occasion, entry.gauge, readings, fmean(readings), (low, best, high)
                )
                yield point, value, self._is_wrong(entry.gauge, entry.at)

    def _is_wrong(self, gauge: str | None, moment: datetime) -> bool:
        """Whether a gauge is known to have read wrong at a moment; one that is only overdue has not."""
        if gauge is None:
            return False
        if (gauge, moment) not in self._wrong:
            self._wrong[gauge, moment] = self._gauges.at(gauge, moment).wrong
        return self._wrong[gauge, moment]

    def _points(self, measured: Item, entry: Check | Sign) -> Mapping[str, Point]:
        """The points of an entry as they are defined now: by what is asked now the wear is judged."""
        if isinstance(entry, Sign):
            task = self._known.tasks.get(entry.task)
            return {point.id: point for point in task.points} if task else {}
        tasks = self._known.tasks_of_kind.get(measured.kind, [])
        known = dict(SETTINGS) | {point.id: point for task in tasks for point in task.points}
        crimp = self._known.crimps.get(entry.crimp or "")
        return known | {point.id: point for point in (crimp.points if crimp else ())}

    def _shows(self, item: Item, measured: Item, point: Point, moment: datetime) -> bool:
        """Whether a point measured on something shows the wear of an item in it."""
        part = point.part or (SHOWN_BY.get(point.id) if measured.kind is not Kind.PRESS else None)
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

    def _crimp_of(self, one: Recorded, measured: Item) -> str | None:
        """The crimp that was run; where none is named, the only one the set makes."""
        if isinstance(one.entry, Check) and one.entry.crimp is not None:
            return one.entry.crimp
        made = [key for key, crimp in self._known.crimps.items() if measured.family and crimp.family == measured.family]
        return made[0] if len(made) == 1 else None


def defined_points(known: Known) -> Iterator[Point]:
    """Every measured point that a task or a crimp defines now."""
    for task in known.tasks.values():
        yield from task.points
    for crimp in known.crimps.values():
        yield from crimp.points


def _shared(other: str, row: FittingRow, start: str, end: str) -> Iterator[tuple[str, str, str]]:
    first, last = max(start, row.start), min(end, row.until or _NO_END)
    if first < last:
        yield other, first, last


class _Taken(NamedTuple):
    """A value taken of a point; whether its gauge read wrong, and whether it belongs to a run before the present."""

    point: Point
    value: Value
    is_wrong: bool
    is_earlier: bool


def _joined(found: Mapping[tuple[str, str | None], list[_Taken]]) -> dict[tuple[str, str | None], list[_Taken]]:
    """Values that name no crimp go with those of the only crimp there is; a point of one crimp differs by none."""
    joined: dict[tuple[str, str | None], list[_Taken]] = {}
    for point in {key for key, _ in found}:
        crimps = [crimp for key, crimp in found if key == point and crimp is not None]
        alone = len(crimps) <= 1
        for (key, crimp), rows in found.items():
            if key == point:
                joined.setdefault((point, None if alone else crimp), []).extend(rows)
    return joined


def _by_name(one: tuple[tuple[str, str | None], object]) -> tuple[str, str]:
    (point, crimp), _ = one
    return point, crimp or ""


def _measured(crimp: str | None, taken: list[_Taken]) -> Measured:
    ordered = sorted(taken, key=lambda one: (one.value.at, one.value.entry))
    present = [one for one in ordered if not one.is_earlier]
    sound = [one.value for one in present if not one.is_wrong]
    judged = [one.point for one in ordered if one.point.lower is not None or one.point.upper is not None]
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

"""What has moved on a die set and what has not, gathered for the hint where to look first."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta

from upkeep.answers.life import press_at
from upkeep.entries.checking import Check
from upkeep.entries.entry import Entry, Recorded
from upkeep.entries.signing import Sign
from upkeep.keeping.context import Context
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Item, Kind, Point
from upkeep.said import said
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.wear.separation import Evidence, Hint, separated
from upkeep.wear.shown import HEIGHT, SHUT, SLUG

TOGETHER = timedelta(days=1)
"""What was measured so long apart still speaks of the same trouble (plant default, no source)."""

_SAME_MINUTE = "~"

_LAST = 2**62
"""A number after those of all entries, for one that has none yet."""


class Hints:
    """Gathers what the hint needs, as of the moment of its context."""

    def __init__(self, context: Context, new: Check | Sign | None = None) -> None:
        """``new`` is an entry that is about to be written: it counts as if it were, instead of the one it corrects."""
        self._new = new
        self._context, self._known, self._at = context, context.known, context.moment
        self._rows, self._wear_history, self._entries = context.rows, context.wear_history, context.entries
        self._limits = context.limits
        self._given: dict[str, Hint | None] = {}

    def of(self, item: Item) -> Hint | None:
        """Where to look first for an item's die set; None where nothing moved, or it belongs to no set."""
        if item.id not in self._given:
            self._given[item.id] = self._gathered(item)
        return self._given[item.id]

    def _gathered(self, item: Item) -> Hint | None:
        die_set = self._set_of(item)
        if die_set is None:
            return None
        module, since = self._standing(die_set)
        readings = [recorded for key in (die_set.id, module) if key for recorded in self._measured(key, since)]
        if self._new is not None:
            readings = [recorded for recorded in readings if recorded.id != self._new.corrects]
            readings += [Recorded(_LAST, self._new, "", "")] if self._new.item in (die_set.id, module) else []
        readings.sort(key=lambda recorded: (recorded.entry.at, recorded.id))
        evidence = self._evidence(die_set, readings)
        hint = separated(evidence)
        if hint is None or hint.shut_height_of is None:
            return hint
        line = self._shut_height_line(hint.shut_height_of)
        return replace(hint, ask=said("{ask} (line {line})", ask=hint.ask or "", line=line)) if line else hint

    def _set_of(self, item: Item) -> Item | None:
        if item.kind is Kind.DIE_SET:
            return item
        if item.kind is Kind.MODULE:
            inside = (self._known.item(row.item) for row in self._rows.inside_now(item.id))
            return next((content for content in inside if content.kind is Kind.DIE_SET), None)
        holder = self._context.whereabouts.sits_in(item.id)
        sits_in = self._known.item(holder) if holder else None
        return sits_in if sits_in is not None and sits_in.kind is Kind.DIE_SET else None

    def _standing(self, die_set: Item) -> tuple[str | None, str]:
        """The module the set was last in, and since when nothing in the set and its module was changed."""
        last = self._rows.last_fitting(die_set.id)
        change = self._rows.last_change_in(die_set.id)
        module, since = (last.inside, last.start) if last else (None, "")
        for row in self._rows.fittings_of(die_set.id)[::-1]:  # out and back into the same module is the same standing
            if row.inside != module:
                break
            since = row.start
        return module, max(since, change.at if change else "")

    def _measured(self, item: str, since: str) -> Iterator[Recorded]:
        for row in self._wear_history.measured(item, since, utc_text(self._at) + _SAME_MINUTE):
            recorded = self._entries.by_number(row.entry)
            if recorded is not None:
                yield recorded

    def _evidence(self, die_set: Item, readings: list[Recorded]) -> Evidence:
        slug_on: dict[str, bool] = {}
        slug_at: dict[str, datetime] = {}
        heights: list[tuple[Recorded, bool]] = []
        for recorded in readings:
            for key, moved in self._moved(recorded):
                press = self._press(die_set, recorded)
                if key == SLUG and press is not None:
                    slug_on.pop(press, None)
                    slug_on[press], slug_at[press] = moved, recorded.entry.at
                elif key == HEIGHT:
                    heights.append((recorded, moved))
        looked = {press: self._shut_moved(press, slug_at[press]) for press in slug_on}
        shut_on = {press: shut for press, shut in looked.items() if shut is not None}
        lately = [pair for pair in heights if pair[0].entry.at >= heights[-1][0].entry.at - TOGETHER]
        return Evidence(
            press=self._context.whereabouts.press_of(die_set.id),
            slug_on=slug_on,
            shut_on=shut_on,
            crimp=heights[-1][1] if heights else None,
            by_gauge=_by(lately, _gauge_of_height),
            by_reel=_by(lately, _reel_of),
        )

    def _press(self, die_set: Item, recorded: Recorded) -> str | None:
        press = recorded.entry.press if isinstance(recorded.entry, Check) else None
        return press or press_at(self._context, die_set.id, recorded.entry.at)

    def _moved(self, recorded: Recorded) -> Iterator[tuple[str, bool]]:
        """The points of an entry that have limits, and whether a reading is beyond the warning or the limit."""
        entry = recorded.entry
        assert isinstance(entry, Check | Sign)
        known = self._points(recorded)
        for key, readings in entry.measured:
            point = known.get(key)
            if point is not None and _has_limits(point):
                yield key, any(map(point.is_beyond_warning, readings))

    def _points(self, recorded: Recorded) -> dict[str, Point]:
        if isinstance(recorded.entry, Sign):
            return self._limits.points(recorded)
        assert isinstance(recorded.entry, Check)
        tasks = self._known.tasks_of_kind.get(self._known.item(recorded.entry.item).kind, [])
        known = {point.id: point for task in tasks for point in task.points}
        crimp = self._known.crimps.get(recorded.entry.crimp or "")
        return known | {point.id: point for point in (crimp.points if crimp else ())}

    def _shut_moved(self, press: str, slug_at: datetime) -> bool | None:
        """Whether the shut height of a press is off, by the last time it was measured about when the slug was."""
        moved: bool | None = None
        for recorded in self._measured(press, utc_text(slug_at - TOGETHER)):
            moved = dict(self._moved(recorded)).get(SHUT, moved)
        return moved

    def _shut_height_line(self, press: str) -> str | None:
        tasks = self._known.tasks_of_kind.get(Kind.PRESS, [])
        return next(
            (str(LineName(press, task.id)) for task in tasks if any(point.id == SHUT for point in task.points)), None
        )

    def asks_shut_height(self, press: str) -> bool:
        """Whether any work measures the shut height of a press."""
        return self._shut_height_line(press) is not None

    def last_shut_height(self, press: str) -> tuple[Point | None, float | None, datetime | None]:
        """The shut height asked of a press, and the mean of what was measured last with its moment."""
        tasks = self._known.tasks_of_kind.get(Kind.PRESS, [])
        point = next((point for task in tasks for point in task.points if point.id == SHUT), None)
        value, moment = None, None
        for row in self._wear_history.measured(press, "", utc_text(self._at) + _SAME_MINUTE):
            recorded = self._entries.by_number(row.entry)
            readings = dict(recorded.entry.points).get(SHUT) if recorded and isinstance(recorded.entry, Sign) else None
            if readings:
                value, moment = sum(readings) / len(readings), from_utc_text(row.at)
        return point, value, moment


def _has_limits(point: Point) -> bool:
    return any(
        limit is not None for limit in (point.lower, point.upper, point.warn_lower, point.warn_upper)
    )  # fmt: skip


def _by(heights: list[tuple[Recorded, bool]], what: Callable[[Entry], str | None]) -> dict[str, bool]:
    """Whether the last crimp height by each gauge or reel has moved."""
    by_name = {what(recorded.entry): moved for recorded, moved in heights}
    return {key: moved for key, moved in by_name.items() if key is not None}


def _gauge_of_height(entry: Entry) -> str | None:
    return entry.gauge_of(HEIGHT) if isinstance(entry, Check | Sign) else None


def _reel_of(entry: Entry) -> str | None:
    return entry.reel if isinstance(entry, Check) else None

"""The trends of an item's measured points and settings, with the days its limits are reached."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from upkeep.answers.forecast import Forecasts
from upkeep.answers.life import press_at
from upkeep.answers.wear.hints import Hints
from upkeep.answers.wear.readings import Measured, Readings, Run
from upkeep.entries.checking import Check
from upkeep.keeping.context import Context
from upkeep.planning.forecast import Forecast, Left
from upkeep.plant.model import Item, Kind
from upkeep.quality.settings import SETTINGS
from upkeep.said import Said, in_turn, said, term
from upkeep.views.wear import PointWear, SettingWear, Value
from upkeep.wear.drift import drift
from upkeep.wear.separation import Suspect
from upkeep.wear.shown import HEIGHT, SLUG
from upkeep.wear.trend import Ahead, Limits, trend


class Trends:
    """Fits the trends to what was measured up to the moment of its context."""

    def __init__(self, context: Context) -> None:
        self._context, self._at = context, context.moment
        self._rows, self._wear_history, self._readings = context.rows, context.wear_history, Readings(context)
        self._forecasts = Forecasts(context)
        self.hints = Hints(context)
        """Where to look first, gathered once for a trend and for whoever asks beside it."""

    def of(
        self, item: Item, only: Collection[str] | None = None
    ) -> tuple[tuple[PointWear, ...], tuple[SettingWear, ...]]:
        """The measured points and the settings of an item; ``only`` some points (None: all)."""
        run, measured = self._readings.run(item.id), self._readings.of(item, only)
        measured = self._without_blamed_press(item, measured)
        points = [
            self._point(item, run, series) for series in measured if not _is_setting(item, series) and series.values
        ]
        settings = [
            _setting(series, measured) for series in measured if _is_setting(item, series) and series.everything
        ]
        return tuple(points), tuple(settings)

    def _without_blamed_press(self, item: Item, measured: tuple[Measured, ...]) -> tuple[Measured, ...]:
        """Heights without those from a press that is to be looked at first: they tell of the press, not of the part."""
        heights = [series for series in measured if series.point.id in (HEIGHT, SLUG) and series.values]
        presses = {self._press(value) for series in heights for value in series.values}
        if len(presses) < 2:
            return measured
        hint = self.hints.of(item)
        if hint is None or hint.suspect is not Suspect.PRESS:
            return measured
        return tuple(self._without(series, hint.about) if series in heights else series for series in measured)

    def _without(self, series: Measured, press: str | None) -> Measured:
        kept = tuple(value for value in series.values if self._press(value) != press)
        return replace(series, values=kept, blamed=len(series.values) - len(kept), blamed_press=press)

    def _press(self, value: Value) -> str | None:
        recorded = self._context.entries.by_number(value.entry)
        entry = recorded.entry if recorded else None
        named = entry.press if isinstance(entry, Check) else None
        return named or press_at(self._context, value.item, value.at)

    def _point(self, item: Item, run: Run, series: Measured) -> PointWear:
        point, values = series.point, series.values
        limits = Limits(point.lower, point.upper, point.warn_lower, point.warn_upper)
        trended = trend([value.strokes[1] for value in values], [value.value for value in values], limits, point.unit,
                      run.name)  # fmt: skip
        now = self._readings.strokes(item.id, run, self._at)
        ahead = trended.ahead
        left = None if ahead is None else max(0, ahead.mean - now.best)
        safe = None if ahead is None else max(0, ahead.safe - now.high)
        when = self._when(item, left, safe)
        return PointWear(
            point=point.id,
            title=point.title,
            unit=point.unit,
            crimp=series.crimp,
            limits=limits,
            run=run.name,
            now=(now.low, now.best, now.high),
            values=values,
            earlier=series.earlier,
            left_out=series.left_out,
            blamed=series.blamed,
            blamed_press=series.blamed_press,
            trend=trended,
            left=left,
            left_safe=safe,
            expected=when.expected if when else None,
            safe_until=when.latest_safe if when else None,
            when=_when_text(ahead, left, safe, when),
        )

    def _when(self, item: Item, left: int | None, safe: int | None) -> Forecast | None:
        if not left or safe is None or self._wear_history.retired(item.id) is not None:
            return None
        return self._forecasts.of_left(item, Left(safe, left, left))


def _when_text(ahead: Ahead | None, left: int | None, safe: int | None, when: Forecast | None) -> Said | None:
    if ahead is None or left is None or safe is None:
        return None
    left, safe = ahead.about(left), ahead.about(safe, down=True)
    if safe == 0:
        past = said("The average is at the limit too.") if left == 0 else said("On average {left} are left.", left=left)
        return in_turn(said("None are left on the safe side (95 %): replace or rework it before the next order."), past)
    both = said("{safe} strokes left on the safe side (95 %), {left} on average.", safe=safe, left=left)
    if when is None or when.expected is None:
        return in_turn(both, when.why if when else None)
    until = (
        said("safe until {day}", day=when.latest_safe)
        if when.latest_safe
        else said("not safe even for the next working day")
    )
    rate = said("At its present rate: {until} (95 %), expected {day}.", until=until, day=when.expected)
    return in_turn(both, rate)


def _is_setting(item: Item, series: Measured) -> bool:
    return series.point.id in SETTINGS and item.kind is not Kind.PRESS


def _setting(series: Measured, measured: tuple[Measured, ...]) -> SettingWear:
    heights = next((other.everything for other in measured if _goes_with(other, series)), ())
    values, point = series.everything, series.point
    drifted = drift(
        term(point.title),
        _strokes(values),
        _means(values),
        point.unit,
        lambda: (_strokes(heights), _means(heights)),
        point.steps,
    )
    return SettingWear(point.id, point.title, point.unit, series.crimp, values, drifted)


def _goes_with(other: Measured, setting: Measured) -> bool:
    return other.point.id == HEIGHT and (other.crimp == setting.crimp or None in (other.crimp, setting.crimp))


def _strokes(values: tuple[Value, ...]) -> list[int]:
    return [value.strokes[1] for value in values]


def _means(values: tuple[Value, ...]) -> list[float]:
    return [value.value for value in values]

"""Plots of wear: the trend of a point with its limit and prediction, the life curve of a family."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from upkeep.errors import Refused
from upkeep.papers.plots import Level, Plot, Series
from upkeep.said import said
from upkeep.units.figures import exact
from upkeep.units.quantities import grouped
from upkeep.views.wear import FamilyLives, PointWear
from upkeep.wear.lives import LEVEL, WORN_SHARE, LifeReport, worn_by_about
from upkeep.wear.trend import Trend

_PLACES = 60
"""Places a curve is drawn through."""

_BEYOND = 1.08
"""How far past what is told a curve is drawn."""


def trend_plot(item: str, wear: PointWear) -> Plot:
    """The values of a point over its strokes, their line with the prediction limits, and the limits there are."""
    done = tuple(float(value.strokes[1]) for value in wear.values)
    series = [Series("measured (means)", done, tuple(value.value for value in wear.values))]
    series += _lines(wear.trend, done)
    levels = [
        Level(f"{name} {exact(at)} {wear.unit}", at, form="mark" if name == "warning" else "limit")
        for name, at in _limits(wear)
        if at is not None
    ]
    ahead = wear.trend.ahead
    if ahead is not None:
        levels.append(
            Level(
                f"plan by {grouped(ahead.about(ahead.safe, down=True))} strokes", ahead.safe, upright=True, form="mark"
            )
        )
    crimp = f", {wear.crimp}" if wear.crimp else ""
    title = f"{item}: {wear.title}{crimp}"
    return Plot(title, f"strokes {wear.run}", wear.unit, tuple(series), tuple(levels))


def _limits(wear: PointWear) -> tuple[tuple[str, float | None], ...]:
    """The limits that belong into the picture: those ahead, or all while nothing says which are."""
    limits, ahead = wear.limits, wear.trend.ahead
    low = ("lower limit", limits.lower), ("warning", limits.warn_lower)
    high = ("warning", limits.warn_upper), ("upper limit", limits.upper)
    if ahead is None:
        return (*low, *high)
    return high if ahead.side == "high" else low


def _lines(trend: Trend, done: tuple[float, ...]) -> Iterator[Series]:
    """The line and its bounds where there is one: a slope that does not stand out from the scatter is none."""
    line, ahead = trend.line, trend.ahead
    if line is None or not line.is_sloped(1 - LEVEL):
        return
    last = max(done[-1], ahead.mean if ahead else 0) * _BEYOND
    x = _places(min(done), last)
    yield Series("line", x, tuple(map(line.at, x)), "line", ".")
    for side in ("high", "low"):
        y = tuple(line.prediction(place, LEVEL, side) for place in x)
        name = "95 % prediction limits, each on its side" if side == "high" else ""
        yield Series(name, x, y, "dashes", "-")


def life_plot(lives: FamilyLives, name: str, report: LifeReport) -> Plot:
    """The share worn over strokes: the Weibull distribution as a curve, Kaplan and Meier as steps.

    Raises :class:`Refused` where too few have failed to say anything.
    """
    if report.curve is None:
        raise Refused(
            said("Nothing to draw for {family} ({name}): {why}", family=lives.family, name=name, why=report.why)
        )
    ages = [life.strokes[1] for life in lives.lives]
    curve = report.curve
    last = float(max([*ages, *([curve.weibull.life(0.95)] if curve else [])]))
    series, levels = [], [Level("a tenth", 100 * WORN_SHARE, form="mark")]
    if curve is not None:
        x = _places(0, last)
        series.append(Series("Weibull", x, tuple(100 * curve.weibull.failed(age) for age in x), "line", "."))
        if isfinite(curve.worn_by):
            levels.append(
                Level(f"a tenth worn by {grouped(worn_by_about(curve))} strokes", curve.worn_by, upright=True)
            )
    steps = [(step.age, 100 * (1 - step.survival)) for step in report.steps]
    if steps:
        x = (0.0, *(age for age, _ in steps), last)
        y = (0.0, *(share for _, share in steps), steps[-1][1])
        series.append(Series("Kaplan-Meier", x, y, "steps", "#"))
    title = f"{lives.family}, {lives.kind} ({name}): {report.failures} failed of {report.failures + report.suspensions}"
    return Plot(title, "strokes", "% worn", tuple(series), tuple(levels))


def _places(first: float, last: float) -> tuple[float, ...]:
    step = (last - first) / _PLACES
    return tuple(first + number * step for number in range(_PLACES + 1))

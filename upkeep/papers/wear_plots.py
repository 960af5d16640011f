"""Plots of wear: the trend of a point with its limit and prediction, the life curve of a family."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import isfinite

from upkeep.errors import Refused
from upkeep.papers.plots import Level, LevelForm, Plot, Series
from upkeep.papers.wear_text import group_said
from upkeep.said import Said, said, said_as, term
from upkeep.units.measures import drawn_in, measured, units_for
from upkeep.views.wear import FamilyLives, PointWear
from upkeep.wear.lives import LEVEL, WORN_SHARE, LifeReport, worn_by_about
from upkeep.wear.trend import Trend
from upkeep.wording.sentences import Reader, text

_Limit = tuple[Said, float | None, LevelForm]

_PLACES = 60
"""Places a curve is drawn through."""

_BEYOND = 1.08
"""How far past what is told a curve is drawn."""


def trend_plot(item: str, wear: PointWear, reader: Reader) -> Plot:
    """The values of a point over its strokes, their line with the prediction limits, and the limits there are."""
    done = tuple(float(value.strokes[1]) for value in wear.values)
    series = [Series(text(said("measured (means)"), reader), done, tuple(value.value for value in wear.values))]
    series += _lines(wear.trend, done, reader)
    series = [replace(one, y=drawn_in(one.y, wear.unit, reader.units)) for one in series]
    levels = [
        Level(
            text(said("{name} {value}", name=name, value=measured(at, wear.unit)), reader),
            drawn_in([at], wear.unit, reader.units)[0],
            form=form,
        )
        for name, at, form in _limits(wear)
        if at is not None
    ]
    ahead = wear.trend.ahead
    if ahead is not None:
        plan_by = said("plan by {strokes} strokes", strokes=ahead.about(ahead.safe, down=True))
        levels.append(Level(text(plan_by, reader), ahead.safe, upright=True, form="mark"))
    crimp = f", {wear.crimp}" if wear.crimp else ""
    title = f"{item}: {wear.title}{crimp}"
    unit = units_for(wear.unit, reader.units)[0]
    return Plot(title, text(said("strokes {run}", run=wear.run), reader), unit, tuple(series), tuple(levels))


def _limits(wear: PointWear) -> tuple[_Limit, ...]:
    """The limits that belong into the picture: those ahead, or all while nothing says which are."""
    limits, ahead = wear.limits, wear.trend.ahead
    warning = said("warning")
    low: tuple[_Limit, ...] = (said("lower limit"), limits.lower, "limit"), (warning, limits.warn_lower, "mark")
    high: tuple[_Limit, ...] = (warning, limits.warn_upper, "mark"), (said("upper limit"), limits.upper, "limit")
    if ahead is None:
        return (*low, *high)
    return high if ahead.side == "high" else low


def _lines(trend: Trend, done: tuple[float, ...], reader: Reader) -> Iterator[Series]:
    """The line and its bounds where there is one: a slope that does not stand out from the scatter is none."""
    line, ahead = trend.line, trend.ahead
    if line is None or not line.is_sloped(1 - LEVEL):
        return
    last = max(done[-1], ahead.mean if ahead else 0) * _BEYOND
    x = _places(min(done), last)
    yield Series(text(said_as("curve", "line"), reader), x, tuple(map(line.at, x)), "line", ".")
    for side in ("high", "low"):
        y = tuple(line.prediction(place, LEVEL, side) for place in x)
        name = text(said("95 % prediction limits, each one-sided"), reader) if side == "high" else ""
        yield Series(name, x, y, "dashes", "-")


def life_plot(lives: FamilyLives, name: str, report: LifeReport, reader: Reader) -> Plot:
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
    series, levels = [], [Level(text(said("a tenth"), reader), 100 * WORN_SHARE, form="mark")]
    if curve is not None:
        x = _places(0, last)
        series.append(Series("Weibull", x, tuple(100 * curve.weibull.failed(age) for age in x), "line", "."))
        if isfinite(curve.worn_by):
            worn_by = said("a tenth worn by {strokes} strokes", strokes=worn_by_about(curve))
            levels.append(Level(text(worn_by, reader), curve.worn_by, upright=True))
    steps = [(step.age, 100 * (1 - step.survival)) for step in report.steps]
    if steps:
        x = (0.0, *(age for age, _ in steps), last)
        y = (0.0, *(share for _, share in steps), steps[-1][1])
        series.append(Series("Kaplan-Meier", x, y, "steps", "#"))
    title = said(
        "{family}, {kind} ({group}): {failed} failed of {of}",
        family=lives.family,
        kind=term(lives.kind, "kind"),
        group=group_said(name),
        failed=report.failures,
        of=report.failures + report.suspensions,
    )
    along, up = said("strokes"), said("% worn")
    return Plot(text(title, reader), text(along, reader), text(up, reader), tuple(series), tuple(levels))


def _places(first: float, last: float) -> tuple[float, ...]:
    step = (last - first) / _PLACES
    return tuple(first + number * step for number in range(_PLACES + 1))

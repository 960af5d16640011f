"""The trend of a measured point of one part: how fast it wears, and after how many strokes it reaches its limit.

Method.  A least-squares line through the values over the strokes since new or since the last rework.  The line itself
says when the limit is reached on average: half of such parts are past it by then.  To plan by is the one-sided 95 %
prediction limit: the strokes up to which the next value measured would stay within the limit with that chance.  The
slope of Theil and Sen stands beside it; where the two differ by much, a few wild values lead the line.

Worked example (invented figures): eight inspections from 0 to 280,000 strokes, slope 0.121 um per 1,000 strokes,
scatter 2.3 um.  The line reaches +0.040 mm at 341,000 strokes, the prediction limit at 295,000: replace by 295,000.

How sure it is, by simulation (tests/wear/test_trend_rates.py): 5 in 200 parts that do not wear get a forecast; wear of
half a scatter from value to value is forecast in 3 of 4 cases with eight values, in nearly all with twelve; at the safe
strokes the next value is out in 5 of 100.  A last value is told as a jump in 3 of 1,000 steady ones, and so in 6 of 100
parts within 30 values; a jump of four times the scatter between values in 9 of 10 cases with twenty values, in a third
with eight.

Where it fails: wear that speeds up at the end is not a line; values of one gauge that was changed in between, or of
another setting, jump.  Below four values, and where the slope cannot be told from none, nothing is forecast.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor
from statistics import NormalDist
from typing import Literal

from upkeep.frozen import frozen
from upkeep.said import Figure, Said, Value, in_turn, said, said_many
from upkeep.stats.few import TooFew
from upkeep.stats.trend import Line, RankLine, least_squares, theil_sen
from upkeep.units.figures import estimate
from upkeep.units.measures import measured
from upkeep.units.quantities import in_strokes
from upkeep.wear.wording import distance_text, slope_text

LEAST_POINTS = 4
"""Fewer values give no trend (plant default, no source)."""

LEVEL = 0.95
FAR = 3
"""A limit so many times as far away as the last value is not in sight (plant default, no source)."""

_JUMP_LEVEL = NormalDist().cdf(3.0)
"""A value three times the usual scatter off the line through those before it is a jump (plant default, no source)."""


@frozen
class Limits:
    """The limits of a point, with those that warn before them; None: none on that side."""

    lower: float | None = None
    upper: float | None = None
    warn_lower: float | None = None
    warn_upper: float | None = None

    def toward(self, slope: float) -> tuple[float | None, float | None]:
        """The limit and the warning that a value moving that way comes to."""
        return (self.upper, self.warn_upper) if slope > 0 else (self.lower, self.warn_lower)


@frozen
class Ahead:
    """When the limit is reached, in strokes since the run began.

    ``mean`` is where the line is there, ``safe`` where the 95 % prediction limit is; ``limit`` the one ahead and
    ``side`` whether it is not to be risen above ("high") or not to be fallen below ("low").
    """

    limit: float
    side: Literal["low", "high"]
    mean: int
    safe: int

    def about(self, strokes: int, down: bool = False) -> int:
        """A number of strokes ahead as far as it is known: ``safe`` is one end of the 90 % interval around ``mean``."""
        return estimate(strokes, self.mean - self.safe, down)


@frozen
class Trend:
    """What the values of one run say.  ``line`` and ``robust`` are None below four values; ``ahead`` is None where
    nothing can be forecast, and ``why`` then says the reason; else the arithmetic.  ``jump`` warns of a last value far
    off the line through those before it (None: it is not)."""

    n: int
    line: Line | None
    robust: RankLine | None
    ahead: Ahead | None
    why: Said
    jump: Said | None = None


def trend(done: Sequence[int], values: Sequence[float], limits: Limits, unit: str, since: Value) -> Trend:
    """The trend of values over the strokes ``done`` when each was measured; ``since`` names what these count from."""
    n = len(values)
    if n < LEAST_POINTS:
        few = said_many(
            "No trend: {n} value measured {since}; {needed} are needed.",
            "No trend: {n} values measured {since}; {needed} are needed.",
            n=n,
            since=since,
            needed=LEAST_POINTS,
        )
        return Trend(n, None, None, None, few)
    try:
        line, robust = least_squares(done, values, LEVEL), theil_sen(done, values, LEVEL)
    except TooFew:
        same = said("No trend: all {n} values {since} were measured at the same strokes.", n=n, since=since)
        return Trend(n, None, None, None, same)
    jump = _jump(done, values, unit)
    refused = _refusal(line, limits, unit)
    if refused is not None:
        return Trend(n, line, robust, None, refused, jump)
    ahead = _ahead(line, limits)
    why = in_turn(_why(line, robust, ahead, unit, since), _far(ahead, max(done)))
    return Trend(n, line, robust, ahead, why, jump)


def _refusal(line: Line, limits: Limits, unit: str) -> Said | None:
    """Why there is no forecast; None where there is one."""
    slope = slope_text(line.slope, unit)
    if not line.is_sloped(1 - LEVEL):
        return said(
            "No forecast: no slope stands out from the scatter ({slope}, from {n} values; between {low} and "
            "{high} with 95 % confidence).",
            slope=slope,
            n=line.n,
            low=slope_text(line.slope_low, unit),
            high=slope_text(line.slope_high, unit),
        )
    limit, _ = limits.toward(line.slope)
    if limit is not None:
        return None
    other, _ = limits.toward(-line.slope)
    if other is None:
        return said("No forecast: it moves by {slope}, and no limit is set.", slope=slope)
    return said(
        "No forecast: it moves away from its limit of {limit}, by {slope}.",
        limit=measured(other, unit),
        slope=slope,
    )


def _ahead(line: Line, limits: Limits) -> Ahead:
    limit, _ = limits.toward(line.slope)
    assert limit is not None
    side: Literal["low", "high"] = "high" if line.slope > 0 else "low"
    mean, safe = line.crossing(limit), line.crossing_of_prediction(limit, LEVEL, side)
    assert mean is not None
    reached = mean if safe is None else min(safe, mean)
    return Ahead(limit, side, max(0, floor(mean)), max(0, floor(reached)))


def _far(ahead: Ahead, measured: int) -> Said | None:
    """A word of caution where the limit is many times as far away as anything measured."""
    if not measured or ahead.safe <= FAR * measured:
        return None
    return said(
        "That is {times} times as far as has been measured: too far ahead to plan a date by.",
        times=Figure(ahead.safe / measured, ".0f"),
    )


def _why(line: Line, robust: RankLine, ahead: Ahead, unit: str, since: Value) -> Said:
    return said(
        "{slope} from {n} values {since}, scatter {scatter} (Theil-Sen: {robust}). The line reaches {limit} "
        "at {mean}, its 95 % prediction limit at {safe}: plan to replace by {safe}.",
        slope=slope_text(line.slope, unit),
        n=line.n,
        since=since,
        scatter=distance_text(line.scatter, unit) if line.scatter else said("no scatter"),
        robust=slope_text(robust.slope, unit),
        limit=measured(ahead.limit, unit),
        mean=in_strokes(ahead.about(ahead.mean)),
        safe=ahead.about(ahead.safe, down=True),
    )


def _jump(done: Sequence[int], values: Sequence[float], unit: str) -> Said | None:
    """What is wrong where the last value lies far off the line through those before it.

    With many values that is three times their scatter; with few the line itself is unsure, and it takes more.
    """
    if len(values) <= LEAST_POINTS or len(set(done[:-1])) < 2:
        return None
    before, last = least_squares(done[:-1], values[:-1], LEVEL), values[-1]
    low, high = before.prediction(done[-1], _JUMP_LEVEL, "low"), before.prediction(done[-1], _JUMP_LEVEL, "high")
    if before.scatter == 0 or low <= last <= high:
        return None
    off = last - before.at(done[-1])
    back = off * before.slope < 0
    follow = (
        said(
            "It went back toward new: if the part was reworked or replaced, enter that ('rework', 'fit'); if "
            "not, look at gauge, setting and press."
        )
        if back
        else said("Stop and look: gauge, setting, press, then the die.")
    )
    far_off = said(
        "The last value is {off} off the line through those before it; three times the usual scatter is {usual}.",
        off=distance_text(off, unit),
        usual=distance_text(high - before.at(done[-1]), unit),
    )
    return in_turn(far_off, follow)

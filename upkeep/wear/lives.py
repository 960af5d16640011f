"""How long parts of a kind live: the distribution behind lives that ended worn and lives that were cut short.

Method.  A part worn out or broken is a failure; one still running, or gone for another reason, is a suspension: known
to live longer than that.  Leaving suspensions out, or averaging the failures, tells of shorter or longer lives than
there are.  A Weibull distribution is fitted by maximum likelihood with likelihood-ratio bounds (``upkeep/stats``), the
estimate of Kaplan and Meier stands beside it, and so do the straightness of the probability plot and the largest
distance between the two.  Below five failures there is no fit but with a shape stated by the plant, which leaves the
scale alone to be found.

Lives of different terminals, or of reworked parts and new ones, are pooled only where they agree: the likelihood of one
distribution for all is not much lower than that of one for each (likelihood-ratio test, 5 %).

Worked example (invented figures): 7 worn and 5 still running, shape 6.0, scale 361,000, a tenth worn by 248,000.
Without the running ones it would be 232,000, and the plain mean of the failures is 324,000: more than a third of the
parts are worn before that.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite

from upkeep.said import said
from upkeep.stats.few import TooFew
from upkeep.stats.interval import Interval
from upkeep.stats.lives import Lives, Step, kaplan_meier
from upkeep.stats.replacement import age_replacement
from upkeep.stats.weibull import Goodness, Weibull, bounds, fit, fit_with_shape, goodness, life_bounds, scale_bounds
from upkeep.units.quantities import grouped, strokes

LEAST_FAILURES = 5
"""Fewer failures give no distribution of their own (plant default, no source)."""

WORN_SHARE = 0.10
LEVEL = 0.95
AGREE_FROM = 0.05
"""Lives disagree where they would be so different by chance in fewer cases than this."""


@dataclass(frozen=True, slots=True)
class LifeCurve:
    """The distribution of some lives, in strokes.

    ``worn_by`` is when a tenth is worn (B10).  ``shape_bounds`` is None where the shape was stated.  ``goodness`` is
    None below two failures at different ages.  ``without_suspensions`` is when a tenth would seem worn if the
    suspensions were left out, ``mean_failed`` the plain mean of the failures (None: no fit, no failure).
    """

    weibull: Weibull
    shape_bounds: Interval | None
    scale_bounds: Interval
    worn_by: float
    worn_by_bounds: Interval
    goodness: Goodness | None
    without_suspensions: float | None
    mean_failed: float | None


@dataclass(frozen=True, slots=True)
class Replacing:
    """Whether to replace by age.  ``age`` in strokes, None: no planned replacement helps; ``saving`` is the share of
    the cost of running to failure, ``failed_before`` the share that fails before that age all the same."""

    cost_ratio: float
    age: float | None
    saving: float
    failed_before: float
    why: str


@dataclass(frozen=True, slots=True)
class LifeReport:
    """Some lives and what they say.  ``curve`` is None where there are too few failures; ``why`` says it."""

    failures: int
    suspensions: int
    steps: tuple[Step, ...]
    curve: LifeCurve | None
    replacing: Replacing | None
    why: str


@dataclass(frozen=True, slots=True)
class Agreement:
    """Whether groups of lives may be pooled.  ``chance`` is that of groups so different where there is no difference;
    None: fewer than two groups could be compared.  ``apart`` names groups with too few failures to be compared."""

    agree: bool
    chance: float | None
    apart: tuple[str, ...]
    why: str


def report(lives: Lives, cost_ratio: float | None = None, shape: float | None = None) -> LifeReport:
    """What lives say, with the best age for replacing at a cost ratio (None: not asked).

    `shape` is one stated by the plant; with it a single failure is enough.
    """
    failed, cut = len(lives.failures), len(lives.suspensions)
    steps = kaplan_meier(lives)
    count = f"{failed} failed, {cut} running or gone for another reason"
    try:
        curve = _free(lives) if shape is None else _stated(lives, shape)
    except TooFew:
        return LifeReport(failed, cut, steps, None, None, _too_few(lives, count, shape))
    replacing = None if cost_ratio is None else replacing_of(curve.weibull, cost_ratio)
    return LifeReport(failed, cut, steps, curve, replacing, f"{count}. {_why(curve, shape)}")


def _free(lives: Lives) -> LifeCurve:
    if len(lives.failures) < LEAST_FAILURES:
        raise TooFew(LEAST_FAILURES, said("failures"), len(lives.failures))
    fitted, around = fit(lives), bounds(lives, LEVEL)
    return LifeCurve(
        fitted,
        around.shape,
        around.scale,
        fitted.life(WORN_SHARE),
        life_bounds(lives, WORN_SHARE, LEVEL),
        goodness(lives, fitted),
        fit(Lives(lives.failures)).life(WORN_SHARE),
        sum(lives.failures) / len(lives.failures),
    )


def _stated(lives: Lives, shape: float) -> LifeCurve:
    fitted, around = fit_with_shape(lives, shape), scale_bounds(lives, shape, LEVEL)
    worn = fitted.life(WORN_SHARE)
    share = worn / fitted.scale
    several = len(set(lives.failures)) > 1
    return LifeCurve(
        fitted,
        None,
        around,
        worn,
        Interval(around.low * share, around.high * share),
        goodness(lives, fitted) if several else None,
        None,
        sum(lives.failures) / len(lives.failures),
    )


def _too_few(lives: Lives, count: str, shape: float | None) -> str:
    if shape is None and len(lives.failures) >= LEAST_FAILURES:
        return f"{count}. All failed at the same age: no distribution can be told from that."
    if shape is None:
        return (
            f"{count}. Too few: a distribution takes {LEAST_FAILURES} failures. With a shape that is stated (--shape), "
            "one is enough."
        )
    if not any(lives.suspensions):
        return f"{count}. Nothing has run yet."
    lowest = scale_bounds(lives, shape, LEVEL).low
    return (
        f"{count}. Nothing has failed: with the stated shape {shape:g} the scale is {grouped(round(lowest))} strokes "
        "or more (95 %)."
    )


def _why(curve: LifeCurve, shape: float | None) -> str:
    weibull = curve.weibull
    shaped = (
        f"shape {shape:g}, stated by the plant"
        if curve.shape_bounds is None
        else f"shape {weibull.shape:.3g} ({curve.shape_bounds.low:.3g} to {curve.shape_bounds.high:.3g})"
    )
    beside = ""
    if curve.without_suspensions is not None and curve.mean_failed is not None:
        beside = (
            f" Not to be used: {grouped(round(curve.without_suspensions))} with the suspensions left out; the plain "
            f"mean of the failures, {grouped(round(curve.mean_failed))}, by which "
            f"{weibull.failed(curve.mean_failed):.0%} are worn."
        )
    return (
        f"Weibull {shaped}, scale {_between(weibull.scale, curve.scale_bounds)}. A tenth is worn by "
        f"{_between(curve.worn_by, curve.worn_by_bounds)}.{beside}"
    )


def _between(value: float, around: Interval) -> str:
    high = grouped(round(around.high)) if isfinite(around.high) else "no bound"
    return f"{grouped(round(value))} ({grouped(round(around.low))} to {high})"


def replacing_of(weibull: Weibull, cost_ratio: float) -> Replacing:
    """Whether replacing by age pays where a failure costs so many times a planned replacement."""
    best = age_replacement(weibull.shape, cost_ratio)
    if best.age_over_scale is None:
        reason = "the shape is not above 1: older parts fail no more often than new ones" if weibull.shape <= 1 else (
            "a failure costs no more than a replacement" if cost_ratio <= 1 else "it would come too late to matter"
        )  # fmt: skip
        why = f"No planned replacement helps: {reason}. Run to the limit, inspected."
        return Replacing(cost_ratio, None, 0.0, best.failed_before, why)
    age = best.age_over_scale * weibull.scale
    why = (
        f"A failure costs {cost_ratio:g} times a planned replacement: replace at {strokes(round(age))} "
        f"({best.age_over_scale:.2f} of the scale). It saves {best.saving:.0%} of the cost of running to failure; "
        f"{best.failed_before:.0%} fail before it all the same."
    )
    return Replacing(cost_ratio, age, best.saving, best.failed_before, why)


def agreement(groups: Mapping[str, Lives]) -> Agreement:
    """Whether groups of lives, by name, may be taken as one: a likelihood-ratio test of equal Weibull distributions."""
    tested = {name: lives for name, lives in groups.items() if len(set(lives.failures)) > 1}
    apart = tuple(name for name in groups if name not in tested)
    left = f" Left out of the pool, too few failures to be compared: {', '.join(apart)}." if apart else ""
    if len(tested) < 2:
        return Agreement(True, None, apart if tested else (), left.strip() if tested else "")
    from scipy.special import chdtrc

    pooled = fit(joined(tested)).log_likelihood
    apiece = sum(fit(lives).log_likelihood for lives in tested.values())
    chance = float(chdtrc(2 * (len(tested) - 1), max(0.0, 2 * (apiece - pooled))))
    named = " and ".join(tested)
    if chance < AGREE_FROM:
        why = f"{named} do not agree (chance {chance:.1%}): they are not pooled.{left}"
        return Agreement(False, chance, apart, why)
    return Agreement(True, chance, apart, f"{named} agree (chance {chance:.0%}): they are pooled.{left}")


def joined(groups: Mapping[str, Lives]) -> Lives:
    """All lives of some groups."""
    return Lives(
        tuple(age for lives in groups.values() for age in lives.failures),
        tuple(age for lives in groups.values() for age in lives.suspensions),
    )

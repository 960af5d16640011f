"""How long parts of a kind live: the distribution behind lives that ended worn and lives that were cut short.

Method.  A part worn out or broken is a failure; one still running, or gone for another reason, is a suspension: known
to live longer than that.  Leaving suspensions out, or averaging the failures, tells of shorter or longer lives than
there are.  A Weibull distribution is fitted by maximum likelihood with likelihood-ratio bounds (``upkeep/stats``), the
estimate of Kaplan and Meier stands beside it, and so do the straightness of the probability plot and the largest
distance between the two.  Below five failures there is no fit but with a shape stated by the plant, which leaves the
scale alone to be found.

Lives of different terminals, or of reworked parts and new ones, are pooled only where they agree: the likelihood of one
distribution for all is not much lower than that of one for each (likelihood-ratio test, 5 %).  The chi-square
distribution of that ratio is one of large samples: two alike groups of two failures pass its 5 % in 33 of 100 cases, of
five in 11.  So the ratio is first scaled to the mean it has where there is no difference (M. S. Bartlett, Properties of
Sufficiency and Statistical Tests, Proceedings of the Royal Society A 160 (1937), 268-282; from memory), which for
complete Weibull samples depends on their sizes alone, not on shape and scale.

How good that is, by simulation (tests/wear/test_pooling.py): alike groups are kept apart in 4 to 5 of 100 cases, from
two failures each to thirty, and in fewer where many lives were cut short, since only the failures count as size there.
Groups of which one lives half as long (shape 3) are told apart in 27 of 100 cases with three failures each, in 60 with
five, in 89 with eight: that lives agree is then no proof that they are alike.

Worked example (invented figures): 7 worn and 5 still running, shape 6.0, scale 361,000, a tenth worn by 248,000.
Without the running ones it would be 232,000, and the plain mean of the failures is 324,000: more than a third of the
parts are worn before that.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import isfinite

from upkeep.frozen import frozen
from upkeep.said import Figure, Numeral, Said, Value, all_of, in_turn, listed, said
from upkeep.stats.few import TooFew
from upkeep.stats.interval import Interval
from upkeep.stats.lives import Lives, Step, kaplan_meier
from upkeep.stats.replacement import age_replacement
from upkeep.stats.weibull import Goodness, Weibull, bounds, fit, fit_with_shape, goodness, life_bounds, scale_bounds
from upkeep.units.figures import HALF_OF_90, estimate, percent, three
from upkeep.units.quantities import in_strokes

LEAST_FAILURES = 5
"""Fewer failures give no distribution of their own (plant default, no source)."""

WORN_SHARE = 0.10
LEVEL = 0.95
AGREE_FROM = 0.05
"""Lives disagree where they would be so different by chance in fewer cases than this."""

ENOUGH_TO_DIFFER = 8
"""Failures in each group from which on one that lives half as long is told apart in 9 of 10 cases (by simulation)."""


@frozen
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


@frozen
class Replacing:
    """Whether to replace by age.  ``age`` in strokes, None: no planned replacement helps; ``saving`` is the share of
    the cost of running to failure, ``failed_before`` the share that fails before that age all the same."""

    cost_ratio: float
    age: float | None
    saving: float
    failed_before: float
    why: Said


@frozen
class LifeReport:
    """Some lives and what they say.  ``curve`` is None where there are too few failures; ``why`` says it."""

    failures: int
    suspensions: int
    steps: tuple[Step, ...]
    curve: LifeCurve | None
    replacing: Replacing | None
    why: Said


@frozen
class Agreement:
    """Whether groups of lives may be pooled.  ``chance`` is that of groups so different where there is no difference;
    None: fewer than two groups could be compared.  ``apart`` names groups with too few failures to be compared;
    ``why`` is None where there is nothing to say."""

    agree: bool
    chance: float | None
    apart: tuple[str, ...]
    why: Said | None


def report(lives: Lives, cost_ratio: float | None = None, shape: float | None = None) -> LifeReport:
    """What lives say, with the best age for replacing at a cost ratio (None: not asked).

    `shape` is one stated by the plant; with it a single failure is enough.
    """
    failed, cut = len(lives.failures), len(lives.suspensions)
    steps = kaplan_meier(lives)
    count = said(
        "{failed} failed, {others} running or gone for another reason.", failed=Numeral(failed), others=Numeral(cut)
    )
    try:
        curve = _free(lives) if shape is None else _stated(lives, shape)
    except TooFew:
        return LifeReport(failed, cut, steps, None, None, in_turn(count, _too_few(lives, shape)))
    replacing = None if cost_ratio is None else replacing_of(curve.weibull, cost_ratio)
    return LifeReport(failed, cut, steps, curve, replacing, in_turn(count, _why(curve, shape)))


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
    worn_life = fitted.life(WORN_SHARE)
    share = worn_life / fitted.scale
    several = len(set(lives.failures)) > 1
    return LifeCurve(
        fitted,
        None,
        around,
        worn_life,
        Interval(around.low * share, around.high * share),
        goodness(lives, fitted) if several else None,
        None,
        sum(lives.failures) / len(lives.failures),
    )


def _too_few(lives: Lives, shape: float | None) -> Said:
    if shape is None and len(lives.failures) >= LEAST_FAILURES:
        return said("All failed at the same age: no distribution can be fitted to that.")
    if shape is None:
        return said(
            "Too few failures: fitting a distribution takes {needed}. With a stated shape (--shape), one is enough.",
            needed=LEAST_FAILURES,
        )
    if not any(lives.suspensions):
        return said("Nothing has run yet.")
    return said(
        "Nothing has failed: with the stated shape of {shape} the scale is {lowest} strokes or more (95 %).",
        shape=Figure(shape),
        lowest=three(scale_bounds(lives, shape, LEVEL).low, down=True),
    )


def _why(curve: LifeCurve, shape: float | None) -> Said:
    weibull = curve.weibull
    shaped = (
        said("shape {shape}, stated by the plant", shape=Figure(weibull.shape if shape is None else shape))
        if curve.shape_bounds is None
        else said(
            "shape {shape} ({low} to {high})",
            shape=Figure(weibull.shape, ".3g"),
            low=Figure(curve.shape_bounds.low, ".3g"),
            high=Figure(curve.shape_bounds.high, ".3g"),
        )
    )
    fitted = said(
        "Weibull, {shaped}, scale {scale}. A tenth have failed by {worn_by}.",
        shaped=shaped,
        scale=_between(weibull.scale, curve.scale_bounds),
        worn_by=_between(curve.worn_by, curve.worn_by_bounds),
    )
    return in_turn(fitted, _not_to_be_used(curve))


def _not_to_be_used(curve: LifeCurve) -> Said | None:
    """The two figures that people are tempted to take instead."""
    if curve.without_suspensions is None or curve.mean_failed is None:
        return None
    return said(
        "Do not use the figure with the suspensions left out, {without_suspensions}, nor the plain mean of "
        "the failures, {mean}: by then {share} have failed.",
        without_suspensions=in_strokes(three(curve.without_suspensions)),
        mean=in_strokes(three(curve.mean_failed)),
        share=percent(curve.weibull.failed(curve.mean_failed)),
    )


def worn_by_about(curve: LifeCurve) -> int:
    """The strokes by which a tenth is worn, as far as they are known."""
    around = curve.worn_by_bounds
    return estimate(curve.worn_by, HALF_OF_90 * (around.high - around.low) / 2)


def _between(value: float, around: Interval) -> Said:
    """An estimate in strokes with its 95 % interval, all as far as half the 90 % interval says."""
    half = HALF_OF_90 * (around.high - around.low) / 2
    high: Value = estimate(around.high, half) if isfinite(around.high) else said("no bound")
    return said(
        "{value} ({low} to {high})", value=in_strokes(estimate(value, half)), low=estimate(around.low, half), high=high
    )


def replacing_of(weibull: Weibull, cost_ratio: float) -> Replacing:
    """Whether replacing by age pays where a failure costs so many times a planned replacement."""
    best = age_replacement(weibull.shape, cost_ratio)
    if best.age_over_scale is None:
        why = said(
            "Planned replacement does not help: {reason}. Run it to the limit and inspect it.",
            reason=_no_help(weibull.shape, cost_ratio),
        )
        return Replacing(cost_ratio, None, 0.0, best.failed_before, why)
    age = best.age_over_scale * weibull.scale
    why = said(
        "A failure costs {ratio} times a planned replacement: replace at {age} ({share} of the scale). That "
        "saves {saving} of the cost of running to failure; {failed} still fail before it.",
        ratio=Figure(cost_ratio),
        age=in_strokes(three(age)),
        share=Figure(best.age_over_scale, ".2f"),
        saving=percent(best.saving),
        failed=percent(best.failed_before),
    )
    return Replacing(cost_ratio, age, best.saving, best.failed_before, why)


def _no_help(shape: float, cost_ratio: float) -> Said:
    if shape <= 1:
        return said("the shape is not above 1: older parts fail no more often than new ones")
    if cost_ratio <= 1:
        return said("a failure costs no more than a replacement")
    return said("it would come too late to matter")


def agreement(groups: Mapping[str, Lives]) -> Agreement:
    """Whether groups of lives, by name, may be taken as one: a likelihood-ratio test of equal Weibull distributions."""
    tested = {name: lives for name, lives in groups.items() if len(set(lives.failures)) > 1}
    apart = tuple(name for name in groups if name not in tested)
    left = said("Left out of the pool because they have too few failures to compare: {groups}.", groups=listed(apart))
    if len(tested) < 2:
        return Agreement(True, None, apart if tested else (), left if tested and apart else None)
    from scipy.special import chdtrc

    pooled = fit(joined(tested)).log_likelihood
    apiece = sum(fit(lives).log_likelihood for lives in tested.values())
    freedom = 2 * (len(tested) - 1)
    ratio = 2 * max(0.0, apiece - pooled) * freedom / _mean_ratio([len(one.failures) for one in tested.values()])
    chance = float(chdtrc(freedom, ratio))
    agree = chance >= AGREE_FROM
    why = (
        said("{groups} agree (p = {chance}) and are pooled.", groups=all_of(tested), chance=percent(chance))
        if agree
        else said(
            "{groups} do not agree (p = {chance}) and are not pooled.",
            groups=all_of(tested),
            chance=percent(chance, 1),
        )
    )
    few = min(len(lives.failures) for lives in tested.values()) < ENOUGH_TO_DIFFER
    return Agreement(agree, chance, apart, in_turn(why, _unsure() if agree and few else None, left if apart else None))


def _unsure() -> Said:
    return said(
        "With fewer than {enough} failures in a group that proves little: a group that lives half as long "
        "often goes unnoticed.",
        enough=ENOUGH_TO_DIFFER,
    )


def _mean_ratio(sizes: Sequence[int]) -> float:
    """The mean of twice the logarithm of the likelihood ratio of alike groups with so many failures."""
    return sum(map(_mean_gain, sizes)) - _mean_gain(sum(sizes))


def _mean_gain(failures: int) -> float:
    """The mean of twice what a fit gains in logarithm of likelihood over the true distribution.

    2 for large samples, the numbers it takes from them.  The rest was found by simulating complete samples of 2 to 100,
    200,000 each up to 15: within 0.02 of 3.94, 2.96, 2.64, 2.48, 2.39 (2 to 6), 2.22 (10), 2.11 (20).
    """
    return 2 + 1.93 / (failures - 1)


def joined(groups: Mapping[str, Lives]) -> Lives:
    """All lives of some groups."""
    return Lives(
        tuple(age for lives in groups.values() for age in lives.failures),
        tuple(age for lives in groups.values() for age in lives.suspensions),
    )

"""Lives of parts: the distribution with its number of events, the cost of replacing, and which lives are pooled."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import chi2, weibull_min

from tests.weibull_by_scipy import likeliest
from upkeep.stats.lives import Lives
from upkeep.wear.lives import agreement, replacing_of, report

TWELVE = Lives(
    (258_000, 260_000, 291_000, 298_000, 332_000, 399_000, 431_000),
    (117_000, 220_000, 241_000, 242_000, 330_000),
)
"""Seven worn and five running.  Made so that their figures are those of the illustration: shape 6.0, scale 361,000."""


def test_twelve_sets_have_shape_6_and_a_tenth_worn_by_248_000() -> None:
    """Left out the running ones 232,000; the mean of the failures 324,000, by which more than a third are worn."""
    found = report(TWELVE)
    assert (found.failures, found.suspensions) == (7, 5)
    curve = found.curve
    assert curve is not None
    assert curve.weibull.shape == pytest.approx(6.0, abs=0.05)
    assert curve.weibull.scale == pytest.approx(361_000, abs=500)
    assert curve.worn_by == pytest.approx(248_000, abs=500)
    assert curve.without_suspensions == pytest.approx(232_000, abs=500)
    assert curve.mean_failed == pytest.approx(324_000, abs=500)
    assert curve.weibull.failed(324_000) > 1 / 3
    assert curve.worn_by_bounds.holds(curve.worn_by)
    assert str(found.why).startswith("7 failed, 5 running or gone for another reason. Weibull, shape 6.01 (")


def test_below_five_failures_only_too_few_is_said() -> None:
    """With the number of events, and Kaplan-Meier all the same; a stated shape takes one."""
    few = Lives(TWELVE.failures[:4], TWELVE.suspensions)
    found = report(few)
    assert found.curve is None
    assert str(found.why).startswith("4 failed, 5 running or gone for another reason. Too few failures: fitting")
    assert len(found.steps) == 4
    stated = report(few, shape=3)
    assert stated.curve is not None
    assert stated.curve.shape_bounds is None
    assert "shape 3, stated by the plant" in str(stated.why)


def test_a_stated_shape_leaves_the_scale_to_be_found() -> None:
    """The sum of the powers by the number of failures, and chi-square bounds (Meeker and Escobar, 1998, 8.4)."""
    curve = report(Lives((100.0,), (150.0, 80.0)), shape=3).curve
    assert curve is not None
    total = 100**3 + 150**3 + 80**3
    assert curve.weibull.scale == pytest.approx(total ** (1 / 3))
    assert curve.scale_bounds.low == pytest.approx((2 * total / chi2.ppf(0.975, 4)) ** (1 / 3))
    assert curve.scale_bounds.high == pytest.approx((2 * total / chi2.ppf(0.025, 2)) ** (1 / 3))
    assert curve.worn_by == pytest.approx(weibull_min.ppf(0.1, 3, scale=total ** (1 / 3)))


def test_without_a_failure_a_stated_shape_gives_the_least_scale() -> None:
    """Where no failure has a chance of 5 %: sum / ln 20."""
    found = report(Lives((), (150.0, 80.0)), shape=3)
    assert found.curve is None
    least = ((150**3 + 80**3) / np.log(20)) ** (1 / 3)
    assert f"the scale is {least:.0f} strokes or more (95 %)" in str(found.why)
    assert "Nothing has run yet" in str(report(Lives((), (0.0,)), shape=3).why)


def test_lives_that_all_ended_at_one_age_have_no_distribution() -> None:
    """Five of them or more."""
    assert "All failed at the same age" in str(report(Lives((9.0,) * 6)).why)


@pytest.mark.parametrize(
    ("shape", "ratio", "share", "saving"),
    [(2.5, 10, 0.35, 0.58), (1.5, 10, 0.38, 0.25)],
)
def test_replacing_by_age_pays_for_what_wears(shape: float, ratio: float, share: float, saving: float) -> None:
    """The age replacement policy (Barlow and Proschan, 1965): the least cost per stroke, here looked for on a grid."""
    found = replacing_of(report(TWELVE, shape=shape).curve.weibull, ratio)  # type: ignore[union-attr]
    scale = report(TWELVE, shape=shape).curve.weibull.scale  # type: ignore[union-attr]
    ages = np.linspace(0.01, 3, 60_000)
    survived = np.exp(-(ages**shape))
    mean_age = np.concatenate([[0], np.cumsum((survived[1:] + survived[:-1]) / 2 * np.diff(ages))]) + 0.01
    cost = (survived + ratio * (1 - survived)) / mean_age
    assert found.age is not None
    assert found.age / scale == pytest.approx(ages[cost.argmin()], abs=0.002)
    assert (round(found.age / scale, 2), round(found.saving, 2)) == (share, saving)


def test_what_does_not_wear_is_not_replaced_by_age() -> None:
    """Shape 1, or a failure that costs no more."""
    for shape, ratio, reason in ((1.0, 10, "the shape is not above 1"), (3.0, 1, "a failure costs no more")):
        replacing = report(TWELVE, ratio, shape).replacing
        assert replacing is not None
        assert replacing.age is None
        assert str(replacing.why).startswith(f"Planned replacement does not help: {reason}")


SHORTER = Lives(tuple(age * 0.3 for age in TWELVE.failures), tuple(age * 0.3 for age in TWELVE.suspensions))


def test_lives_are_pooled_only_where_they_agree() -> None:
    """Three times as long-lived is another distribution; the same lives twice are not."""
    differ = agreement({"tin": TWELVE, "silver": SHORTER})
    assert not differ.agree
    assert "tin and silver do not agree" in str(differ.why)
    same = agreement({"tin": TWELVE, "silver": TWELVE})
    assert same.agree
    assert same.chance == pytest.approx(1.0)


def test_the_chance_is_that_of_the_scaled_likelihood_ratio() -> None:
    """Twice the fall of the likelihood, scaled to its mean, against chi-square: by scipy's distribution and search."""
    other = Lives(tuple(age * 0.8 for age in TWELVE.failures), TWELVE.suspensions)
    both = Lives((*TWELVE.failures, *other.failures), (*TWELVE.suspensions, *other.suspensions))
    apart, other_apart, together = (likeliest(lives)[2] for lives in (TWELVE, other, both))
    fallen = 2 * (apart + other_apart - together)
    n = len(TWELVE.failures)
    mean = 2 * (2 + 1.93 / (n - 1)) - (2 + 1.93 / (2 * n - 1))
    assert agreement({"a": TWELVE, "b": other}).chance == pytest.approx(chi2.sf(fallen * 2 / mean, 2), rel=1e-5)


def test_too_few_failures_cannot_be_compared_and_are_left_out() -> None:
    """They are named; a group alone needs no comparison."""
    found = agreement({"new": TWELVE, "reworked": Lives((200_000.0,), (50_000.0,))})
    assert (found.agree, found.chance, found.apart) == (True, None, ("reworked",))
    assert "too few failures to compare: reworked" in str(found.why)
    assert agreement({"new": Lives((200_000.0,))}).why is None

"""The Weibull fit: what holds for any lives, and where it refuses."""

from __future__ import annotations

from math import inf, log

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from upkeep.stats.few import TooFew
from upkeep.stats.lives import Lives
from upkeep.stats.weibull import Weibull, bounds, fit, fit_with_shape, goodness, life_bounds, scale_bounds

AGES = st.floats(1, 1000, allow_nan=False)
LIVES = st.builds(
    Lives,
    st.lists(AGES, min_size=2, max_size=12, unique=True).map(tuple),
    st.lists(AGES, max_size=12).map(tuple),
).filter(lambda lives: max(lives.failures) > 1.001 * min(lives.failures))


def scaled(lives: Lives, factor: float) -> Lives:
    """The same lives in another unit."""
    return Lives(
        tuple(age * factor for age in lives.failures),
        tuple(age * factor for age in lives.suspensions),
    )


@settings(deadline=None)
@given(LIVES)
def test_no_distribution_nearby_is_likelier(lives: Lives) -> None:
    """Neither with another shape and its best scale, nor far from it."""
    best = fit(lives)
    for factor in (0.5, 0.9, 0.999, 1.001, 1.1, 2):
        assert fit_with_shape(lives, best.shape * factor).log_likelihood <= best.log_likelihood + 1e-9
    assert fit_with_shape(lives, best.shape).scale == pytest.approx(best.scale)


@settings(deadline=None)
@given(LIVES, st.sampled_from([1e-3, 7.0, 1e6]))
def test_another_unit_scales_the_scale_alone(lives: Lives, factor: float) -> None:
    """Strokes or thousands of strokes."""
    ours, other = fit(lives), fit(scaled(lives, factor))
    assert other.shape == pytest.approx(ours.shape, rel=1e-7)
    assert other.scale == pytest.approx(ours.scale * factor, rel=1e-7)


@settings(deadline=None)
@given(LIVES)
def test_one_more_long_suspension_makes_lives_longer(lives: Lives) -> None:
    """Leaving out what still runs would make everything look shorter-lived than it is."""
    longer = Lives(lives.failures, (*lives.suspensions, 1000.0))
    assert fit(longer).life(0.5) > fit(lives).life(0.5)


@settings(deadline=None)
@given(LIVES)
def test_a_suspension_at_age_nothing_says_nothing(lives: Lives) -> None:
    """A part that was just fitted."""
    assert fit(Lives(lives.failures, (*lives.suspensions, 0.0))) == fit(lives)


@settings(deadline=None)
@given(LIVES, st.floats(0.01, 0.99))
def test_failed_share_and_age_are_each_other_s_inverse(lives: Lives, fraction: float) -> None:
    """And the scale is the age by which 63.2 % have failed."""
    fitted = fit(lives)
    assert fitted.failed(fitted.life(fraction)) == pytest.approx(fraction)
    assert fitted.failed(fitted.scale) == pytest.approx(0.632, abs=1e-3)
    assert (fitted.failed(0), fitted.life(1)) == (0, inf)


@settings(deadline=None, max_examples=25)
@given(LIVES)
def test_bounds_hold_the_estimate_and_widen_with_the_level(lives: Lives) -> None:
    """For shape, scale, and the age by which a tenth has failed."""
    fitted = fit(lives)
    narrow, wide = bounds(lives, 0.5), bounds(lives, 0.95)
    life, wide_life = life_bounds(lives, 0.1, 0.5), life_bounds(lives, 0.1, 0.95)
    for inner, outer, estimate in (
        (narrow.shape, wide.shape, fitted.shape),
        (narrow.scale, wide.scale, fitted.scale),
        (life, wide_life, fitted.life(0.1)),
    ):
        assert outer.low < inner.low < estimate < inner.high < outer.high
        assert inner.holds(estimate)
        assert not inner.holds(outer.high)


@settings(deadline=None)
@given(LIVES, st.floats(0.5, 8))
def test_bounds_of_the_scale_hold_it_when_the_shape_is_known(lives: Lives, shape: float) -> None:
    """And the fit with that shape gathers as many failures as there were."""
    fitted = fit_with_shape(lives, shape)
    found = scale_bounds(lives, shape)
    assert found.low < fitted.scale < found.high
    gathered = sum((age / fitted.scale) ** shape for age in (*lives.failures, *lives.suspensions))
    assert gathered == pytest.approx(len(lives.failures))


def test_without_a_failure_the_scale_has_a_lower_bound_alone() -> None:
    """At the bound, no failure at all would have had a chance of 1 in 20."""
    lives = Lives((), (100.0, 200.0, 300.0))
    found = scale_bounds(lives, 2.0, 0.95)
    bound = Weibull(2.0, found.low, 0)
    none = 1.0
    for age in lives.suspensions:
        none *= 1 - bound.failed(age)
    assert none == pytest.approx(0.05)
    assert found.high == inf


@pytest.mark.parametrize("failures", [(), (5.0,), (5.0, 5.0, 5.0)])
def test_fewer_than_two_different_failures_are_too_few(failures: tuple[float, ...]) -> None:
    """One failure, or several at one age, leave the shape open; suspensions do not help."""
    lives = Lives(failures, (1.0, 9.0, 20.0))
    for ask in (fit, bounds, lambda lives: life_bounds(lives, 0.1), lambda lives: goodness(lives, Weibull(1, 1, 0))):
        with pytest.raises(TooFew, match="at least 2 failures at different ages"):
            ask(lives)


def test_a_known_shape_takes_one_failure_and_bounds_take_one_life() -> None:
    """Below that nothing can be said."""
    assert fit_with_shape(Lives((7.0,)), 2.0).scale == pytest.approx(7)
    with pytest.raises(TooFew, match="at least 1 failures"):
        fit_with_shape(Lives((), (7.0,)), 2.0)
    with pytest.raises(TooFew, match="at least 1 lives"):
        scale_bounds(Lives((), (0.0,)), 2.0)


def test_failures_close_together_and_huge_ages_do_not_overflow() -> None:
    """A shape of many thousands, and ages far beyond any counter."""
    close = fit(Lives((1e6, 1e6 + 1), (1e6 - 5,)))
    assert close.shape > 1e5
    assert close.scale == pytest.approx(1e6, rel=1e-5)
    huge = Lives((1e200, 3e200), (2e200, 1e201))
    assert 1e200 < fit(huge).scale < 1e202
    assert fit_with_shape(huge, 50.0).scale < 1e201


@settings(deadline=None)
@given(LIVES)
def test_distance_and_straightness_are_shares(lives: Lives) -> None:
    """Both between 0 and 1 for a fit that follows its lives at all."""
    assume(len(set(lives.failures)) > 2)
    found = goodness(lives, fit(lives))
    assert 0 < found.correlation <= 1 + 1e-12
    assert 0 < found.distance < 1


def test_lives_at_the_quantiles_of_a_distribution_lie_straight() -> None:
    """And lives of two kinds do not."""
    truth = Weibull(3.0, 1000.0, 0)
    ages = tuple(truth.life((place + 0.5) / 20) for place in range(20))
    straight = goodness(Lives(ages), fit(Lives(ages)))
    assert straight.correlation == pytest.approx(1)
    assert straight.distance < 0.06
    mixed = Lives((*(age / 50 for age in ages[:10]), *ages))
    bent = goodness(mixed, fit(mixed))
    assert bent.correlation < straight.correlation - 0.01
    assert bent.distance > 2 * straight.distance


def test_the_log_likelihood_is_that_of_densities_and_survivals() -> None:
    """Written out for three lives."""
    lives = Lives((2.0, 3.0), (4.0,))
    fitted = fit(lives)
    b, c = fitted.shape, fitted.scale
    written = sum(log(b / c) + (b - 1) * log(age / c) - (age / c) ** b for age in lives.failures) - (4 / c) ** b
    assert fitted.log_likelihood == pytest.approx(written)


def test_bounds_are_found_far_from_the_lives() -> None:
    """Two failures among three hundred, asked for one in a million at 99.9 %: wide, but with both ends."""
    lives = Lives((900.0, 901.0), (*(100.0,) * 150, *(10_000.0,) * 150))
    found = life_bounds(lives, 1e-6, 0.999)
    assert 0 < found.low < fit(lives).life(1e-6) < found.high < 900

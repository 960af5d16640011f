"""How little few values prove: capability, tolerance, passes, shares, and replacing by age."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from upkeep.stats.capability import bissell_low, cpk
from upkeep.stats.few import TooFew
from upkeep.stats.passes import clopper_pearson, not_excluded, passes_to_exclude
from upkeep.stats.replacement import age_replacement
from upkeep.stats.shares import ordered_shares
from upkeep.stats.tolerance import k_factor, lower_bound

VALUES = [1.195 + 0.001 * (number % 11) for number in range(33)]  # mean 1.2


def test_a_capability_is_given_with_its_number_and_a_bound_below_it() -> None:
    """Never the one figure alone."""
    found = cpk(VALUES, 1.18, 1.22)
    assert found.n == 33
    assert found.low < found.cpk


def test_the_nearer_limit_decides_and_one_limit_is_enough() -> None:
    """Mean 1.2: the upper limit at 1.22 is nearer than the lower at 1.15."""
    both, upper, lower = cpk(VALUES, 1.15, 1.22), cpk(VALUES, None, 1.22), cpk(VALUES, 1.15, None)
    assert both == upper
    assert lower.cpk == pytest.approx(2.5 * upper.cpk)


def test_a_mean_beyond_a_limit_is_a_capability_below_nothing() -> None:
    """More than half are bad."""
    assert cpk(VALUES, 1.21, 1.30).cpk < 0


def test_few_values_equal_values_and_no_limits_have_no_capability() -> None:
    """24 values, 30 times the same, nothing to hold them against."""
    with pytest.raises(TooFew, match="at least 25 values are needed; there are only 24"):
        cpk(VALUES[:24], 1.18, 1.22)
    with pytest.raises(TooFew, match="at least 2 different values"):
        cpk([1.2] * 30, 1.18, 1.22)
    with pytest.raises(ValueError, match="needs a lower or an upper limit"):
        cpk(VALUES, None, None)
    with pytest.raises(TooFew):
        bissell_low(1.67, 1)


@settings(deadline=None)
@given(st.integers(2, 100), st.floats(0.5, 0.999), st.floats(0.6, 0.99))
def test_a_tolerance_factor_falls_with_values_and_rises_with_what_is_asked(n: int, cover: float, level: float) -> None:
    """More values, less room; more cover or more certainty, more room."""
    factor = k_factor(n, cover, level)
    assert k_factor(n + 1, cover, level) < factor
    assert k_factor(n, (1 + cover) / 2, level) > factor
    assert k_factor(n, cover, (1 + level) / 2) > factor


def test_a_bound_lies_its_factor_below_the_mean() -> None:
    """Five pulls: mean 100, standard deviation 5."""
    assert lower_bound([95, 95, 100, 105, 105]) == pytest.approx(100 - k_factor(5) * 5)
    with pytest.raises(TooFew):
        lower_bound([100])


@settings(deadline=None)
@given(st.integers(1, 300), st.integers(0, 300), st.floats(0.5, 0.99))
def test_more_passes_exclude_more_and_more_failures_less(n: int, failures: int, level: float) -> None:
    """And the two-sided interval holds the share that was seen."""
    failures = min(failures, n)
    share = not_excluded(n, level, failures)
    assert failures / n <= share <= 1
    assert not_excluded(n + 1, level, failures) < share or share == 1 == failures / n
    if failures < n:
        assert not_excluded(n, level, failures + 1) > share
    assert clopper_pearson(failures, n, level).holds(failures / n)


@settings(deadline=None)
@given(st.floats(0.001, 0.9), st.floats(0.5, 0.99), st.integers(0, 5))
def test_the_fewest_passes_are_the_fewest(fraction: float, level: float, failures: int) -> None:
    """One less does not exclude the share."""
    needed = passes_to_exclude(fraction, level, failures)
    assert not_excluded(needed, level, failures) <= fraction
    assert needed == failures or not_excluded(needed - 1, level, failures) > fraction


def test_no_trial_excludes_nothing_and_impossible_questions_are_refused() -> None:
    """Nothing tried, more failures than trials, no share at all."""
    assert not_excluded(0) == 1
    with pytest.raises(ValueError, match="3 cannot have failed"):
        not_excluded(2, failures=3)
    for fraction in (0.0, 1.0, -0.1):
        with pytest.raises(ValueError, match="between 0 and 1"):
            passes_to_exclude(fraction)


@settings(deadline=None)
@given(
    st.lists(st.tuples(st.floats(0.01, 10), st.integers(0, 40)), min_size=1, max_size=8),
    st.floats(0.1, 50),
)
def test_shares_add_up_and_lie_between_the_guess_and_the_counts(causes: list[tuple[float, int]], weight: float) -> None:
    """Each cause by itself, and another scale of the guess changes nothing."""
    prior, counts = [guess for guess, _ in causes], [count for _, count in causes]
    shares = ordered_shares(prior, counts, weight)
    assert sum(shares) == pytest.approx(1)
    assert ordered_shares([3 * guess for guess in prior], counts, weight) == pytest.approx(shares)
    for guess, count, share in zip(prior, counts, shares, strict=True):
        before = guess / sum(prior)
        seen = count / sum(counts) if sum(counts) else before
        assert min(before, seen) - 1e-9 <= share <= max(before, seen) + 1e-9


def test_five_own_records_turn_the_order() -> None:
    """The guess says 2 : 1 : 1 and is worth 4 counts; five counts of the second make it 6 of 9."""
    assert ordered_shares([2, 1, 1], [0, 5, 0], 4) == pytest.approx((2 / 9, 6 / 9, 1 / 9))


@pytest.mark.parametrize(
    ("prior", "counts", "weight"),
    [([1, -1], [0, 0], 1), ([1, 1], [0, -1], 1), ([1, 1], [0, 1], -1), ([0, 0], [1, 1], 1), ([1, 1], [0, 0], 0)],
)
def test_shares_of_nothing_are_refused(prior: list[float], counts: list[int], weight: float) -> None:
    """Numbers below 0, no guess, no counts."""
    with pytest.raises(ValueError, match="prior"):
        ordered_shares(prior, counts, weight)


@settings(deadline=None)
@given(st.floats(0.1, 20), st.floats(0.1, 1000))
def test_replacing_by_age_saves_between_nothing_and_all_of_what_a_failure_costs_more(
    shape: float, ratio: float
) -> None:
    """Never more than one planned replacement for each failure would save."""
    found = age_replacement(shape, ratio)
    if found.age_over_scale is None:
        assert (found.saving, found.failed_before) == (0, 1)
    else:
        assert shape > 1 < ratio
        assert 0 <= found.saving < 1 - 1 / ratio
        assert 0 < found.failed_before < 1


@settings(deadline=None)
@given(st.floats(1.5, 8), st.floats(2, 100))
def test_a_dearer_failure_brings_the_replacement_forward(shape: float, ratio: float) -> None:
    """And makes it save more."""
    cheap, dear = age_replacement(shape, ratio), age_replacement(shape, 1.5 * ratio)
    assert cheap.age_over_scale is not None
    assert dear.age_over_scale is not None
    assert dear.age_over_scale < cheap.age_over_scale
    assert dear.saving > cheap.saving


@pytest.mark.parametrize(("shape", "ratio"), [(0.0, 10), (-1, 10), (2, 0)])
def test_shapes_and_ratios_that_cannot_be_are_refused(shape: float, ratio: float) -> None:
    """Both are above 0."""
    with pytest.raises(ValueError, match="above 0"):
        age_replacement(shape, ratio)

"""The share that survives: what holds for any lives."""

from __future__ import annotations

from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from upkeep.stats.lives import Lives, kaplan_meier

AGES = st.lists(st.integers(1, 30).map(float), max_size=25).map(tuple)
LIVES = st.builds(Lives, AGES, AGES)


@settings(deadline=None)
@given(LIVES)
def test_survival_falls_at_each_failure_and_stays_within_its_bounds(lives: Lives) -> None:
    """One step for each age of a failure, all between 0 and 1."""
    steps = kaplan_meier(lives)
    assert [step.age for step in steps] == sorted(set(lives.failures))
    last = 1.0
    for step in steps:
        assert 0 <= step.low <= step.survival + 1e-12
        assert step.survival - 1e-12 <= step.high <= 1
        assert step.survival < last
        last = step.survival


@settings(deadline=None)
@given(AGES.filter(bool))
def test_without_suspensions_it_is_the_share_that_is_left(failures: tuple[float, ...]) -> None:
    """Simply counted out."""
    for step in kaplan_meier(Lives(failures)):
        assert step.survival == pytest.approx(sum(age > step.age for age in failures) / len(failures))


@settings(deadline=None)
@given(LIVES, st.floats(2, 5))
def test_another_unit_of_age_changes_the_ages_alone(lives: Lives, factor: float) -> None:
    """Strokes or thousands of strokes: the same shares."""
    scaled = Lives(
        tuple(age * factor for age in lives.failures),
        tuple(age * factor for age in lives.suspensions),
    )
    ours, others = kaplan_meier(lives), kaplan_meier(scaled)
    assert [step.survival for step in ours] == [step.survival for step in others]
    assert [step.age * factor for step in ours] == [step.age for step in others]


def test_a_life_suspended_at_the_age_of_a_failure_was_at_risk() -> None:
    """By convention the failure comes first."""
    (step,) = kaplan_meier(Lives((5,), (5, 9, 2)))
    assert step.at_risk == 3
    assert step.survival == pytest.approx(2 / 3)


def test_suspensions_make_the_survivors_more_and_the_bounds_no_tighter() -> None:
    """Lives that were cut short early say little."""
    failures = (10.0, 20.0, 30.0)
    alone, with_early = kaplan_meier(Lives(failures)), kaplan_meier(Lives(failures, (1.0, 2.0)))
    assert [step.survival for step in alone] == [step.survival for step in with_early]
    with_late = kaplan_meier(Lives(failures, (25.0, 40.0)))
    assert with_late[-1].survival > alone[-1].survival


def test_where_nothing_survives_the_upper_bound_is_that_of_the_step_before() -> None:
    """The formula has no answer there."""
    before, last = kaplan_meier(Lives((1, 2)))
    assert (last.survival, last.low, last.high) == (0, 0, before.high)
    (only,) = kaplan_meier(Lives((1, 1)))
    assert (only.survival, only.low, only.high) == (0, 0, 1)


@pytest.mark.parametrize(
    ("failures", "suspensions"),
    [
        ((0.0,), ()),
        ((-1.0,), ()),
        ((nan,), ()),
        ((inf,), ()),
        ((1.0,), (-1.0,)),
        ((), (inf,)),
    ],
)
def test_ages_that_cannot_be_are_refused(failures: tuple[float, ...], suspensions: tuple[float, ...]) -> None:
    """A life that ended at no age, or never."""
    with pytest.raises(ValueError, match="every age at"):
        Lives(failures, suspensions)

"""The slug to crush and what it says; where to look first by what moved."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from upkeep.wear.separation import Evidence, Suspect, separated
from upkeep.wear.slug import in_mm, result, slug_for


def test_the_slug_is_40_mm_long_and_half_a_millimetre_thicker() -> None:
    """Common practice, no source."""
    slug = slug_for(1.2)
    assert (slug.length, slug.thickness) == pytest.approx((40, 1.7))


def test_an_inch_is_25_4_millimetres() -> None:
    """Exact by definition; 135.8 mm are 5.346 in (common practice, no source)."""
    assert in_mm(5.346, "in") == pytest.approx(135.8, abs=0.02)
    assert in_mm(5.346, "mm") == 5.346


def test_a_gap_too_wide_asks_for_a_smaller_shut_height() -> None:
    """By as much as the mean is off; every reading is held against the limits."""
    found = result(1.2, (1.23, 1.23, 1.24), 1.17, 1.235)
    assert (found.verdict, found.out) == ("out", (1.24,))
    assert found.off == pytest.approx(0.0333, abs=1e-4)
    assert found.move == pytest.approx(-0.0333, abs=1e-4)
    assert result(1.2, (1.19,), None, None).verdict == "no limit"
    assert result(1.2, (1.19,), 1.17, None).verdict == "good"


@given(st.floats(0.5, 3), st.lists(st.floats(0.5, 3), min_size=1, max_size=5))
def test_moved_as_told_the_mean_is_where_it_should_be(height: float, values: list[float]) -> None:
    """In whatever direction."""
    assert result(height, values, None, None).mean + result(height, values, None, None).move == pytest.approx(height)


@pytest.mark.parametrize(
    ("evidence", "suspect", "said"),
    [
        (Evidence("P-1", {"P-1": True}, {"P-1": False}), Suspect.DIE, "the shut height of P-1 is good"),
        (Evidence("P-1", {"P-1": True}, {"P-1": True}), Suspect.PRESS, "slug and shut height moved on P-1"),
        (Evidence("P-1", {"P-1": True}), None, "has not been measured since"),
        (Evidence("P-1", {"P-1": False}, crimp=True), Suspect.WIRE, "the slug is steady"),
        (Evidence("P-1", crimp=True), None, "no slug was crushed"),
        (Evidence("P-1", {"P-1": True}, crimp=True, by_gauge={"G-1": False, "G-2": True}), Suspect.GAUGE, "only G-2"),
        (Evidence("P-1", {"P-1": False}, crimp=True, by_reel={"R1": True, "R2": False}), Suspect.REEL, "only reel R1"),
        (Evidence("P-1", {"P-1": False}, crimp=True, by_reel={"R1": True, "R2": True}), Suspect.WIRE, "steady"),
    ],
)
def test_the_pattern_says_where_to_look_first(evidence: Evidence, suspect: Suspect | None, said: str) -> None:
    """Slug, shut height, crimp height, other gauges and reels; invented cases."""
    hint = separated(evidence)
    assert hint is not None
    assert hint.suspect is suspect
    assert said in str(hint.why)


def test_good_on_one_press_and_high_on_another_points_to_the_other_press() -> None:
    """The same set: it is not the die.  Its shut height is asked for, again where it was measured good."""
    for shut in ({}, {"P-8": False}):
        hint = separated(Evidence("P-8", {"P-7": False, "P-8": True}, shut))
        assert hint is not None
        assert (hint.suspect, hint.about, hint.shut_height_of) == (Suspect.PRESS, "P-8", "P-8")
        assert "good on P-7 but moved on P-8" in str(hint.why)


def test_where_nothing_moved_there_is_no_hint() -> None:
    """Nor where nothing was measured."""
    assert separated(Evidence("P-1", {"P-1": False}, {"P-1": True}, crimp=False)) is None
    assert separated(Evidence()) is None

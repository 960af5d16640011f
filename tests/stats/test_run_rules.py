"""Patterns on control charts: each rule at its edge, and all of them against a plain search."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from upkeep.stats.run_rules import Break, Rule, beyond_limits, broken_rules


def broken(points: list[float], rule: Rule) -> list[int]:
    """Where the points break a rule on a chart with centre 0 and deviation 1."""
    return [found.index for found in broken_rules(points, 0, 1) if found.rule is rule]


@pytest.mark.parametrize(
    ("rule", "points", "places"),
    [
        (Rule.BEYOND_3, [3.0, 3.1, 0, -3.0, -3.1], [1, 4]),
        (Rule.TWO_BEYOND_2, [2.1, 0, 2.1], [2]),
        (Rule.TWO_BEYOND_2, [2.1, 0, 0, 2.1], []),
        (Rule.TWO_BEYOND_2, [2.1, -2.1, 0], []),
        (Rule.TWO_BEYOND_2, [2.0, 2.0, 2.0], []),
        (Rule.TWO_BEYOND_2, [-2.1, -2.1, 0], [1]),
        (Rule.FOUR_BEYOND_1, [1.1, 1.1, 0, 1.1, 1.1], [4]),
        (Rule.FOUR_BEYOND_1, [1.1, 1.1, 0, 0, 1.1, 1.1], []),
        (Rule.FOUR_BEYOND_1, [-1.1, -1.1, -1.1, -1.1, 0.5], [3]),
        (Rule.EIGHT_ON_ONE_SIDE, [0.1] * 7, []),
        (Rule.EIGHT_ON_ONE_SIDE, [0.1] * 9, [7, 8]),
        (Rule.EIGHT_ON_ONE_SIDE, [-0.1] * 7 + [0.0], []),
        (Rule.SIX_TRENDING, [0, 0.1, 0.2, 0.3, 0.4, 0.5], [5]),
        (Rule.SIX_TRENDING, [0.5, 0.4, 0.3, 0.2, 0.1], []),
        (Rule.SIX_TRENDING, [0, 0.1, 0.2, 0.2, 0.3, 0.4, 0.5], []),
        (Rule.FOURTEEN_ALTERNATING, [0.1, -0.1] * 7, [13]),
        (Rule.FOURTEEN_ALTERNATING, [0.1, -0.1] * 6 + [0.1], []),
    ],
)
def test_each_rule_at_its_edge(rule: Rule, points: list[float], places: list[int]) -> None:
    """On the edge of a zone is not beyond it, and the pattern is seen at the point that completes it."""
    assert broken(points, rule) == places


@settings(deadline=None)
@given(st.lists(st.integers(-4, 4).map(float), max_size=40))
def test_the_rules_find_what_a_plain_search_finds(points: list[float]) -> None:
    """Windows are looked through one by one, each side for itself."""
    for rule, window, least, distance in (
        (Rule.TWO_BEYOND_2, 3, 2, 2),
        (Rule.FOUR_BEYOND_1, 5, 4, 1),
        (Rule.EIGHT_ON_ONE_SIDE, 8, 8, 0),
    ):
        places = {
            end
            for end in range(len(points))
            for side in (1, -1)
            if side * points[end] > distance
            and sum(side * point > distance for point in points[max(0, end - window + 1) : end + 1]) >= least
        }
        assert broken(points, rule) == sorted(places)
    assert broken(points, Rule.SIX_TRENDING) == [
        end
        for end in range(5, len(points))
        if all(a < b for a, b in pairwise(points[end - 5 : end + 1]))
        or all(a > b for a, b in pairwise(points[end - 5 : end + 1]))
    ]


@settings(deadline=None)
@given(st.lists(st.integers(-4, 4).map(float), max_size=40))
def test_a_chart_turned_over_breaks_the_same_rules(points: list[float]) -> None:
    """High and low are alike."""
    assert list(broken_rules(points, 0, 1)) == list(broken_rules([-point for point in points], 0, 1))


def test_limits_alone_are_one_rule() -> None:
    """A point on a limit is inside."""
    assert list(beyond_limits([1, 2, 2.1, 0.9], 1, 2)) == [Break(2, Rule.BEYOND_3), Break(3, Rule.BEYOND_3)]

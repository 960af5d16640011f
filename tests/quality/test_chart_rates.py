"""How often a chart whose limits come from its own points tells a broken rule without cause, and with one: simulated.

Run lengths with known limits stand in tests/outside/test_run_lengths.py; here the limits are those that people see.
"""

from __future__ import annotations

from datetime import UTC, datetime
from random import Random

import pytest

from tests.rates import at_least, at_most, share
from upkeep.quality.control import Measured, control

AT = datetime(2026, 3, 2, tzinfo=UTC)
LAST = 10
"""Points at the end of a chart that a shift moves."""


def breaks(random: Random, kind: str, n: int, shift: float = 0.0) -> bool:
    """Whether the first chart of a kind tells a broken rule; shifts are in scatters of a point."""
    size = 5 if kind == "xbar" else 1
    moved = [shift / size**0.5 if place >= n - LAST else 0.0 for place in range(n)]
    checks = [Measured(n, AT, None, tuple(random.gauss(mean, 1) for _ in range(size))) for mean in moved]
    broken = control(checks, kind).drawn[0].broken
    return any(one.place >= n - LAST for one in broken) if shift else bool(broken)


@pytest.fixture
def cases(long: bool) -> int:
    """How many charts are drawn."""
    return 5_000 if long else 150


@pytest.mark.parametrize(
    ("kind", "n", "wanted"),
    [("single", 20, 0.16), ("single", 50, 0.45), ("xbar", 20, 0.16), ("ewma", 20, 0.03), ("ewma", 50, 0.09)],
)
def test_a_chart_of_a_steady_process_tells_a_broken_rule_so_often(kind: str, n: int, wanted: float, cases: int) -> None:
    """Six rules at every point add up: 16 in 100 charts of 20 points, 45 of 50; the moving average has one rule."""
    assert at_most(share(cases, lambda random: breaks(random, kind, n)), wanted, cases)


@pytest.mark.parametrize(
    ("kind", "shift", "found"), [("single", 2, 0.80), ("single", 1, 0.30), ("xbar", 2, 0.90), ("ewma", 2, 0.60)]
)
def test_a_shift_in_the_last_ten_of_25_points_is_told_so_often(
    kind: str, shift: float, found: float, cases: int
) -> None:
    """One of two scatters in 8 of 10 cases; one of one scatter in a third."""
    assert at_least(share(cases, lambda random: breaks(random, kind, 25, shift)), found, cases)

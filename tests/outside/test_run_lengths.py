"""How long control charts run until they call, against published run lengths; simulated with known centre and sigma.

* C. W. Champ and W. H. Woodall, Exact Results for Shewhart Control Charts with Supplementary Runs Rules, Technometrics
  29 (1987), from memory: 91.75 points with the four Western Electric rules, 152.73 with limits and run of eight.
* J. M. Lucas and M. S. Saccucci, Exponentially Weighted Moving Average Control Schemes, Technometrics 32 (1990), from
  memory: weight 0.25, width 2.998: 500 points without a shift, 11 with one of one sigma.
* The other rules: counted in the same way here, no source; the sentences of the charts say them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from math import sqrt
from random import Random
from statistics import fmean, stdev

import pytest

from upkeep.stats.charts import ewma
from upkeep.stats.run_rules import Break, Rule, broken_rules

WESTERN_ELECTRIC = (Rule.BEYOND_3, Rule.TWO_BEYOND_2, Rule.FOUR_BEYOND_1, Rule.EIGHT_ON_ONE_SIDE)
LONGEST = 14
"""Points a rule looks back over: a stretch of a long run that is judged begins so many points earlier."""

Judged = Callable[[Sequence[float]], Iterable[Break]]


def run_lengths(runs: int, judged: Judged, stretch: int, shift: float = 0.0) -> list[int]:
    """Points until the first break, of so many runs."""
    random, lengths = Random(1), []
    for _ in range(runs):
        points: list[float] = []
        first = None
        while first is None:
            points += [random.gauss(shift, 1) for _ in range(stretch)]
            first = next((one.index for one in judged(points)), None)
        lengths.append(first + 1)
    return lengths


def is_near(lengths: Sequence[int], published: float) -> bool:
    """Whether the mean is the published one within three errors."""
    return abs(fmean(lengths) - published) <= 3 * stdev(lengths) / sqrt(len(lengths))


def by_rules(*rules: Rule) -> Judged:
    """The breaks of some rules, centre 0 and sigma 1 being known."""
    return lambda points: (one for one in broken_rules(points, 0, 1) if one.rule in rules)


@pytest.fixture
def runs(long: bool) -> int:
    """How many charts are run."""
    return 4_000 if long else 120


@pytest.mark.parametrize(
    ("rules", "published"),
    [(WESTERN_ELECTRIC, 91.75), ((Rule.BEYOND_3, Rule.EIGHT_ON_ONE_SIDE), 152.73)],
    ids=["Western Electric", "limits and run of eight"],
)
def test_a_steady_process_breaks_the_rules_after_the_published_run_length(
    rules: tuple[Rule, ...], published: float, runs: int
) -> None:
    assert is_near(run_lengths(runs, by_rules(*rules), 100), published)


def test_all_rules_of_a_chart_break_on_a_steady_process_after_70_points(runs: int) -> None:
    """With the two rules of trend beside the four: 70.2 by 30,000 other runs; 9.2 points after a shift of one sigma."""
    assert is_near(run_lengths(runs, by_rules(*Rule), 70), 70.2)
    assert is_near(run_lengths(runs, by_rules(*Rule), 20, shift=1), 9.2)


def lucas(points: Sequence[float]) -> Iterable[Break]:
    """The breaks of the moving average with weight 0.25 and width 2.998."""
    return ewma(points, 0.25, 2.998, target=0, sigma=1).breaks


@pytest.mark.parametrize(("shift", "published", "stretch"), [(0.0, 500, 400), (1.0, 11, 20)])
def test_the_moving_average_calls_after_the_published_run_length(
    shift: float, published: float, stretch: int, runs: int
) -> None:
    """Steady, and after a shift of one sigma."""
    lengths = run_lengths(runs, lucas, stretch, shift)
    assert abs(fmean(lengths) - published) <= 3 * stdev(lengths) / sqrt(runs) + 0.01 * published

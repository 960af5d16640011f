"""How often the trend of a point warns or forecasts without cause, and how often it does where there is one: simulated.

Values are taken every 10,000 strokes and scatter by 2.3 um, as in the worked example of the trend.
"""

from __future__ import annotations

from random import Random

import pytest

from tests.rates import at_least, at_most, share
from upkeep.wear.trend import LEAST_POINTS, Limits, Trend, trend

SCATTER, EVERY, LIMIT = 0.0023, 10_000, 1.24
JUMP = 5.7
"""Four times the standard deviation of the difference of two values, in scatters of one value."""


def values(random: Random, n: int, wear: float, jump: float = 0.0) -> list[float]:
    """Values that wear by so many scatters from one to the next; the last one jumps by as many."""
    found = [1.2 + SCATTER * (wear * each + random.gauss(0, 1)) for each in range(n)]
    return [*found[:-1], found[-1] + SCATTER * jump]


def told(measured: list[float]) -> Trend:
    """The trend of such values."""
    return trend([EVERY * n for n in range(len(measured))], measured, Limits(upper=LIMIT), "mm", "since new")


@pytest.fixture
def cases(long: bool) -> int:
    """How many parts are drawn."""
    return 8_000 if long else 400


@pytest.mark.parametrize("n", [5, 8, 20])
def test_a_value_of_steady_wear_is_told_as_a_jump_3_times_in_1000(n: int, cases: int) -> None:
    """With few values before it as with many."""
    assert at_most(share(cases, lambda random: told(values(random, n, 0.5)).jump is not None), 0.003, cases)


def test_a_run_of_30_values_of_steady_wear_brings_the_warning_in_6_of_100_parts(cases: int) -> None:
    """Asked for anew at every value."""

    def warned(random: Random) -> bool:
        measured = values(random, 30, 0.5)
        return any(told(measured[:end]).jump for end in range(LEAST_POINTS + 1, 31))

    runs = cases // 10
    assert at_most(share(runs, warned), 0.06, runs)


@pytest.mark.parametrize(("n", "found"), [(8, 0.31), (12, 0.66), (20, 0.90)])
def test_a_jump_of_four_scatters_between_values_is_told(n: int, found: float, cases: int) -> None:
    """In 9 of 10 cases with twenty values, in a third of them with eight."""
    seen = share(cases, lambda random: told(values(random, n, 0.5, JUMP)).jump is not None)
    assert at_least(seen, found, cases)


@pytest.mark.parametrize("n", [4, 8, 12])
def test_where_nothing_wears_a_limit_is_forecast_in_5_of_200_cases(n: int, cases: int) -> None:
    """Half of the 5 % of slopes told from none by chance: those toward the limit."""
    assert at_most(share(cases, lambda random: told(values(random, n, 0)).ahead is not None), 0.025, cases)


@pytest.mark.parametrize(("n", "wear", "found"), [(6, 1.0, 0.85), (8, 0.5, 0.74), (12, 0.5, 0.99)])
def test_wear_is_forecast(n: int, wear: float, found: float, cases: int) -> None:
    """By half a scatter from value to value in 3 of 4 cases with eight values, in nearly all with twelve."""
    seen = share(cases, lambda random: told(values(random, n, wear)).ahead is not None)
    assert at_least(seen, found, cases)


@pytest.mark.parametrize("n", [8, 12])
def test_at_the_safe_strokes_the_next_value_is_out_in_5_of_100_cases(n: int, cases: int) -> None:
    """What the one-sided 95 % prediction limit promises."""

    def is_out(random: Random) -> bool:
        ahead = told(values(random, n, 0.7)).ahead
        if ahead is None:
            return False
        return 1.2 + SCATTER * (0.7 * ahead.safe / EVERY + random.gauss(0, 1)) > LIMIT

    assert at_most(share(cases, is_out), 0.06, cases)

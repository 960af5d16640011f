"""The reorder level against the Poisson distribution of scipy, and the worked example of the trade."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import poisson

from upkeep.planning.shelf.demand import times_within
from upkeep.planning.shelf.kits import Wanted, shared_out
from upkeep.planning.shelf.reorder import Coming, Demand, OrderPlan, chance_at_most, order_plan, reorder_level

TODAY = date(2026, 3, 2)


@pytest.mark.parametrize(
    ("weekly", "service", "level"), [(1.4, 0.95, 17), (1.4, 0.99, 20), (0.15, 0.95, 3), (0, 0.95, 0)]
)
def test_the_worked_example(weekly: float, service: float, level: int) -> None:
    """Common practice, computed from the Poisson distribution: 8 weeks of lead time."""
    assert reorder_level(weekly * 8, service) == level


@given(mean=st.floats(0.01, 3000), service=st.sampled_from([0.5, 0.9, 0.95, 0.99]))
def test_the_level_is_the_quantile_of_the_distribution(mean: float, service: float) -> None:
    """scipy.stats.poisson, where the chance does not lie on the edge of a float."""
    level = reorder_level(mean, service)
    assert poisson.cdf(level, mean) >= service - 1e-9
    assert level == 0 or poisson.cdf(level - 1, mean) < service + 1e-9
    assert chance_at_most(level, mean) == pytest.approx(poisson.cdf(level, mean), abs=1e-9)


def _plan(
    stock: int, weekly: float, coming: int = 0, least: int = 0, pack: int = 1, lead_days: int = 56
) -> OrderPlan:  # fmt: skip
    due = [Coming(TODAY, coming)] if coming else []
    return order_plan(
        stock, due, Demand(weekly, None), lead_days=lead_days, service=95, least=least, pack=pack, today=TODAY
    )


def test_what_stands_at_its_level_is_ordered_today() -> None:
    assert _plan(17, 1.4).is_due(TODAY)
    later = _plan(24, 1.4)
    assert (later.level, later.order_by) == (17, date(2026, 4, 6)), "7 more than the level, at 1.4 a week: 5 weeks"


def test_what_is_coming_counts_with_what_lies_there() -> None:
    assert not _plan(10, 1.4, coming=14).is_due(TODAY)
    assert _plan(10, 1.4, coming=14).position == 24


def test_nothing_used_and_nothing_kept_is_not_ordered() -> None:
    assert _plan(0, 0).order_by is None
    assert (_plan(1, 0, least=2).number, _plan(2, 0, least=2).order_by) == (1, None)


def test_orders_come_in_whole_boxes() -> None:
    assert _plan(0, 10, pack=100).number % 100 == 0


def test_the_higher_of_forecast_and_past_is_planned_with() -> None:
    assert Demand(0.5, 0.2).weekly == 0.5
    assert Demand(0.1, 0.2).weekly == 0.2
    assert Demand(None, None).weekly == 0


@given(st.integers(0, 400), st.floats(0.5, 90), st.integers(0, 400))
def test_times_are_counted_as_a_calendar_counts_them(first: int, every: float, until: int) -> None:
    days = [first + n * every for n in range(1000) if first + n * every <= until + 1e-9]
    told = times_within(date.fromordinal(10**5 + first), every, date.fromordinal(10**5 + until))
    assert abs(told - len(days)) <= 1


_amounts = st.dictionaries(st.sampled_from("ABC"), st.integers(0, 9))


@given(st.lists(_amounts, max_size=6), _amounts)
def test_nothing_is_promised_twice(jobs: list[dict[str, int]], stock: dict[str, int]) -> None:
    """What all jobs take off the shelf is never more than lies there, and short is what is missing."""
    shared = shared_out([Wanted(str(n), parts, {}) for n, parts in enumerate(jobs)], stock)
    for spare in "ABC":
        taken = [one.there for row in shared for one in row if one.spare == spare]
        wanted = sum(job.get(spare, 0) for job in jobs)
        assert sum(taken) == min(wanted, stock.get(spare, 0))
    assert all(one.short >= 0 for row in shared for one in row)

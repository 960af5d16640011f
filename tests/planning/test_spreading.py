"""First days of recurring work: on small years every choice there is, on large ones the bound."""

from __future__ import annotations

from itertools import product
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from upkeep.planning.year.spreading import Recurring, least_busiest, spread, together

DAYS = 260


def works(number: int, seed: int) -> list[Recurring]:
    """An invented plant: daily to yearly work of 5 to 90 minutes, a tenth of it on days it has already."""
    chance = Random(seed)
    made = []
    for n in range(number):
        every = chance.choice([5, 5, 10, 21, 21, 63, 130, 260])
        first = chance.randrange(every) if chance.random() < 0.1 else None
        made.append(Recurring(f"line-{n}", chance.choice([5, 10, 12, 20, 30, 45, 60, 90]), every, first))
    return made


def busiest(made: list[Recurring], firsts: tuple[int, ...], days: int) -> float:
    """The minutes of the busiest week, added up the plain way."""
    weeks = [0.0] * ((days + 4) // 5)
    for work, first in zip(made, firsts, strict=True):
        for day in range(first, days, work.every):
            weeks[day // 5] += work.minutes
    return max(weeks)


def test_a_thousand_tasks_are_level_within_one_percent_of_the_bound() -> None:
    """Begun together the busiest week has more than twice as much."""
    made = works(1000, 7)
    found = spread(made, DAYS)
    assert found.busiest == busiest(made, found.firsts, DAYS)
    assert found.bound <= found.busiest <= 1.01 * found.bound
    assert max(together(made, DAYS)) > 2 * found.busiest
    assert spread(made, DAYS) == found


@given(seed=st.integers(0, 10**6))
@settings(max_examples=15)
def test_on_small_years_it_is_near_the_best_there_is(seed: int) -> None:
    """Four works over four weeks, every choice of first days looked at: no bound above the best, which is kept to
    within the largest single job."""
    chance = Random(seed)
    made = [Recurring(f"l{n}", chance.choice([10, 20, 30]), chance.choice([5, 10])) for n in range(4)]
    best = min(busiest(made, firsts, 20) for firsts in product(*(range(work.every) for work in made)))
    found = spread(made, 20)
    assert found.bound <= best <= found.busiest <= best + max(work.minutes for work in made)


@given(seed=st.integers(0, 10**6))
@settings(max_examples=20)
def test_what_has_a_day_keeps_it_and_nothing_begins_later_than_it_may(seed: int) -> None:
    chance = Random(seed)
    made = [
        Recurring(work.line, work.minutes, work.every, work.first, chance.choice([None, 0, 3, 400]))
        for work in works(30, seed)
    ]
    for work, first in zip(made, spread(made, DAYS).firsts, strict=True):
        if work.first is not None:
            assert first == work.first
        else:
            assert 0 <= first < work.every
            assert work.latest is None or first <= work.latest


def test_no_work_is_level() -> None:
    assert spread([], DAYS).gap == 0
    assert least_busiest([], DAYS) == 0

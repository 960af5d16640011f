"""How often faults that come by chance ask for a root cause, and how soon one that is left alone does: simulated."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from random import Random

import pytest

from tests.rates import at_least, at_most, share
from upkeep.plant.values.facts import PlantFacts
from upkeep.quality.repairs import Earlier, repeat_of

BEGIN = datetime(2026, 1, 1, tzinfo=UTC)
FACTS = PlantFacts()


def asks(faults: list[Earlier]) -> bool:
    """Whether one of some faults, each looked at when it comes, asks for its root cause."""
    return any(repeat_of(faults[:n], faults[n - 1].at, FACTS, analysed=False) for n in range(1, len(faults) + 1))


def faults(random: Random, every: float, days: float) -> list[Earlier]:
    """Faults of one symptom that come by chance, once in so many days."""
    found: list[Earlier] = []
    day = random.expovariate(1 / every)
    while day <= days:
        found.append(Earlier(len(found) + 1, BEGIN + timedelta(days=day), None))
        day += random.expovariate(1 / every)
    return found


@pytest.fixture
def cases(long: bool) -> int:
    """How many items are drawn."""
    return 20_000 if long else 1_000


@pytest.mark.parametrize(("every", "wanted"), [(90, 0.04), (60, 0.11)])
def test_faults_by_chance_seldom_ask_for_a_root_cause_within_a_year(every: int, wanted: float, cases: int) -> None:
    """One symptom of one item once in 90 days: 4 in 100."""
    assert at_most(share(cases, lambda random: asks(faults(random, every, 365))), wanted, cases)


def test_a_symptom_that_comes_every_four_days_asks_at_its_third(cases: int) -> None:
    """In 87 of 100 cases."""
    assert at_least(share(cases, lambda random: asks(faults(random, 4, 365)[:3])), 0.865, cases)

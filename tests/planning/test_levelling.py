"""Levelling against plain enumeration: on small weeks every plan there is, on large ones the bound of the search."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from upkeep.answers.planned.solving import solved
from upkeep.planning.levelling.apart import plan_from, plan_text, problem_from, problem_text
from upkeep.planning.levelling.exact import exact
from upkeep.planning.levelling.greedy import greedy
from upkeep.planning.levelling.levelled import levelled
from upkeep.planning.levelling.problem import CARRIED, FIRST, PLAIN, Job, Problem, Slot
from upkeep.planning.levelling.rules import broken, cost, loads, turn_loads


def week(jobs: int, people: int, turns: int, seed: int, minutes: int = 360) -> Problem:
    """An invented week: four trades, presses of eight jobs each, windows and weights by chance."""
    chance = Random(seed)
    names = [f"p{number}" for number in range(people)]
    trades = [frozenset(chance.sample(names, k=chance.randint(1, people))) for _ in range(4)]
    slots = tuple(Slot(name, turn, minutes) for turn in range(turns) for name in names)
    presses = max(2, jobs // 8)
    made = []
    for row in range(1, jobs + 1):
        opens = chance.choice([0, 0, 0, chance.randrange(turns)])
        due = min(turns - 1, opens + chance.randrange(turns))
        hard = chance.random() < 0.15
        weight = FIRST if hard else CARRIED if chance.random() < 0.1 else PLAIN
        made.append(
            Job(row, f"line-{row}", f"P-{chance.randrange(presses)}", chance.choice([3, 5, 10, 15, 20, 30, 40]),
                chance.choice(trades), opens, due, due if hard else None, weight, chance.random() < 0.6)
        )  # fmt: skip
    standing = frozenset((f"P-{press}", turn) for press in range(presses) for turn in range(turns) if press % 3 == 0)
    return Problem(tuple(made), slots, 3, 5, standing)


def cheapest(problem: Problem) -> int:
    """The least that any plan costs which keeps all rules: each one there is is looked at."""
    ways = product(*([None, *choices] for choices in problem.choices))
    return min(cost(problem, plan) for plan in ways if not any(broken(problem, plan)))


@given(seed=st.integers(0, 10**6))
@settings(max_examples=8)
def test_on_small_weeks_no_plan_costs_less(seed: int) -> None:
    """Four jobs, two people, two turns, and hours so short that not all find room: 625 plans at most."""
    problem = week(4, 2, 2, seed, minutes=50)
    made = levelled(problem)
    assert not list(broken(problem, made.plan))
    assert made.cost == cost(problem, made.plan)
    least = cheapest(problem)
    assert made.bound <= least + 0.5
    assert (
        made.cost == least or made.cost - made.bound > 0.5
    )  # where people do not fit as the search took them, it says so
    assert made.cost <= cost(problem, greedy(problem))


def test_small_weeks_are_proven_nearly_always() -> None:
    """What the search leaves open, because hours of people are no heap, is the exception."""
    weeks = [week(4, 2, 2, seed, 50) for seed in range(10)]
    assert sum(levelled(problem).cost == cheapest(problem) for problem in weeks) >= 9


def test_a_week_of_demo_size_is_proven() -> None:
    """90 jobs, 10 shifts, 5 people: no plan costs less, and the answer says so."""
    made = levelled(week(90, 5, 10, 1))
    assert made.gap == 0.0
    assert made.made == "exact"


def test_a_large_week_is_within_the_gap() -> None:
    """300 jobs x 10 shifts x 6 people: half a percent at most, by the bound of the search."""
    problem = week(300, 6, 10, 1)
    made = levelled(problem)
    assert made.gap <= 0.005
    assert not list(broken(problem, made.plan))


def test_the_same_week_gives_the_same_plan() -> None:
    """In this process and in one of its own, whatever HiGHS writes meanwhile."""
    problem = week(40, 4, 6, 3)
    assert levelled(problem) == levelled(problem) == solved(problem)


def test_a_search_that_finds_nothing_leaves_the_simple_rule(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no node is allowed there may be no plan: then the greedy one stands, with its gap."""
    problem = week(30, 3, 4, 5)
    found = exact(problem, 0.0, 1)
    monkeypatch.setattr("upkeep.planning.levelling.levelled.exact", lambda *_: type(found)(None, found.bound))
    made = levelled(problem)
    assert made.made == "greedy"
    assert made.plan == greedy(problem)
    assert not list(broken(problem, made.plan))


def test_hard_windows_come_first_then_what_was_carried_over() -> None:
    """Room for two of three jobs: the plain one waits."""
    jobs = [
        Job(1, "plain", "A", 20, frozenset({"p"}), 0, 0),
        Job(2, "carried", "B", 20, frozenset({"p"}), 0, 0, None, CARRIED),
        Job(3, "law", "C", 20, frozenset({"p"}), 0, 0, 0, FIRST),
    ]
    made = levelled(Problem(tuple(jobs), (Slot("p", 0, 50),)))
    assert made.plan == (None, 0, 0)


def test_jobs_of_a_press_share_a_stop_that_is_there_anyway() -> None:
    """Three jobs on a press that stands in the third turn: all of them wait for it."""
    jobs = tuple(Job(row, f"j{row}", "P-1", 10, frozenset({"p"}), 0, 3, None, PLAIN, True) for row in (1, 2, 3))
    slots = tuple(Slot("p", turn, 100) for turn in range(4))
    made = levelled(Problem(jobs, slots, standing=frozenset({("P-1", 2)})))
    assert made.plan == (2, 2, 2)


def test_a_level_week_has_a_lower_peak_than_one_done_as_it_falls_due() -> None:
    """40 jobs that all open on the first turn and fit anywhere: unlevelled they would all be done then."""
    people = frozenset({"p", "q"})
    jobs = tuple(Job(row, f"j{row}", f"P-{row % 10}", 20, people, 0, 9) for row in range(1, 41))
    slots = tuple(Slot(person, turn, 480) for turn in range(10) for person in sorted(people))
    problem = Problem(jobs, slots, 3, 5)
    made = levelled(problem)
    at_once = tuple(0 if row % 2 else 1 for row in range(40))
    assert max(turn_loads(problem, made.plan)) < max(turn_loads(problem, at_once)) / 4
    assert sum(loads(problem, made.plan).values()) == 40 * 23


def test_a_problem_and_its_plan_come_through_as_they_went() -> None:
    """As JSON between two processes."""
    problem = week(12, 3, 4, 9)
    again = problem_from(problem_text(problem))
    assert (again.jobs, again.slots, again.standing) == (problem.jobs, problem.slots, problem.standing)
    made = levelled(again)
    assert plan_from(plan_text(made)) == made

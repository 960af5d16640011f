"""The better of two plans of the same problem, and how far it may be from the best there is."""

from __future__ import annotations

from upkeep.frozen import frozen
from upkeep.planning.levelling.exact import exact
from upkeep.planning.levelling.greedy import greedy
from upkeep.planning.levelling.problem import Placed, Problem
from upkeep.planning.levelling.rules import broken, cost

PROVEN_UP_TO = 150
"""Jobs up to which the best plan is looked for until it is proven (plant default, no source)."""

GAP = 0.005
"""The gap at which a larger search ends (plant default, no source)."""

NODES = 2000
"""Nodes of the search after which it ends as it is (plant default, no source)."""


@frozen
class Levelled:
    """A plan, its cost, the least that any plan can cost, and which way it was made: "exact" or "greedy"."""

    plan: Placed
    cost: int
    bound: float
    made: str

    @property
    def gap(self) -> float:
        """The most by which a better plan could be cheaper, as a share of the cost; 0: there is none."""
        return max(0.0, self.cost - self.bound) / self.cost if self.cost >= self.bound + 1 else 0.0


def levelled(problem: Problem) -> Levelled:
    """The plan of a problem: the same problem gives the same plan."""
    if not problem.jobs:
        return Levelled((), 0, 0.0, "exact")
    first = greedy(problem)
    searched = exact(problem, 0.0 if len(problem.jobs) <= PROVEN_UP_TO else GAP, NODES)
    plan = searched.plan
    if plan is not None and not any(broken(problem, plan)) and cost(problem, plan) <= cost(problem, first):
        return Levelled(plan, cost(problem, plan), searched.bound, "exact")
    return Levelled(first, cost(problem, first), searched.bound, "greedy")

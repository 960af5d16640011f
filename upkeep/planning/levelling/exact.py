"""A plan by integer programming (scipy.optimize.milp, which is HiGHS): as good as can be, and how sure that is.

What a plan costs depends on the turns of its jobs and not on who does them, so the search goes by turns: one binary
variable a job and turn, one a job left out, one a visit of a place and one a stop of a press in a turn.  People come
in as Hall's condition: whatever work can only be done by some of them takes no more than their minutes.  Then
:mod:`upkeep.planning.levelling.hands` gives the jobs of each turn to people.  Where all of them find somebody, the
least cost of the search is that of the whole problem; where not, it is still one that no plan can go below.

A search ends when the plan is proven to be within the gap asked for, or after a number of nodes: never by the clock,
for then the plan would depend on the machine.
"""

from __future__ import annotations

from itertools import combinations
from typing import Any

from upkeep.frozen import frozen
from upkeep.planning.levelling.hands import handed_out
from upkeep.planning.levelling.problem import Placed, Problem
from upkeep.planning.levelling.rules import SCALE, STOP, VISIT, cost_in_turn, cost_of_job, stopped

_Terms = list[tuple[int, float]]
"""Variables by their number, each with its factor."""

MOST_GROUPS = 200
"""Groups of people for which Hall's condition is written: there are more only where hardly two jobs are for the same
people, and then the bound is a little lower than it could be."""


@frozen
class Found:
    """The best plan a search found (None: none before it ended), and the least that any plan can cost."""

    plan: Placed | None
    bound: float


class Model:
    """The arrays of a problem, as ``scipy.optimize.milp`` takes them; rows are collected sparse."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._costs: list[int] = []
        self._rows: list[int] = []
        self._columns: list[int] = []
        self._values: list[float] = []
        self._lower: list[float] = []
        self._upper: list[float] = []
        self._placed = self._placing()
        self._visits: dict[tuple[str, int], int] = {}
        self._stops: dict[tuple[str, int], int] = {}
        self._joining()
        self._people()
        self._hours()

    def _variable(self, cost: int) -> int:
        self._costs.append(cost)
        return len(self._costs) - 1

    def _row(self, terms: _Terms, upper: float, lower: float = -float("inf")) -> None:
        for column, value in terms:
            self._rows.append(len(self._lower))
            self._columns.append(column)
            self._values.append(value)
        self._lower.append(lower)
        self._upper.append(upper)

    def _placing(self) -> dict[tuple[int, int], int]:
        """Each job goes into one turn, or is left out; gives the variable of each job and turn."""
        placed = {}
        for at in range(len(self.problem.jobs)):
            terms = [(self._variable(cost_of_job(self.problem, at, None)), 1.0)]
            for turn in sorted({self.problem.slots[number].turn for number in self.problem.choices[at]}):
                placed[at, turn] = self._variable(cost_in_turn(self.problem, at, turn))
                terms.append((placed[at, turn], 1.0))
            self._row(terms, 1, 1)
        return placed

    def _joining(self) -> None:
        """A job in a turn asks for a visit of its place then, and perhaps for a stop of its press."""
        for (at, turn), column in self._placed.items():
            job = self.problem.jobs[at]
            self._row([(column, 1.0), (self._asked(self._visits, (job.place, turn), VISIT), -1.0)], 0)
            stop = stopped(self.problem, job, turn)
            if stop is not None:
                self._row([(column, 1.0), (self._asked(self._stops, stop, STOP), -1.0)], 0)

    def _asked(self, known: dict[tuple[str, int], int], key: tuple[str, int], cost: int) -> int:
        if key not in known:
            known[key] = self._variable(SCALE * cost)
        return known[key]

    def _people(self) -> None:
        """In no turn do jobs that are for some people only take more than the minutes of these."""
        for group in _groups(self.problem):
            terms: dict[int, _Terms] = {}
            for (at, turn), column in self._placed.items():
                if self.problem.jobs[at].who <= group:
                    terms.setdefault(turn, []).append((column, float(self.problem.takes(self.problem.jobs[at]))))
            for turn, work in terms.items():
                there = (slot.minutes for slot in self.problem.slots if slot.turn == turn and slot.person in group)
                self._row(work, sum(there))

    def _hours(self) -> None:
        """No turn holds more than there is in it, set-ups with it."""
        turns: dict[int, _Terms] = {}
        for (at, turn), column in self._placed.items():
            turns.setdefault(turn, []).append((column, float(self.problem.takes(self.problem.jobs[at]))))
        for (_, turn), column in self._visits.items():
            turns[turn].append((column, float(self.problem.set_up)))
        for turn, terms in sorted(turns.items()):
            self._row(terms, self.problem.hours[turn])

    def arguments(self, gap: float, nodes: int) -> dict[str, Any]:
        """What milp is called with."""
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint
        from scipy.sparse import coo_array

        number = len(self._costs)
        matrix = coo_array((self._values, (self._rows, self._columns)), shape=(len(self._lower), number))
        return {
            "c": np.array(self._costs, dtype=float),
            "integrality": np.ones(number),
            "bounds": Bounds(np.zeros(number), np.ones(number)),
            "constraints": LinearConstraint(matrix.tocsr(), self._lower, self._upper),
            "options": {"mip_rel_gap": gap, "node_limit": nodes},
        }

    def turns(self, values: Any) -> tuple[int | None, ...]:
        """The turn of each job that values of the variables stand for; None: it is left out."""
        chosen: list[int | None] = [None] * len(self.problem.jobs)
        for (at, turn), column in self._placed.items():
            if values[column] > 0.5:
                chosen[at] = turn
        return tuple(chosen)


def _groups(problem: Problem) -> list[frozenset[str]]:
    """The sets of people that jobs are for, and their unions."""
    alone = sorted({job.who for job in problem.jobs if job.who}, key=lambda who: (len(who), sorted(who)))
    groups = dict.fromkeys(alone)
    for size in range(2, len(alone) + 1):
        for some in combinations(alone, size):
            if len(groups) >= MOST_GROUPS:
                return list(groups)
            groups.setdefault(frozenset().union(*some))
    return list(groups)


def exact(problem: Problem, gap: float, nodes: int) -> Found:
    """The best plan found, proven to within ``gap`` (0.005 is half a percent) where the nodes sufficed."""
    from scipy.optimize import milp

    model = Model(problem)
    found = milp(**model.arguments(gap, nodes))
    bound = float(found.mip_dual_bound) if found.mip_dual_bound is not None else 0.0
    return Found(None if found.x is None else handed_out(problem, model.turns(found.x)), bound)

"""Jobs whose turns are settled, given to people: each job to somebody who may do it and has the minutes left."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from upkeep.planning.levelling.greedy import mended
from upkeep.planning.levelling.problem import Placed, Problem
from upkeep.planning.levelling.rules import SCALE, UNPLACED

_NODES = 500
"""Nodes of the search of one turn after which it ends as it is."""


def handed_out(problem: Problem, turns: Sequence[int | None]) -> Placed:
    """A slot for each job, in its turn where somebody has the minutes then, else where that costs least.

    Within a turn the jobs with the fewest who may do them come first, of these the longest; each goes to whoever is
    already at its place, and else to whoever has most minutes left, so that one person does all of a stop.  A turn in
    which that finds nobody for a job is searched for a better way.
    """
    given: list[int | None] = [None] * len(problem.jobs)
    for turn in sorted({turn for turn in turns if turn is not None}):
        jobs = [at for at, chosen in enumerate(turns) if chosen == turn]
        found = _in_order(problem, turn, jobs)
        if len(found) < len(jobs):
            found = _searched(problem, turn, jobs)
        for at, number in found.items():
            given[at] = number
    return mended(problem, tuple(given))


def _in_order(problem: Problem, turn: int, jobs: Sequence[int]) -> Mapping[int, int]:
    left = {number: slot.minutes for number, slot in enumerate(problem.slots) if slot.turn == turn}
    at_place: dict[str, set[int]] = {}
    given = {}
    for at in sorted(jobs, key=lambda at: (len(problem.jobs[at].who), -problem.jobs[at].minutes, problem.jobs[at].row)):
        job, takes = problem.jobs[at], problem.takes(problem.jobs[at])
        there = at_place.setdefault(job.place, set())
        free = [number for number in problem.choices[at] if number in left and left[number] >= takes]
        if free:
            number = min(free, key=lambda number: (number not in there, -left[number], number))
            given[at] = number
            left[number] -= takes
            there.add(number)
    return given


def _searched(problem: Problem, turn: int, jobs: Sequence[int]) -> Mapping[int, int]:
    """The same by integer programming: as much weight as can be finds somebody, in the order of people."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    pairs = [(at, number) for at in jobs for number in problem.choices[at] if problem.slots[number].turn == turn]
    cost = [number - SCALE * UNPLACED * problem.jobs[at].weight for at, number in pairs]
    numbers = sorted({number for _, number in pairs})
    once = np.array([[float(at == job) for at, _ in pairs] for job in jobs])
    minutes = np.array(
        [[problem.takes(problem.jobs[at]) * float(number == slot) for at, number in pairs] for slot in numbers]
    )
    found = milp(
        c=np.array(cost, dtype=float),
        integrality=np.ones(len(pairs)),
        bounds=Bounds(np.zeros(len(pairs)), np.ones(len(pairs))),
        constraints=[
            LinearConstraint(once, -np.inf, 1),
            LinearConstraint(minutes, -np.inf, [problem.slots[number].minutes for number in numbers]),
        ],
        options={"mip_rel_gap": 0.0, "node_limit": _NODES},
    )
    if found.x is None:
        return _in_order(problem, turn, jobs)
    return {at: number for (at, number), value in zip(pairs, found.x, strict=True) if value > 0.5}

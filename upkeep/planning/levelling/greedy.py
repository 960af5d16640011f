"""A plan made by hand's rule: the heaviest and most pressing job first, each where it costs least at that moment."""

from __future__ import annotations

from collections import Counter

from upkeep.planning.levelling.problem import Job, Placed, Problem
from upkeep.planning.levelling.rules import SCALE, STOP, VISIT, cost_of_job, stopped

SWEEPS = 3
"""How often all jobs are taken up once more and put where they then cost least."""


def greedy(problem: Problem) -> Placed:
    """A plan that keeps all rules, soon; the same problem gives the same plan."""
    made = _Making(problem)
    order = sorted(range(len(problem.jobs)), key=lambda at: _pressing(problem.jobs[at]))
    for at in order:
        made.put(at)
    for _ in range(SWEEPS):
        if not sum(made.again(at) for at in order):
            break
    return tuple(made.plan)


def mended(problem: Problem, plan: Placed) -> Placed:
    """A plan with what it leaves out put where that costs least, as far as there is room."""
    made = _Making(problem)
    for at, number in enumerate(plan):
        if number is not None:
            made.move(at, number, 1)
    left_out = [at for at, number in enumerate(plan) if number is None]
    for at in sorted(left_out, key=lambda at: _pressing(problem.jobs[at])):
        made.put(at)
    return tuple(made.plan)


def _pressing(job: Job) -> tuple[int, int, int, int]:
    end = job.due if job.closes is None else job.closes
    return -job.weight, end, -job.minutes, job.row


class _Making:
    """A plan under way with its sums, so that one more job costs a look at its own slots."""

    def __init__(self, problem: Problem) -> None:
        self._problem = problem
        self.plan: list[int | None] = [None] * len(problem.jobs)
        self._load: Counter[int] = Counter()
        self._turns = [0] * problem.turns
        self._visits: Counter[tuple[str, int]] = Counter()
        self._stops: Counter[tuple[str, int]] = Counter()

    def put(self, at: int) -> None:
        """Places a job where it costs least; leaves it out where it has no room."""
        number = self._cheapest(at)
        if number is not None:
            self.move(at, number, 1)

    def again(self, at: int) -> bool:
        """Takes a job up and places it anew; whether it went elsewhere."""
        before = self.plan[at]
        if before is not None:
            self.move(at, before, -1)
        self.put(at)
        return self.plan[at] != before

    def _cheapest(self, at: int) -> int | None:
        problem, job = self._problem, self._problem.jobs[at]
        best: tuple[int, int] | None = None
        for number in problem.choices[at]:
            slot = problem.slots[number]
            adds = self._adds(job, slot.turn)
            if self._load[number] + problem.takes(job) > slot.minutes:
                continue
            if self._turns[slot.turn] + adds <= problem.hours[slot.turn]:
                asked = cost_of_job(problem, at, number) + SCALE * self._beside(job, slot.turn), number
                best = asked if best is None else min(best, asked)
        return None if best is None else best[1]

    def _adds(self, job: Job, turn: int) -> int:
        """The minutes a job adds to a turn: the set-up with the first job of a place."""
        return self._problem.takes(job) + (0 if self._visits[job.place, turn] else self._problem.set_up)

    def _beside(self, job: Job, turn: int) -> int:
        """What it adds in visits and stops."""
        stop = stopped(self._problem, job, turn)
        visit = 0 if self._visits[job.place, turn] else VISIT
        return visit + (STOP if stop is not None and not self._stops[stop] else 0)

    def move(self, at: int, number: int, sign: int) -> None:
        """Puts a job into a slot (1), or takes it out of the one it is in (-1)."""
        job, turn = self._problem.jobs[at], self._problem.slots[number].turn
        if sign < 0:
            self._visits[job.place, turn] -= 1
        self._turns[turn] += sign * self._adds(job, turn)
        if sign > 0:
            self._visits[job.place, turn] += 1
        self.plan[at] = number if sign > 0 else None
        self._load[number] += sign * self._problem.takes(job)
        stop = stopped(self._problem, job, turn)
        if stop is not None:
            self._stops[stop] += sign

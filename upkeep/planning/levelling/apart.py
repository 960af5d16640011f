"""Levelling in a process of its own: ``python -m upkeep.planning.levelling.apart``, a problem in, a plan out, as JSON.

HiGHS writes stray lines on its standard output and takes as many threads as it finds processors.  So whoever asks
starts this; what was standard output goes nowhere, the answer goes out by the descriptor kept for it, and the process
keeps to one processor where the system lets it.
"""

from __future__ import annotations

import json
import os
import sys

from upkeep.planning.levelling.levelled import Levelled, levelled
from upkeep.planning.levelling.problem import Job, Problem, Slot


def problem_text(problem: Problem) -> str:
    """A problem as JSON."""
    jobs = [
        [job.row, job.line, job.place, job.minutes, sorted(job.who), job.opens, job.due, job.closes, job.weight,
         job.stops]
        for job in problem.jobs
    ]  # fmt: skip
    slots = [[slot.person, slot.turn, slot.minutes] for slot in problem.slots]
    return json.dumps([jobs, slots, problem.between, problem.set_up, sorted(problem.standing)])


def problem_from(text: str) -> Problem:
    """A problem from its JSON."""
    jobs, slots, between, set_up, standing = json.loads(text)
    return Problem(
        tuple(_job(*job) for job in jobs),
        tuple(Slot(*slot) for slot in slots),
        between,
        set_up,
        frozenset((place, turn) for place, turn in standing),
    )


def _job(
    row: int, line: str, place: str, minutes: int, who: list[str], opens: int, due: int, closes: int | None,
    weight: int, stops: bool,
) -> Job:  # fmt: skip
    return Job(row, line, place, minutes, frozenset(who), opens, due, closes, weight, stops)


def plan_text(made: Levelled) -> str:
    """What was found, as JSON."""
    return json.dumps([made.plan, made.cost, made.bound, made.made])


def plan_from(text: str) -> Levelled:
    """What was found, from its JSON."""
    plan, cost, bound, made = json.loads(text)
    return Levelled(tuple(plan), cost, bound, made)


def main() -> None:
    """Reads a problem and writes its plan."""
    answer = os.dup(1)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    made = levelled(problem_from(sys.stdin.read()))
    with os.fdopen(answer, "w", encoding="ascii") as out:
        out.write(plan_text(made))


if __name__ == "__main__":
    main()

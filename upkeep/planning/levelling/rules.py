"""What a plan costs, and which rules it breaks: plain sums, by which every way of making one is judged.

The costs are whole numbers, so that two plans are equal or are not, whatever machine adds them up.  All are plant
defaults, no source: they only say what comes before what.  A job that is not placed costs most, by its weight; then
each turn behind its due one; then a stop of a press that would have run; then each visit of a place; then each turn
between where it lies and where it would lie in a level week (:attr:`upkeep.planning.levelling.problem.Problem.wanted`).
The last term breaks ties: of two jobs alike the lower row comes first.

Why a wanted turn and not the minutes above an even spread: with those the search could not prove a week of 84 jobs in
20 s of work, and without them it is proven at once.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from upkeep.planning.levelling.problem import Job, Placed, Problem

UNPLACED = 2000
LATE = 40
STOP = 30
VISIT = 3
AWAY = 1
SCALE = 1000
"""One of any of the costs above is worth so many of the last term, which all jobs together never reach."""


def cost_of_job(problem: Problem, at: int, number: int | None) -> int:
    """What a job, by its place in the problem, costs in a slot or unplaced, in parts of :data:`SCALE`."""
    if number is None:
        return SCALE * UNPLACED * problem.jobs[at].weight
    return cost_in_turn(problem, at, problem.slots[number].turn)


def cost_in_turn(problem: Problem, at: int, turn: int) -> int:
    """What a job costs in a turn, whoever does it, in parts of :data:`SCALE`."""
    job = problem.jobs[at]
    main = AWAY * abs(turn - problem.wanted[at]) + LATE * job.weight * max(0, turn - job.due)
    return SCALE * main + _tie(problem, job, turn)


def _tie(problem: Problem, job: Job, turn: int) -> int:
    """A lower row costs more the later its turn, so it comes first; below :data:`SCALE` for all jobs together."""
    most = (SCALE - 1) // len(problem.jobs)
    last = max(other.row for other in problem.jobs) + 1
    return (last - job.row) * turn * most // (last * problem.turns)


def stopped(problem: Problem, job: Job, turn: int) -> tuple[str, int] | None:
    """The stop of a press that a job in a turn asks for; None: it needs none, or the press stands anyway."""
    stop = job.place, turn
    return stop if job.stops and stop not in problem.standing else None


def loads(problem: Problem, plan: Placed) -> Counter[int]:
    """The minutes that the jobs of each slot take."""
    minutes: Counter[int] = Counter()
    for job, slot in _placed(problem, plan):
        minutes[slot] += problem.takes(job)
    return minutes


def visits(problem: Problem, plan: Placed) -> set[tuple[str, int]]:
    """The places where something is done, each with the turn in which it is."""
    return {(job.place, problem.slots[number].turn) for job, number in _placed(problem, plan)}


def stops(problem: Problem, plan: Placed) -> set[tuple[str, int]]:
    """The stops of presses that would have run, each with its turn."""
    asked = (stopped(problem, job, problem.slots[number].turn) for job, number in _placed(problem, plan))
    return {stop for stop in asked if stop is not None}


def turn_loads(problem: Problem, plan: Placed) -> list[int]:
    """The minutes of work in each turn, set-ups with them."""
    minutes = [0] * problem.turns
    for number, load in loads(problem, plan).items():
        minutes[problem.slots[number].turn] += load
    for _, turn in visits(problem, plan):
        minutes[turn] += problem.set_up
    return minutes


def cost(problem: Problem, plan: Placed) -> int:
    """What a plan costs, in parts of :data:`SCALE`."""
    jobs = sum(cost_of_job(problem, at, number) for at, number in enumerate(plan))
    return jobs + SCALE * (STOP * len(stops(problem, plan)) + VISIT * len(visits(problem, plan)))


def broken(problem: Problem, plan: Placed) -> Iterator[str]:
    """Each rule that a plan breaks, in plain words for a test or a log; a plan that keeps all gives none."""
    for job, number in _placed(problem, plan):
        slot = problem.slots[number]
        if slot.person not in job.who:
            yield f"{job.line}: {slot.person} may not do it"
        if not job.may_be_in(slot.turn):
            yield f"{job.line}: turn {slot.turn} is outside its window"
    for number, minutes in loads(problem, plan).items():
        if minutes > problem.slots[number].minutes:
            yield f"{problem.slots[number]}: {minutes} min are more than there are"
    for turn, (load, there) in enumerate(zip(turn_loads(problem, plan), problem.hours, strict=True)):
        if load > there:
            yield f"turn {turn}: {load} min with set-ups are more than {there}"


def _placed(problem: Problem, plan: Placed) -> Iterator[tuple[Job, int]]:
    return ((job, number) for job, number in zip(problem.jobs, plan, strict=True) if number is not None)

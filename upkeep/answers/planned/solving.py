"""Asks for the plan of a problem in a process of its own."""

from __future__ import annotations

import subprocess
import sys

from upkeep.errors import Refused
from upkeep.planning.levelling.apart import plan_from, problem_text
from upkeep.planning.levelling.levelled import Levelled
from upkeep.planning.levelling.problem import Problem
from upkeep.said import said


def solved(problem: Problem) -> Levelled:
    """The plan of a problem; raises :class:`Refused` where the process ends without one."""
    if not problem.jobs:
        return Levelled((), 0, 0.0, "exact")
    done = subprocess.run(
        [sys.executable, "-m", "upkeep.planning.levelling.apart"],
        input=problem_text(problem), capture_output=True, text=True, check=False,
    )  # fmt: skip
    if done.returncode or not done.stdout:
        raise Refused(
            said(
                "The week could not be levelled: the process that does it ended with {code}. Nothing was written. "
                "Plan by hand with 'strokebook plan-job', or ask again.",
                code=done.returncode,
            )
        )
    return plan_from(done.stdout)

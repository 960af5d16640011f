"""``python3 -m tests``: makes the environment, then runs the whole suite, or what arguments for pytest pick from it."""

import os
import sys

from demo_plant.environment import ROOT, EnvironmentProblem, become, environment
from tests.environment import TESTS
from tests.oracles import make_oracles

# One worker a file: tests that share a costly book stay together.
WHOLE_SUITE = ("-n", "2", "--dist", "loadfile")

if __name__ == "__main__":
    os.chdir(ROOT)
    try:
        make_oracles(environment(TESTS))
    except EnvironmentProblem as problem:
        sys.exit(str(problem))
    become("python", ["-m", "pytest", *(sys.argv[1:] or WHOLE_SUITE)])

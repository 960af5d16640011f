"""``python3 -m tests``: makes the environment, then runs the whole suite, or what arguments for pytest pick from it.

``python3 -m tests --on 2028-02-29T02:30`` does so with the clock moved there, ``--on awkward`` on each of the days in
:mod:`tests.days`; what else is written goes to pytest.
"""

import os
import sys

from demo_plant.environment import ROOT, SCRIPTS, EnvironmentProblem, become, environment
from tests.days import NoSuchDay, moments, run_at
from tests.environment import TESTS
from tests.oracles import make_oracles

# One worker a file: tests that share a costly book stay together.  Many wait for a terminal, a browser or a disk: three
# workers keep two processors busy.
WORKERS = min((os.cpu_count() or 2) + 1, 8)
WHOLE_SUITE = ("-n", str(WORKERS), "--dist", "loadfile")

if __name__ == "__main__":
    os.chdir(ROOT)
    arguments = sys.argv[1:]
    try:
        moved_to = moments("".join(arguments[1:2])) if arguments[:1] == ["--on"] else []
        make_oracles(environment(TESTS))
    except (EnvironmentProblem, NoSuchDay) as problem:
        sys.exit(str(problem))
    if moved_to:
        python = str(environment(TESTS) / SCRIPTS / "python")
        sys.exit(run_at(moved_to, [python, "-m", "pytest", *(arguments[2:] or WHOLE_SUITE)]))
    become("python", ["-m", "pytest", *(arguments or WHOLE_SUITE)])

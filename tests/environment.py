"""``python3 -m tests.environment``: all that whoever changes the program needs, the tools of .ci/run among it."""

from __future__ import annotations

from demo_plant.environment import become

TESTS = "tests/requirements.lock"
"""What the tests import and the program does not."""

CHECKS = ".ci/requirements.lock"
"""What looks through the code: lint, form and types."""

if __name__ == "__main__":
    become("python", ["-c", "import sys; print(sys.prefix)"], TESTS, CHECKS)

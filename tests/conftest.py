"""What holds for all tests, whoever runs them, on whatever machine.

Random examples come from a fixed seed and have no deadline; ``--hypothesis-profile=random`` draws new ones each time,
``=unshrunk`` looks for no smaller example once one fails.
What somebody has set for a terminal or a book of their own does not reach the program.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from unittest.mock import patch

import pytest
from hypothesis import HealthCheck, Phase, settings

from tests.examples import take_many

settings.register_profile(
    "fixed", max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True
)
settings.register_profile("random", settings.get_profile("fixed"), derandomize=False)
settings.register_profile("unshrunk", settings.get_profile("fixed"), phases=[Phase.explicit, Phase.generate])
settings.load_profile("fixed")

for name in ("STROKEBOOK_BOOK", "STROKEBOOK_BY", "STROKEBOOK_TRACE", "NO_COLOR", "FORCE_COLOR", "COLUMNS", "LINES"):
    os.environ.pop(name, None)

os.environ["LANGUAGE"] = "en"  # the terminal of whoever runs the tests may be read in another language


def pytest_configure(config: pytest.Config) -> None:
    """Says how many examples the tests take that are collected now."""
    take_many(bool(config.getoption("--long")))


def pytest_addoption(parser: pytest.Parser) -> None:
    """Adds ``--long``."""
    parser.addoption("--long", action="store_true", help="what is tried at random is tried for minutes")


@pytest.fixture(scope="module")
def quick_hashes() -> Iterator[None]:
    """Codes are hashed with next to no memory and time, for tests whose subject is not how they are hashed."""
    from argon2 import PasswordHasher

    with patch("upkeep.keys.hashing._hasher", return_value=PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)):
        yield


@pytest.fixture(scope="module")
def folder_with_codes(tmp_path_factory: pytest.TempPathFactory, quick_hashes: None) -> Path:
    """A folder with the book of a plant that goes by codes; to be copied."""
    from tests.plants_with_codes import codes_plant

    folder = tmp_path_factory.mktemp("codes")
    codes_plant(folder).close()
    return folder


@pytest.fixture(scope="session")
def demo_month(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A month of the demo plant, built once for all workers of a run; to be copied."""
    from tests.demo_month import month_for_all

    own = tmp_path_factory.getbasetemp()
    return month_for_all(own.parent if hasattr(request.config, "workerinput") else own)


@pytest.fixture
def long(request: pytest.FixtureRequest) -> bool:
    """Whether what is tried at random may take minutes."""
    return bool(request.config.getoption("--long"))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Says how many tests of the pages were left out for want of a browser."""
    left_out = [one for one in terminalreporter.stats.get("skipped", []) if "test_in_a_browser" in one.nodeid]
    if left_out:
        terminalreporter.write_line(
            f"{len(left_out)} tests of the pages in a browser were left out: they need Chromium and Playwright "
            "(python3 -m tests.environment)."
        )

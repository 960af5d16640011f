"""A browser for the tests that need one, and the stations it looks at."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.station.browsers import CHROMIUM, FLAGS, Stations
from tests.station.visitor import Plant, served
from upkeep.station.server.gate import Rates
from upkeep.station.server.run import serving
from upkeep.station.server.setting import Setting

if TYPE_CHECKING:
    from playwright.sync_api import Browser


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """One Chromium for all tests of a file: its loop would be in the way of those that have one of their own."""
    required = os.environ.get("STROKEBOOK_BROWSER") == "required"
    try:
        from playwright.sync_api import sync_playwright
    except ModuleNotFoundError:
        if required:
            raise
        pytest.skip("no Playwright here")
    if not CHROMIUM.exists() and not required:
        pytest.skip(f"no Chromium at {CHROMIUM}")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield started
        started.close()


@pytest.fixture
def stations(tmp_path: Path) -> Iterator[Stations]:
    """A server on a book of its own."""
    with served(tmp_path) as plant:
        clock = plant.clock
    with serving(Setting(plant.path, port=0, clock=clock)) as port:
        yield Stations(Plant(plant.desk, clock, plant.path, Rates()), f"http://localhost:{port}")

"""A real browser: Chromium as the system has it, led by Playwright; a server of its own behind it.

Without a browser the tests that need one are left out, and the end of the run says how many; with
STROKEBOOK_BROWSER=required, as .ci/run has it, they fail.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tests.station.visitor import Plant

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

CHROMIUM = Path(os.environ.get("STROKEBOOK_CHROMIUM", "/usr/bin/chromium"))
FLAGS = [
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
]
PATIENCE_MS = 20_000
"""Ten times what others' changes may take to be seen."""

MM = 96 / 25.4
"""CSS pixels in a millimetre (CSS Values and Units Level 4, 6.2; from memory)."""

TABLET, PHONE = (800, 1280), (360, 800)


class Stations:
    """The address of the stations, and their book."""

    def __init__(self, plant: Plant, address: str) -> None:
        self.plant, self.address = plant, address

    @property
    def kinds(self) -> list[str]:
        """The kinds of the last entries, the newest last."""
        return [line.split()[2] for line in self.plant.lines()]


@contextmanager
def tablet(browser: Browser, size: tuple[int, int] = TABLET, **more: Any) -> Iterator[BrowserContext]:
    """A browser of somebody's own, that tells of every fault and of every request to elsewhere."""
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, has_touch=True, **more)
    context.set_default_timeout(PATIENCE_MS)
    troubles: list[str] = []
    context.on("weberror", lambda error: troubles.append(str(error.error)))
    context.on("request", lambda one: troubles.append(one.url) if "//localhost:" not in one.url else None)
    yield context
    context.close()
    assert troubles == []


def here(context: BrowserContext, stations: Stations, person: str = "ben") -> Page:
    """A page at which somebody has named themselves; the count comes later."""
    page = context.new_page()
    page.goto(f"{stations.address}/at/P-07")
    page.wait_for_selector("#person:focus")
    page.keyboard.type(person)
    page.keyboard.press("Enter")
    page.wait_for_selector("#count:focus")
    page.get_by_text("Count later").tap()
    page.wait_for_selector("ol.rows")
    return page


def until(true: Callable[[], bool]) -> None:
    """Waits for what is going to be true."""
    over = time.monotonic() + PATIENCE_MS / 1000
    while not true() and time.monotonic() < over:
        time.sleep(0.05)
    assert true()


def fits(page: Page) -> None:
    """The page begins at its head, nothing sticks out at the side, and whatever is to be touched is large enough for a
    glove."""
    page.wait_for_load_state()
    assert page.evaluate("window.scrollY") == 0, page.url
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), page.url
    small = page.evaluate(
        """(least) => [...document.querySelectorAll("button, nav a, summary, .row > a, input, .option")]
            .filter((one) => !["radio", "hidden"].includes(one.type) && !one.ariaHidden && one.checkVisibility())
            .filter((one) => one.getBoundingClientRect().height < least).map((one) => one.outerHTML)""",
        20 * MM - 0.5,
    )
    assert small == [], page.url

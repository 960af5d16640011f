"""The pictures of the stations in README.md: ``python -m tests.station.photographed`` makes them anew.

The pages are those of the demo plant's book as README.md has it, in the system's Chromium.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from demo_plant.codes import CODE, give_codes
from tests.clock import Clock
from tests.demo_month import NOW, new_month
from tests.station.browsers import CHROMIUM, FLAGS, TABLET
from upkeep.book import Book
from upkeep.station.server.run import serving
from upkeep.station.server.setting import Setting

PICTURES = Path(__file__).with_name("pictures")
PRESS = "P-03"
GOES_IN = "DS-001"
WALL = (1280, 720)
UPPER_HALF = {"x": 0.0, "y": 0.0, "width": TABLET[0], "height": TABLET[1] / 2}


@contextmanager
def demo_stations() -> Iterator[str]:
    """The address of the stations of the demo plant."""
    with tempfile.TemporaryDirectory() as folder:
        path = new_month(Path(folder))
        with Book.open(path) as book:
            give_codes(book, NOW)
        with serving(Setting(path, port=0, clock=Clock(NOW))) as port:
            yield f"http://localhost:{port}"


def photograph(browser: Browser, address: str, folder: Path) -> None:
    """An operator comes to a press and sees its round; a set-up technician changes tools there; the wall."""
    place = f"{address}/at/{PRESS}"
    page = _tablet(browser)
    _says_who(page, place, "ana")
    page.screenshot(path=folder / "code.png", clip=UPPER_HALF)  # type: ignore[arg-type]
    _proves_it(page)
    page.goto(f"{place}?count=later")
    page.screenshot(path=folder / "round.png")
    page = _tablet(browser)
    _says_who(page, place, "quirin")
    _proves_it(page)
    page.goto(f"{place}/handover")
    page.screenshot(path=folder / "handover.png")
    page.goto(f"{place}/change")
    page.fill("main input[name=scanned]", GOES_IN)
    page.keyboard.press("Enter")
    page.wait_for_selector("main .option")
    page.locator("button.main").click()
    page.wait_for_selector(".next")
    page.screenshot(path=folder / "change.png")
    wall = browser.new_context(viewport={"width": WALL[0], "height": WALL[1]}).new_page()
    wall.goto(f"{address}/wall")
    wall.screenshot(path=folder / "wall.png")


def _tablet(browser: Browser) -> Page:
    return browser.new_context(viewport={"width": TABLET[0], "height": TABLET[1]}).new_page()


def _says_who(page: Page, place: str, person: str) -> None:
    page.goto(f"{place}/who")
    page.fill("#person", person)
    page.keyboard.press("Enter")
    page.wait_for_selector("input[name=secret]")


def _proves_it(page: Page) -> None:
    page.fill("input[name=secret]", CODE)
    page.keyboard.press("Enter")
    page.wait_for_selector("#count, ol.rows")


def main() -> None:
    """Makes all of them."""
    with demo_stations() as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        photograph(browser, address, PICTURES)
        browser.close()


if __name__ == "__main__":
    main()

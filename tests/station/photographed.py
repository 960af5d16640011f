"""The pictures of the stations in README.md: ``python -m tests.station.photographed`` makes them anew.

The pages are those of the demo plant's book as README.md has it, in the system's Chromium.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from demo_plant.build import build
from demo_plant.codes import CODE, give_codes
from tests.clock import Clock
from tests.readme import DAYS, NOW, SEED
from tests.station.browsers import CHROMIUM, FLAGS, TABLET
from upkeep.station.server.run import serving
from upkeep.station.server.setting import Setting

PICTURES = Path(__file__).with_name("pictures")
PHOTOGRAPHED = {"round": "/at/P-02", "handover": "/at/P-02/handover"}
"""Pages at a tablet, by the name of their picture."""
WALL = (1280, 720)


@contextmanager
def demo_stations() -> Iterator[str]:
    """The address of the stations of the demo plant."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "demo.db"
        with build(path, end=NOW, days=DAYS, seed=SEED) as book:
            give_codes(book, NOW)
        with serving(Setting(path, port=0, clock=Clock(NOW))) as port:
            yield f"http://localhost:{port}"


def photograph(browser: Browser, address: str, folder: Path) -> None:
    """The pages at a tablet, somebody named at it, and the wall."""
    page = browser.new_context(viewport={"width": TABLET[0], "height": TABLET[1]}).new_page()
    page.goto(f"{address}/at/P-02/who")
    page.fill("#person", "uwe")
    page.keyboard.press("Enter")
    page.fill("input[name=secret]", CODE)
    page.keyboard.press("Enter")
    page.wait_for_selector("#count, ol.rows")
    page.goto(f"{address}/at/P-02?count=later")
    for name, path in PHOTOGRAPHED.items():
        page.goto(address + path)
        page.screenshot(path=folder / f"{name}.png", full_page=False)
    wall = browser.new_context(viewport={"width": WALL[0], "height": WALL[1]}).new_page()
    wall.goto(f"{address}/wall")
    wall.screenshot(path=folder / "wall.png")


def main() -> None:
    """Makes all of them."""
    with demo_stations() as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        photograph(browser, address, PICTURES)
        browser.close()


if __name__ == "__main__":
    main()

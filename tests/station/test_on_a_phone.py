"""The pages on a phone: ids stay whole, and the button of a clean is in sight however much stands over it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from tests.plants import task
from tests.station.browsers import PHONE, Stations, fits, here, tablet
from tests.station.visitor import Plant, served
from upkeep.station.server.gate import Rates
from upkeep.station.server.run import serving
from upkeep.station.server.setting import Setting

if TYPE_CHECKING:
    from playwright.sync_api import Browser

STEPS = [f"Step {number}: wipe what a hand reaches, and look for what is loose or cracked." for number in range(6)]
CAUTION = (
    "Before your hands go in: switch the press off, pull the plug and keep it in your hand, and bleed the air. " * 2
)
LONG = task("long", "module", by=["operator"], each_shift=True, energy="unplug", caution=CAUTION, steps=STEPS)
BROKEN_IDS = """() => {
    const broken = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
        for (const id of node.data.matchAll(/[A-Z]{1,3}-[0-9]{2,3}/g)) {
            const range = document.createRange();
            range.setStart(node, id.index);
            range.setEnd(node, id.index + id[0].length);
            if (new Set([...range.getClientRects()].map((one) => Math.round(one.top))).size > 1) broken.push(node.data);
        }
    }
    return broken;
}"""
"""What stands around each id that runs over two rows."""


def test_ids_stay_whole_and_a_clean_can_be_signed_without_scrolling(browser: Browser, tmp_path: Path) -> None:
    with served(tmp_path, more=(LONG,)) as plant:
        clock = plant.clock
    with serving(Setting(plant.path, port=0, clock=clock)) as port, tablet(browser, PHONE) as context:
        stations = Stations(Plant(plant.desk, clock, plant.path, Rates()), f"http://localhost:{port}")
        page = here(context, stations)
        for width in (320, 340, PHONE[0]):
            page.set_viewport_size({"width": width, "height": PHONE[1]})
            for path in ("?count=later", "/change", "/papers", "/sign/M-12/long"):
                page.goto(f"{stations.address}/at/P-07{path}")
                assert page.evaluate(BROKEN_IDS) == [], (width, path)
        fits(page)
        button = page.get_by_role("button", name="Sign as Ben").bounding_box()
        scanning = page.locator(".scan").bounding_box()
        assert button is not None
        assert scanning is not None
        assert button["y"] + button["height"] <= scanning["y"], "over the field of the scanner, and in sight"

"""The inspection of a die set on a tablet: each kind of gauge once, what a check measured taken over, a photo kept."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PIL import Image

from tests.plants import define, item, task
from tests.station.browsers import Stations, fits, here, tablet
from tests.station.visitor import BEFORE, Plant, served
from upkeep.station.server.run import serving
from upkeep.station.server.setting import Setting

if TYPE_CHECKING:
    from playwright.sync_api import Browser

MICROMETER, SCOPE = "crimp micrometer", "microscope"
HEIGHT = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "readings": 2, "gauge_class": MICROMETER}
INSPECT = task(
    "inspect-it", "die set", by=["operator"], strokes=1000, graded=True, photo="Punch faces", title="Inspect",
    points=[
        {"id": "slug-height", "title": "Slug", "unit": "mm", "readings": 2, "gauge_class": MICROMETER}, HEIGHT,
        {"id": "burr", "title": "Burr", "unit": "mm", "upper": 0.05, "gauge_class": SCOPE},
    ],
)  # fmt: skip
MORE = (
    define("crimp", "CR-1", title="Tab", family="tab", points=[HEIGHT]),
    item("DS-031", kind="die set", place="rack", family="tab"), item("G-1"),
    item("G-9", kind="gauge", gauge_class=SCOPE), INSPECT,
)  # fmt: skip
CHECKED = f"{BEFORE}2026-03-02 05:50 check DS-031 first-off of CR-1 with G-1 crimp-height=1.25,1.26 by ana\n"


@pytest.fixture
def plant(tmp_path: Path) -> Iterator[Plant]:
    """A set whose first pieces were measured, and a line that asks for its inspection."""
    with served(tmp_path, CHECKED, more=MORE) as plant:
        yield plant


@pytest.fixture
def stations(plant: Plant) -> Iterator[Stations]:
    with serving(Setting(plant.path, port=0, clock=plant.clock)) as port:
        yield Stations(plant, f"http://localhost:{port}")


def test_what_was_measured_is_taken_over_and_each_gauge_is_asked_for_once(browser: Browser, stations: Stations) -> None:
    made = io.BytesIO()
    Image.new("RGB", (800, 600), "gray").save(made, "JPEG")
    with tablet(browser) as context:
        page = here(context, stations)
        page.goto(f"{stations.address}/at/P-07/sign/DS-031/inspect-it")
        page.wait_for_selector("input[name='slug-height.1']:focus")
        assert "1.25, 1.26 mm, G-1" in page.inner_text("form.ask")
        fits(page)
        page.locator("input[name='slug-height.1']").fill("1.18")
        page.locator("input[name='slug-height.2']").fill("1,19")
        page.locator("input[name='burr.1']").fill("0.02")
        assert page.locator("input[name='gauge.microscope']:checked").count() == 1  # the one that counts
        page.locator("input[name=grade][value='1']").check()
        page.set_input_files(
            "input[name=photo]", {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": made.getvalue()}
        )
        page.get_by_role("button", name="Sign as Ben").tap()
        page.wait_for_selector("text=The photo is kept.")
        told = " ".join(stations.plant.lines()[-2:])
        assert "slug-height=1.18,1.19 with G-1 crimp-height=1.25,1.26 with G-1 from #" in told
        assert "burr=0.02 with G-9" in told
        assert "picture DS-031" in told

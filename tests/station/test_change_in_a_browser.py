"""A change of tools in a real browser: with JavaScript and without, as it is reloaded, on two tablets."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.change_of_tools import BEFORE_IT, MORE
from tests.station.browsers import PHONE, TABLET, Stations, fits, here, tablet, until
from tests.station.visitor import served
from upkeep.station.server.run import serving
from upkeep.station.server.setting import Setting

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page


@pytest.fixture
def stations(tmp_path: Path) -> Iterator[Stations]:
    """A server on a book in which tools are changed."""
    with (
        served(tmp_path, BEFORE_IT, more=MORE) as plant,
        serving(Setting(plant.path, port=0, clock=plant.clock)) as port,
    ):
        yield Stations(plant, f"http://localhost:{port}")


def at_change(context: BrowserContext, stations: Stations, person: str = "ana") -> Page:
    page = here(context, stations, person)
    page.get_by_text("Change tools").tap()
    page.wait_for_selector("text=/What goes in|out, with its last piece/")
    return page


def begun(context: BrowserContext, stations: Stations) -> Page:
    page = at_change(context, stations)
    page.get_by_text("DS-102 Item DS-102").tap()
    page.get_by_role("button", name="Begin the change").tap()
    page.wait_for_selector("input[name=count]:focus")
    return page


def out(page: Page) -> None:
    """The set comes out, with its last piece; the gauge that is likely is picked already."""
    page.fill("input[name=count]", "950")
    page.fill("input[name='height.1']", "1.2")
    page.get_by_text("good", exact=True).tap()
    page.locator("label.option", has_text="rack Rack").tap()
    page.get_by_role("button", name="Done: sign as").tap()
    page.wait_for_selector("input[name='dial.1']")


def on_the_first_screen(page: Page) -> None:
    for part in (".next", ".ask .caution", "[data-next] >> nth=0"):
        box = page.locator(part).bounding_box()
        assert box is not None
        assert box["y"] >= 0, part
        assert box["y"] + box["height"] <= PHONE[1], part


@pytest.mark.parametrize(
    ("size", "scripts"), [(TABLET, True), (PHONE, False)], ids=["800x1280", "360x800, JavaScript off"]
)
def test_from_what_goes_in_to_the_first_piece(
    browser: Browser, stations: Stations, size: tuple[int, int], scripts: bool
) -> None:
    with tablet(browser, size, java_script_enabled=scripts) as context:
        look = fits if scripts else lambda page: None
        page = begun(context, stations)
        look(page)
        out(page)
        look(page)
        assert "last time 4 step, on P-08" in page.inner_text("main")
        page.fill("input[name='dial.1']", "4.5")
        page.get_by_role("button", name="Done: sign as").tap()
        page.wait_for_selector("text=Turn by hand (DS-102/hand)")
        page.locator("nav a.main", has_text="Do").tap()
        page.get_by_role("button", name="Sign as Ana").tap()
        page.wait_for_selector("input[name='slug-height.1']:focus")
        assert "Unplug the press" in page.inner_text(".caution")
        assert stations.kinds[-3:] == ["fit", "check", "sign"]


def test_the_step_that_is_next_stands_on_the_first_screen_of_a_phone(browser: Browser, stations: Stations) -> None:
    """What to do, its caution and the first field, also where the proof of the step before is still shown."""
    with tablet(browser, PHONE) as context:
        page = begun(context, stations)
        on_the_first_screen(page)
        out(page)
        on_the_first_screen(page)


def test_a_page_that_is_loaded_again_keeps_where_the_change_is_and_writes_nothing(
    browser: Browser, stations: Stations
) -> None:
    with tablet(browser) as context:
        page = begun(context, stations)
        page.fill("input[name=count]", "95")
        page.reload()
        page.wait_for_selector("input[name=count]:focus")
        assert stations.kinds[-1] == "changeover"
        out(page)
        page.reload()
        page.wait_for_selector("input[name='dial.1']")
        assert stations.kinds[-2:] == ["check", "unfit"]


def test_two_tablets_at_one_change_see_each_other_and_do_no_step_twice(browser: Browser, stations: Stations) -> None:
    with tablet(browser) as context, tablet(browser, PHONE) as other:
        page = begun(context, stations)
        watching = at_change(other, stations, "ben")
        assert "Take it over as Ben" in watching.inner_text("main")
        out(page)
        until(lambda: "done 06:05 Ana" in watching.inner_text("#round"))
        fits(watching)
        watching.get_by_role("button", name="Take it over as Ben").tap()
        watching.wait_for_selector("input[name='dial.1']")
        page.get_by_role("button", name="Done: sign as").tap()  # it is Ben's by now, and his counts
        page.wait_for_selector("text=Ben has the change on P-07 in hand")
        assert "fit" not in stations.kinds

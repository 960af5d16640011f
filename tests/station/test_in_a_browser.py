"""The pages in a real browser: Chromium as the system has it, led by Playwright; a server of its own behind them.

Without a browser these tests are left out, and the end of the run says how many; with STROKEBOOK_BROWSER=required, as
.ci/run has it, they fail.
"""

from __future__ import annotations

import io
import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PIL import Image

from tests.station.visitor import Plant, served
from upkeep.station.server.gate import Rates
from upkeep.station.server.run import serving
from upkeep.station.server.setting import Setting

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


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """One Chromium for all tests here."""
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
    """Nothing sticks out at the side, and whatever is to be touched is large enough for a glove."""
    page.wait_for_load_state()
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), page.url
    small = page.evaluate(
        """(least) => [...document.querySelectorAll("button, nav a, summary, .row > a, input, .option")]
            .filter((one) => !["radio", "hidden"].includes(one.type) && one.checkVisibility())
            .filter((one) => one.getBoundingClientRect().height < least).map((one) => one.outerHTML)""",
        20 * MM - 0.5,
    )
    assert small == [], page.url


@pytest.mark.parametrize(
    ("size", "scripts"), [(TABLET, True), (PHONE, True), (PHONE, False)], ids=["800x1280", "360x800", "JavaScript off"]
)
def test_the_whole_round(browser: Browser, stations: Stations, size: tuple[int, int], scripts: bool) -> None:
    with tablet(browser, size, java_script_enabled=scripts) as context:
        page = context.new_page()
        look = fits if scripts else lambda page: None  # measuring takes a script
        page.goto(f"{stations.address}/at/P-07")
        page.wait_for_selector("#person:focus")  # the field has the keys already
        look(page)
        page.keyboard.type("ben")
        page.keyboard.press("Enter")
        page.wait_for_selector("#count:focus")
        look(page)
        page.keyboard.type("1000")
        page.keyboard.press("Enter")
        page.wait_for_selector("text=COUNTED 06:05 P-07: 1,000")
        look(page)
        page.locator(".row a", has_text="Task clean").tap()  # one touch
        page.wait_for_selector("text=Your name, Ben, will mean: done by me.")
        look(page)
        page.get_by_role("button", name="Sign as Ben").tap()  # and a confirmation
        page.wait_for_selector("text=SIGNED 06:05 Ben: done by me")
        if scripts:  # letters of 9 mm can be read from 2 m
            letters = page.locator(".proof .first").evaluate("(one) => parseFloat(getComputedStyle(one).fontSize)")
            assert letters >= 9 * MM
        assert "done 06:05 Ben" in page.inner_text(".row.done")
        page.locator(".row a", has_text="Read the air").tap()
        page.locator("input[name='pressure.1']").fill("5,5")
        page.keyboard.press("Enter")
        page.wait_for_selector(".row.done >> nth=1")
        page.get_by_role("button", name="Leave").tap()
        page.wait_for_selector("#person")
        assert stations.kinds[-3:] == ["count", "sign", "sign"]


def test_something_found_with_a_photo_and_taken_back(browser: Browser, stations: Stations) -> None:
    made = io.BytesIO()
    Image.new("RGB", (3000, 2000), "gray").save(made, "JPEG")
    with tablet(browser) as context:
        page = here(context, stations)
        page.get_by_text("Found something").tap()
        page.wait_for_selector("text=What did you find?")
        fits(page)
        page.get_by_text("Burr or flash on one side").tap()
        page.wait_for_selector("text=It must STOP")
        fits(page)
        page.set_input_files(
            "input[name=photo]", {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": made.getvalue()}
        )
        page.get_by_role("button", name="It must STOP").tap()
        page.wait_for_selector(".hold")
        assert "The photo is kept." in page.inner_text(".proof")
        assert len(list((stations.plant.path.parent / "pictures").iterdir())) == 1
        page.get_by_role("button", name="Undo").tap()
        page.wait_for_selector("text=UNDONE")
        assert page.locator(".hold").count() == 0
        assert stations.kinds[-3:] == ["fault", "picture", "strike"]


def test_what_one_tablet_writes_the_other_shows_and_no_field_in_use_is_touched(
    browser: Browser, stations: Stations
) -> None:
    with tablet(browser) as context, tablet(browser) as other:
        watching = here(context, stations)
        typing = here(other, stations, "mal")
        typing.goto(f"{stations.address}/at/P-07/count")
        typing.wait_for_selector("#count:focus")
        typing.keyboard.type("12")
        writing = context.new_page()
        writing.goto(f"{stations.address}/at/P-07")
        writing.locator(".row a", has_text="Task clean").tap()
        writing.get_by_role("button", name="Sign as Ben").tap()
        watching.wait_for_selector(".row.done")
        assert "done 06:05 Ben" in watching.inner_text(".row.done")
        writing.get_by_text("Found something").tap()
        writing.get_by_text("Press double-cycles").tap()
        writing.get_by_role("button", name="It must STOP").tap()
        typing.wait_for_selector(".hold")  # told without taking the keys away
        typing.keyboard.type("34")
        assert typing.input_value("#count") == "1234"


def test_a_form_waits_while_the_network_is_away_and_is_sent_once(browser: Browser, stations: Stations) -> None:
    with tablet(browser) as context:
        page = here(context, stations)
        page.locator(".row a", has_text="Task clean").tap()
        page.wait_for_selector("text=Sign as Ben")
        context.set_offline(True)
        page.get_by_role("button", name="Sign as Ben").tap()
        page.wait_for_selector("text=NOT STORED YET")
        assert "sign" not in stations.kinds
        context.set_offline(False)
        page.wait_for_selector(".row.done")
        assert stations.kinds.count("sign") == 1


def test_an_answer_that_is_lost_on_the_way_is_asked_for_again_and_nothing_is_written_twice(
    browser: Browser, stations: Stations
) -> None:
    with tablet(browser) as context:
        page = here(context, stations)
        page.locator(".row a", has_text="Task clean").tap()
        page.wait_for_selector("text=Sign as Ben")  # a page that is still coming may send past what is routed here
        lost: list[str] = []

        def lose(route: Any) -> None:
            if lost or route.request.method != "POST":
                route.continue_()
            else:
                lost.append(route.request.url)  # before it is answered: the page may ask again meanwhile
                route.fetch(max_redirects=0)
                route.abort()

        page.route("**/sign/**", lose)
        page.get_by_role("button", name="Sign as Ben").tap()
        page.wait_for_selector(".row.done")
        assert len(lost) == 1
        assert stations.kinds.count("sign") == 1


def test_a_page_that_is_loaded_again_in_the_middle_of_a_form_sends_what_waits_and_nothing_else(
    browser: Browser, stations: Stations
) -> None:
    with tablet(browser) as context:
        page = here(context, stations)
        page.locator(".row a", has_text="Task clean").tap()
        page.locator("input[name=remark]").fill("half a wo")
        page.reload()
        page.wait_for_selector("text=Sign as Ben")
        assert "sign" not in stations.kinds
        context.set_offline(True)
        page.get_by_role("button", name="Sign as Ben").tap()
        page.wait_for_selector("text=NOT STORED YET")
        context.set_offline(False)
        page.goto(f"{stations.address}/at/P-07")
        until(lambda: stations.kinds.count("sign") == 1)
        page.wait_for_selector(".row.done")
        page.reload()
        page.wait_for_selector(".row.done")
        assert stations.kinds.count("sign") == 1


def test_two_touches_on_one_button_write_once(browser: Browser, stations: Stations) -> None:
    with tablet(browser) as context:
        page = here(context, stations)
        page.locator(".row a", has_text="Task clean").tap()
        page.wait_for_selector("text=Sign as Ben")
        page.evaluate("[0, 1].forEach(() => document.querySelector('form.ask button.main').click())")
        page.wait_for_selector(".row.done")
        assert stations.kinds.count("sign") == 1


def test_a_page_that_nobody_touches_goes_back_to_who_is_here(browser: Browser, stations: Stations) -> None:
    with tablet(browser) as context:
        page = here(context, stations)
        stations.plant.clock.forward(121)
        page.wait_for_selector("#person")
        assert page.url.endswith("/at/P-07/who")

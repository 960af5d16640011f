"""The pages of a round in a real browser, with JavaScript and without, over a network that comes and goes."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

import pytest
from PIL import Image

from tests.plants import write
from tests.station.browsers import MM, PHONE, TABLET, Stations, fits, here, tablet, until

if TYPE_CHECKING:
    from playwright.sync_api import Browser


@pytest.mark.parametrize(
    ("size", "scripts"), [(TABLET, True), (PHONE, True), (PHONE, False)], ids=["800x1280", "360x800", "JavaScript off"]
)
def test_the_whole_round(browser: Browser, stations: Stations, size: tuple[int, int], scripts: bool) -> None:
    with tablet(browser, size, java_script_enabled=scripts) as context:
        page = context.new_page()
        look = fits if scripts else lambda page: None  # measuring takes a script
        page.goto(f"{stations.address}/at/P-07")
        page.wait_for_selector("#person:focus")  # the field has the keys already
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
            page.wait_for_load_state()
            assert (
                page.eval_on_selector(".proof .first", "(one) => parseFloat(getComputedStyle(one).fontSize)") >= 9 * MM
            )
        assert "done 06:05 Ben" in page.inner_text(".row.done")
        page.locator(".row a", has_text="Read the air").tap()
        page.locator("input[name='pressure.1']").fill("5,5")
        page.keyboard.press("Enter")  # as a gauge sends it: that signs nothing
        page.get_by_role("button", name="Sign as Ben").tap()
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
        with stations.plant.book() as book:  # as a terminal beside them writes
            write(book, "2026-03-02 06:05 sign P-07/wipe for 2026-03-02/early by ana")
        watching.wait_for_selector(".row.done >> text=done 06:05 Ana")


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


def test_the_pages_of_work_under_way_fit_a_tablet_and_a_phone(browser: Browser, stations: Stations) -> None:
    for size in (TABLET, PHONE):
        with tablet(browser, size) as context:
            page = here(context, stations, "ana")
            for path in ("work", "work/P-07/wipe", "locks", "handover", "papers", "papers/item/M-12"):
                page.goto(f"{stations.address}/at/P-07/{path}")
                fits(page)


def test_the_wall_is_read_from_five_metres(browser: Browser, stations: Stations) -> None:
    """Its letters are 1/20 of the monitor's height (common practice, no source), and nothing sticks out."""
    with browser.new_context(viewport={"width": 1920, "height": 1080}) as context:
        page = context.new_page()
        page.goto(f"{stations.address}/wall")
        sizes = page.eval_on_selector_all(
            "li *", "(all) => all.map((one) => parseFloat(getComputedStyle(one).fontSize))"
        )
        assert min(sizes) >= 1080 / 20
        assert page.evaluate("document.body.scrollHeight <= window.innerHeight")

"""What a scanner types goes where it belongs, whatever field of a page is open; without JavaScript, too."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.plants import item, task
from tests.station.browsers import PHONE, Stations, fits, here, tablet, until
from tests.station.visitor import BEFORE, Plant, Visitor, served
from upkeep.scan_codes import ScanCode, Scannable, row_code
from upkeep.station.server.run import serving
from upkeep.station.server.setting import Setting

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

SLUG = {"id": "slug", "title": "Slug height", "unit": "mm", "lower": 1.0, "upper": 2.0, "readings": 4}
MICROMETER = "crimp micrometer"
MEASURED = task("measured", "press", by=["operator"], each_shift=True, gauge_class=MICROMETER, points=[SLUG])
BLOCK = task("block", "gauge", by=["operator"], every="7 days", title="Block check")
BEFORE_IT = f"{BEFORE}2026-03-02 05:10 stated G-2/block done 2026-03-01 by lea\n"


def code(kind: Scannable, text: str) -> str:
    return str(ScanCode(kind, text))


G_1, G_2 = (code(Scannable.GAUGE, key) for key in ("G-1", "G-2"))
DIE_SET, PRESS_8 = code(Scannable.ITEM, "DS-031"), code(Scannable.ITEM, "P-08")


@pytest.fixture
def plant(tmp_path: Path) -> Iterator[Plant]:
    """Two micrometers, one of which was never checked; Ana's badge."""
    more = (item("G-1"), item("G-2", kind="gauge", gauge_class=MICROMETER), MEASURED, BLOCK)
    with served(tmp_path, BEFORE_IT, more=more) as plant, plant.book() as book:
        plant.badge = code(Scannable.BADGE, book.naming.keys.held.give_badge("ana", plant.clock()))
        yield plant


@pytest.fixture
def measuring(plant: Plant) -> Visitor:
    return plant.visitor().is_here("ben").goes("/at/P-07/sign/P-07/measured")


def pressed_enter(visitor: Visitor, **typed: str) -> Visitor:
    """Enter in a field of the form, as a scanner presses it: the first button of the form is the one."""
    return visitor.presses("", **typed)


def test_a_gauge_is_that_gauge_whatever_field_is_open_and_what_was_typed_stays(measuring: Visitor) -> None:
    pressed_enter(measuring, slug__1="1.25", slug__2=f"1.2{G_2}")
    assert "G-2 Item G-2: valid" in measuring.text
    assert measuring.status == 200
    assert 'value="G-2" checked' in measuring.html
    assert (measuring.hidden("slug.1"), measuring.hidden("slug.2"), measuring.hidden("slug.3")) == ("1.25", "1.2", "")


def test_a_gauge_that_does_not_count_is_a_sentence_and_never_chosen(measuring: Visitor) -> None:
    pressed_enter(measuring, slug__1="1.25", scanned=G_1)
    assert measuring.status == 422
    assert "G-1 is not taken: not valid: Block check: never done in this book" in measuring.text
    assert 'value="G-1" checked' not in measuring.html
    assert measuring.hidden("slug.1") == "1.25"


def test_enter_signs_nothing_and_goes_to_the_first_field_that_is_empty(plant: Plant, measuring: Visitor) -> None:
    before = plant.lines()
    pressed_enter(measuring, slug__1="1.25", slug__3="1.3")
    assert 'name="slug.2" value="" inputmode="decimal" autocomplete="off" maxlength="80" autofocus' in measuring.html
    pressed_enter(measuring, slug__2="1.2", slug__4="1.2")
    assert plant.lines() == before
    measuring.presses("Sign as Ben")
    assert "sign P-07/measured" in plant.lines()[-1]
    assert "slug=1.25,1.2,1.3,1.2" in plant.lines()[-1]


def test_a_code_is_never_part_of_a_count_nor_a_name(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/count")
    visitor.presses("Go on", count=f"950{DIE_SET}")
    assert visitor.status == 422
    assert "DS-031 (die set) is in M-12, at P-07." in visitor.text
    assert visitor.hidden("count") == "950"
    visitor.presses("Go on", count=PRESS_8)
    assert visitor.path == "/at/P-08/count"
    stranger = plant.visitor().goes("/at/P-07/who").presses("Go on", person=DIE_SET)
    assert "Nothing here asks for it" in stranger.text


def test_an_item_is_the_one_it_was_found_on(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/found/guard")
    pressed_enter(visitor, scanned=DIE_SET)
    assert 'value="DS-031" checked' in visitor.html
    pressed_enter(visitor, words=f"loose{PRESS_8}")
    assert visitor.status == 422
    assert "This is about what was found at P-07." in visitor.text
    assert 'value="DS-031" checked' in visitor.html
    assert visitor.hidden("words") == "loose"


def test_where_no_form_is_open_a_press_is_gone_to_and_anything_else_is_told(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben")
    for scanned, told in (
        (DIE_SET, "DS-031 (die set) is in M-12, at P-07."),
        ("m-44", "M-44 (module) is at rack."),  # typed by hand
        (G_2, "G-2 Item G-2: valid"),
        (str(row_code(812, 12, "M-12/lube")), "Row 12 of the week printed as revision 812"),
        (DIE_SET[:-1] + "_", "There is no item"),
        ("DS-99", "There is no item 'DS-99' in this book."),
        (f"{DIE_SET[:-1]}{'A' if DIE_SET[-1] != 'A' else 'B'}", "was not read whole"),
    ):
        visitor.sends("/at/P-07/scan", {"token": visitor.hidden("token"), "scanned": scanned})
        assert told in visitor.text
        assert visitor.path == "/at/P-07"
    visitor.sends("/at/P-07/scan", {"token": visitor.hidden("token"), "scanned": PRESS_8})
    assert visitor.path in ("/at/P-08", "/at/P-08/count")


def test_a_badge_ends_with_whoever_was_here_and_its_owner_comes(plant: Plant, measuring: Visitor) -> None:
    pressed_enter(measuring, slug__1=plant.badge)
    measuring.goes("/at/P-07?count=later")
    assert "Here: Ana" in measuring.text
    measuring.sends("/at/P-07/scan", {"token": measuring.hidden("token"), "scanned": plant.badge})
    assert measuring.path == "/at/P-07/who"


def test_nobody_here_hears_nothing_of_what_is_scanned(plant: Plant) -> None:
    visitor = plant.visitor().goes("/at/P-07/who")
    visitor.sends("/at/P-07/scan", {"token": visitor.hidden("token"), "scanned": DIE_SET})
    assert visitor.path == "/at/P-07/who"
    assert "M-12" not in visitor.text


# In a browser, as a scanner types: all at once, and Enter


@pytest.fixture
def stations(plant: Plant) -> Iterator[Stations]:
    with serving(Setting(plant.path, port=0, clock=plant.clock)) as port:
        yield Stations(plant, f"http://localhost:{port}")


def scan(page: Page, text: str) -> None:
    page.keyboard.type(text)
    page.keyboard.press("Enter")


def test_four_values_in_one_burst_land_in_four_fields_and_a_fifth_does_nothing(
    browser: Browser, stations: Stations
) -> None:
    with tablet(browser) as context:
        page = here(context, stations)
        page.goto(f"{stations.address}/at/P-07/sign/P-07/measured")
        page.wait_for_selector("input[name='slug.1']:focus")
        for value in ("1.203", "1.204", "1.205", "1.206", "9.9"):
            scan(page, value)
        values = page.locator("[data-next]").evaluate_all("(all) => all.map((one) => one.value)")
        assert values == ["1.203", "1.204", "1.205", "1.206"]
        assert "sign" not in stations.kinds
        page.get_by_role("button", name="Sign as Ben").tap()  # the one gauge that counts is chosen
        page.wait_for_selector(".row.done")
        assert "slug=1.203,1.204,1.205,1.206" in stations.plant.lines()[-1]


@pytest.mark.parametrize("scripts", [True, False], ids=["JavaScript", "JavaScript off"])
def test_a_gauge_and_a_badge_are_heard_from_an_open_field(browser: Browser, stations: Stations, scripts: bool) -> None:
    with tablet(browser, PHONE, java_script_enabled=scripts) as context:
        page = here(context, stations)
        page.goto(f"{stations.address}/at/P-07/sign/P-07/measured")
        page.wait_for_selector("input[name='slug.1']:focus")
        page.keyboard.type("1.2")
        scan(page, G_1)
        page.wait_for_selector("text=G-1 is not taken")
        assert page.input_value("input[name='slug.1']") == "1.2"
        if scripts:
            fits(page)
        page.locator("input[name='slug.2']").focus()
        scan(page, stations.plant.badge)
        page.wait_for_selector("text=Here: Ana")
        assert stations.plant.badge not in page.content()


def test_a_scan_on_a_page_without_a_field_presses_no_button(browser: Browser, stations: Stations) -> None:
    with tablet(browser) as context:
        page = here(context, stations)
        page.locator(".row a", has_text="Task clean").tap()
        page.wait_for_selector("text=Sign as Ben")
        page.get_by_role("button", name="Sign as Ben").focus()
        scan(page, DIE_SET)
        page.wait_for_selector("text=DS-031 (die set) is in M-12")
        assert "sign" not in stations.kinds


def test_a_star_that_begins_no_code_is_typed(browser: Browser, stations: Stations) -> None:
    with tablet(browser) as context:
        page = here(context, stations)
        page.goto(f"{stations.address}/at/P-07/found/other")
        page.wait_for_selector("input[name=words]:focus")
        page.keyboard.type("5 *2 *is *")
        until(lambda: page.input_value("input[name=words]") == "5 *2 *is *")

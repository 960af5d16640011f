"""A change of tools at a station, without JavaScript: one path from what goes in to the release."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.change_of_tools import BEFORE_IT, MORE
from tests.plants import write
from tests.station.visitor import Plant, Visitor, served
from upkeep.scan_codes import ScanCode, Scannable


@pytest.fixture
def plant(tmp_path: Path) -> Iterator[Plant]:
    with served(tmp_path, BEFORE_IT, more=MORE) as plant:
        yield plant


def told(plant: Plant, number: int) -> list[str]:
    """The last entries without their moment and who wrote them."""
    return [line.split(" ", 2)[2].rpartition(" by ")[0] for line in plant.lines()[-number:]]


def begun(plant: Plant, person: str = "ana") -> Visitor:
    visitor = plant.visitor().is_here(person).goes("/at/P-07/change")
    assert visitor.presses("Begin the change", item="DS-102").path == "/at/P-07/change"
    return visitor


LAST_PIECE = {
    "count": "950", "height__1": "1.2", "look__bellmouth": "good", "to": "rack", "gauge__crimp_micrometer": "G-1",
}  # fmt: skip


def out_and_in(visitor: Visitor) -> Visitor:
    return visitor.presses("Done", **LAST_PIECE).presses("Done", dial__1="4.5")


def signed(visitor: Visitor, line: str, name: str) -> Visitor:
    visitor.goes(f"/at/P-07/sign/{line}?then=change").presses(f"Sign as {name}")
    assert (visitor.status, visitor.path) == (200, "/at/P-07/change"), visitor.text
    return visitor


def test_one_path_from_what_goes_in_to_the_release(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ana").goes("/at/P-07/change")
    assert "DS-102 Item DS-102, now at rack, for A-1" in visitor.text
    assert "Unplug the press" in visitor.text
    visitor.presses("Begin the change", item="DS-102")
    assert "1 ▶ DS-031 out, with its last piece" in visitor.text
    assert "Local law and your plant's own procedure decide." in visitor.text
    visitor.presses("Done", **LAST_PIECE)
    assert "last time 4 step, on P-08" in visitor.text
    assert visitor.hidden("count") == "950"  # it is confirmed, not typed twice
    visitor.presses("Done", dial__1="4.5")
    assert told(plant, 5) == [
        "changeover P-07 begun to DS-102",
        "check DS-031 last-off on P-07 of CR-1 with G-1 height=1.2 bellmouth:good within height=1.15:1.25",
        "unfit DS-031 at P-07 950 to rack",
        "fit DS-102 in M-12 at P-07 950",
        "check DS-102 set-up on P-07 of CR-1 dial=4.5",
    ]
    signed(visitor, "DS-102/hand", "Ana").presses("Done", **{"slug-height__1": "1.2"})
    assert "the first piece of DS-102" in visitor.text
    visitor.presses("Done", height__1="1.4", look__bellmouth="good", gauge__crimp_micrometer="G-1")
    assert "what was left of DS-102 after adjusting" in visitor.text
    assert "HOLD: DS-102" in visitor.text
    visitor.presses("Done", height__1="1.2", look__bellmouth="good", gauge__crimp_micrometer="G-1")
    assert "HOLD" not in visitor.text
    signed(plant.visitor().is_here("eva"), "P-07/guard", "Eva")
    visitor.goes("/at/P-07/change").presses("Release P-07 as Ana")
    assert told(plant, 1) == ["changeover P-07 released"]
    assert "What goes in?" in visitor.text


def test_a_step_that_lacks_something_says_what_and_loses_nothing(plant: Plant) -> None:
    visitor = begun(plant)
    for typed, lacks in (
        ({}, "Choose the crimp micrometer you measured Crimp height with"),
        ({"gauge__crimp_micrometer": "G-1", "count": ""}, "Type the figures of the counter"),
        ({"height__1": "", "gauge__crimp_micrometer": ""}, "say with one touch why there is none"),
        ({"to": "nowhere"}, "Choose the place where DS-031 goes."),
    ):
        visitor.presses("Done", **{**LAST_PIECE, "look__bellmouth": "", "gauge__crimp_micrometer": "", **typed})
        assert visitor.status == 422
        assert lacks in visitor.text
    assert told(plant, 1) == ["changeover P-07 begun to DS-102"]
    visitor.presses("Done", count="950", height__1="", look__bellmouth="", stood="no-order", to="rack")
    assert told(plant, 2) == [
        'remark DS-031 "no last piece: the press stood: no order"',
        "unfit DS-031 at P-07 950 to rack",
    ]


def test_paused_with_a_reason_taken_up_by_somebody_else_and_void_where_the_press_ran(plant: Plant) -> None:
    visitor = signed(out_and_in(begun(plant)), "DS-102/hand", "Ana")
    visitor.presses("Pause", count="955", why="")
    assert "Say why the change waits" in visitor.text
    visitor.presses("Pause", count="955", why="part")
    assert "PAUSED by Ana" in visitor.text
    plant.clock.forward(600)
    ben = plant.visitor().is_here("ben").goes("/at/P-07/change")
    assert "waits for a part" in ben.text
    ben.presses("Take it up again as Ben", count="985")
    assert "VOID: the press ran 30 strokes" in ben.text
    assert "Ben has it in hand now." in ben.text
    assert "Turn by hand (DS-102/hand)" in ben.text.partition("CAUTION")[0]
    assert told(plant, 2) == ["count P-07 985", "changeover P-07 resumed"]
    visitor.is_here("ana").goes("/at/P-07/change").presses("Take it over as Ana")
    assert told(plant, 1) == ["changeover P-07 resumed"]


def test_what_is_held_is_told_at_the_first_step_and_goes_no_further(plant: Plant) -> None:
    with plant.book() as book:
        write(book, '2026-03-02 06:00 hold DS-102 by lea because "burr"')
    visitor = plant.visitor().is_here("ana").goes("/at/P-07/change")
    assert "DS-102 must not run: burr." in visitor.text
    visitor.presses("Begin the change", item="DS-102")
    assert visitor.status == 422
    assert "It must not run until it is released." in visitor.text
    assert "changeover" not in plant.lines()[-1]


def test_what_goes_in_is_scanned_whatever_field_is_open(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ana").goes("/at/P-07/change")
    for kind, text, answer in (
        (Scannable.ITEM, "M-44", "M-44 (module) is at rack."),
        (Scannable.ITEM, "DS-102", 'value="DS-102" checked'),
    ):
        visitor.presses("", scanned=str(ScanCode(kind, text)))
        assert answer in visitor.html + visitor.text
    visitor.presses("Begin the change").presses("", height__1=f"1.2{ScanCode(Scannable.GAUGE, 'G-1')}")
    assert 'value="G-1" checked' in visitor.html
    assert visitor.hidden("height.1") == "1.2"
    visitor.presses("", scanned=str(ScanCode(Scannable.ITEM, "M-44")))
    assert "This is about DS-031 out, with its last piece." in visitor.text


def test_two_at_one_change_do_no_step_twice_and_a_form_sent_again_writes_nothing(plant: Plant) -> None:
    first = begun(plant)
    second = plant.visitor().is_here("ana").goes("/at/P-07/change")
    first.presses("Done", **LAST_PIECE)
    lines = plant.lines()
    second.presses("Done", **LAST_PIECE)
    assert (plant.lines(), second.status) == (lines, 200)  # the same hands: its answer was lost
    third = plant.visitor().is_here("ben").goes("/at/P-07/change").presses("Take it over as Ben")
    first.presses("Done", count="950")
    assert "Ben has the change on P-07 in hand. Take it over first." in first.text
    third.presses("Done", count="950")
    second.presses("Done", count="950", dial__1="3")
    assert (first.status, second.status) == (422, 422)
    assert "Somebody did this step meanwhile" in second.text


def test_given_up_says_why_and_hostile_words_are_text(plant: Plant) -> None:
    visitor = begun(plant)
    visitor.presses("Give it up", text="<b>wrong</b> set")
    assert told(plant, 1) == ['changeover P-07 given-up text "<b>wrong</b> set"']
    assert "<b>wrong" not in visitor.html
    visitor.presses("Begin the change", item="<script>alert(1)</script>")
    assert visitor.status == 422
    assert "<script>alert" not in visitor.html


def test_no_press_and_no_right_are_told_before_anything_is_asked(plant: Plant) -> None:
    assert "no press" in plant.visitor().is_here("ana", "rack").goes("/at/rack/change").text.casefold()
    refused = plant.visitor().is_here("sid").goes("/at/P-07/change")
    assert "Sid (stores) may not" in refused.text
    assert "Begin the change" not in refused.text

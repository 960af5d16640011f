"""The check of a die set at a terminal, over a real book: what is typed is in the file, what the book answers is shown.

The plant, its limits and its forces are invented.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractAsyncContextManager
from pathlib import Path

import pytest
from textual.events import Key

from tests.clock import Clock
from tests.plants import at, book_of, define, item, task, write, written_lines
from tests.tui.terminal import SMALL, Terminal, terminal
from upkeep.book import Book

HEIGHT = {
    "id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.24, "upper": 1.34, "readings": 2,
    "gauge_class": "crimp micrometer",
}  # fmt: skip
SLUG = {**HEIGHT, "id": "slug-height", "title": "Slug height", "lower": 1.17, "upper": 1.22, "readings": 1}
PULL = {"id": "pull", "title": "Pull force", "unit": "N", "readings": 2, "gauge_class": "pull tester"}
BURR = {
    "id": "burr", "title": "Burr", "unit": "mm", "upper": 0.05, "part": "conductor punch", "gauge_class": "microscope",
}  # fmt: skip
CAM = {"id": "cam", "title": "Cam", "unit": "position", "steps": [1, 2, 3]}
TAB = define(
    "crimp", "CR-28", title="Tab 2.8 mm on 0.75 mm2", family="tab", size="0.75 mm2", pull_table="house",
    points=[HEIGHT, SLUG, PULL, BURR, CAM], looks=["bellmouth", "brush", "insulation"],
)  # fmt: skip
OTHER = define("crimp", "CR-29", title="Tab 2.8 mm on 1.0 mm2", family="tab", points=[{**HEIGHT, "upper": 1.4}])
FIVE = define(**{"what": "crimp", "key": "CR-28", **TAB.content, "points": [{**HEIGHT, "readings": 5}]})
HOUSE = define(
    "pull-table", "house", title="House table", edition="1", source="own trials", checked_by="lea",
    forces={"0.75 mm2": 80},
)  # fmt: skip
SHOP = (
    HOUSE, TAB,
    item("DS-031", family="tab", title="Tab set"),
    item("G-1", title="Micrometer"),
    item("G-5", kind="gauge", gauge_class="microscope", title="Scope"),
    item("G-9", kind="gauge", gauge_class="pull tester", title="Tester"),
)  # fmt: skip
TASKS = (
    task("clean", "module", by=["operator"], each_shift=True),
    task("calibrate", "gauge", every="1 year", stop_days=0),
)
FITTED = """
    2026-03-01 22:00 stated G-1/calibrate done 2026-02-20 by lea
    2026-03-01 22:00 stated G-5/calibrate done 2026-02-20 by lea
    2026-03-01 22:00 stated G-9/calibrate done 2026-02-20 by lea
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:55 count P-07 1205000 by ana
"""
NOW = "2026-03-02 06:57"
GOOD = ("1,29", "1.3")


@pytest.fixture
def path(tmp_path: Path) -> Iterator[Path]:
    """The file of a book in which DS-031 was fitted this morning."""
    with book_of(tmp_path, FITTED, tasks=TASKS, more=SHOP) as book:
        found = book.path
    yield found
    with Book.open(found) as book:
        assert book.prove().clean


def at_press(path: Path, minute: str = "07:00", size: tuple[int, int] = SMALL) -> AbstractAsyncContextManager[Terminal]:
    """A terminal at the press."""
    return terminal(lambda: Book.open(path), size, place="P-07", clock=Clock(at(f"2026-03-02 {minute}")))


def newest(path: Path, count: int = 1) -> list[str]:
    """The texts of the entries written last, newest last."""
    with Book.open(path) as book:
        return written_lines(book)[-count:]


async def measured(here: Terminal, values: tuple[str, ...]) -> None:
    """Types values, each with Enter, as a micrometer does."""
    for value in values:
        await here.type(value, "enter")


async def test_a_first_off_is_values_three_letters_and_a_name(path: Path) -> None:
    """Nothing else is pressed: occasion, crimp and gauge are what they can only be."""
    with Book.open(path) as book:
        book.load([FIVE], at(NOW), "lea", at(NOW), "as it is now")
    async with at_press(path) as here:
        await here.press("k")
        assert "Check: DS-031 Tab set, on P-07" in here.rows[0]
        assert "valid, next due in 355 days" in here.row_with("Crimp micrometer")
        await measured(here, ("1,29", "1.291", "1.288", "1.29", "1.292"))
        await here.press("g", "g", "g")
        await here.type("ana", "enter", "enter")
        assert newest(path) == [
            "2026-03-02 07:00 check DS-031 first-off on P-07 of CR-28 with G-1 crimp-height=1.29,1.291,1.288,1.29,1.292"
            " bellmouth:good brush:good insulation:good within crimp-height=1.24:1.34 by ana via screen proof none"
        ]
        assert "SIGNED 07:00 Ana: measured by me. first-off of DS-031, #" in here.text
        assert "5 readings, 3 looks: none is bad" in here.text


async def test_a_value_out_of_limits_is_said_at_once_and_what_follows_after_saving(path: Path) -> None:
    """Before saving beside the value, after it what the book makes of it; Enter goes on to the proof."""
    async with at_press(path) as here:
        await here.press("k")
        await measured(here, ("1.29", "1.352"))
        assert here.row_with("Crimp height 2/2").endswith("OUT: 0.012 mm over the limit")
        assert "As typed: Crimp height OUT. If saved like this, the set is held." in here.text
        await here.press("g", "g", "g")
        await here.type("ana", "enter", "enter")
        assert "crimp-height 1.352 is 0.012 mm above the limit of 1.34" in here.text
        assert "DS-031 is held: adjust, then take all readings again" in here.text
        await here.press("enter")
        assert "HOLD DS-031 die set MUST NOT RUN" in here.text
        assert "SIGNED 07:00 Ana" in here.text


async def test_after_a_bad_first_off_the_occasion_is_asked_with_one_number(path: Path) -> None:
    """5 is as-left: adjusted and measured again, good values lift the hold; its caution comes first."""
    with Book.open(path) as book:
        write(book, "2026-03-02 06:58 check DS-031 first-off of CR-28 with G-1 crimp-height=1.4,1.3 by ana")
    async with at_press(path) as here:
        await here.press("k")
        assert "HELD: adjust and measure again: crimp-height" in here.text
        assert "5 as-left after adjusting" in here.text
        await here.press("5")
        assert "CAUTION. Lock the press off" in here.rows[1]
        assert "Adjust with power and air off" in here.text
        assert "Local law and your plant's own procedure decide." in here.text
        await measured(here, GOOD)
        await here.press("g", "g", "g")
        await here.type("ana", "enter", "enter")
        assert "HOLD" not in here.text
        assert " as-left " in newest(path)[0]


async def test_what_is_no_number_gets_a_sentence_and_loses_nothing(path: Path) -> None:
    """The cursor goes to the field; mended, the same form is saved."""
    async with at_press(path) as here:
        await here.press("k")
        await measured(here, ("l.29", "1.3"))
        await here.press("g", "g", "g")
        await here.type("ana", "enter", "enter")
        assert "Type every reading of Crimp height: a number in mm, like 1.25 or 1,25" in here.text
        await here.type("1.29", "ctrl+s")
        assert "crimp-height=1.29,1.3" in newest(path)[0]


async def test_an_unanswered_look_and_an_unknown_name_get_a_sentence(path: Path) -> None:
    """``n`` says that it was not looked at, and then nothing is written of it."""
    async with at_press(path) as here:
        await here.press("k")
        await measured(here, GOOD)
        await here.press("g", "tab", "g", "ctrl+s")
        assert "Look at the brush. Press g (good), b (bad) or n (not looked at)." in here.text
        await here.press("n", "ctrl+s")
        assert "Type your short id" in here.text
        await here.type("zoe", "ctrl+s")
        assert "Nobody who may sign here has the short id 'zoe'" in here.text
        await here.type("ben", "ctrl+s")
        assert "bellmouth:good insulation:good within" in newest(path)[0]


async def test_pulls_are_written_with_their_own_gauge_and_how_each_broke(path: Path) -> None:
    """Beside heights by the micrometer: two entries, written together and undone together."""
    async with at_press(path) as here:
        await here.press("k")
        await measured(here, GOOD)
        await here.press("g", "g", "g", "ctrl+p")
        assert "at least 80 N" in here.row_with("Pull force 1/2")
        assert "valid" in here.row_with("Pull tester")
        await here.type("75", "enter")
        assert here.row_with("Pull force 1/2").endswith("OUT: 5 N under the limit")
        await here.press("w")
        await here.type("93", "enter", "p")
        await here.type("ana", "ctrl+s")
        assert " with G-9 pull=75.0,93.0 within pull=80.0: broke wire-broke,pulled-out table " in newest(path)[0]
        assert "pull 75 is 5 N below the limit of 80" in here.text
        await here.press("enter", "u")
        assert all(" strike #" in line for line in newest(path, 2))
        assert "HOLD" not in here.text


async def test_a_pull_test_alone_asks_for_nothing_else(path: Path) -> None:
    """Heights and looks left empty are not asked for."""
    async with at_press(path) as here:
        await here.press("k", "ctrl+p")
        await here.type("88", "enter", "w")
        await here.type("93", "enter")
        await here.type("ana", "ctrl+s")
        assert "Say how each pulled piece broke: w, p or t." in here.text
        await here.press("t")
        await here.type("ana", "enter", "enter")
        assert " first-off on P-07 of CR-28 with G-9 pull=88.0,93.0 within pull=80.0: " in newest(path)[0]


async def test_what_shows_wear_is_asked_for_by_a_key_only(path: Path) -> None:
    """Under another gauge than the heights: an entry of its own, and heights left empty are not asked for."""
    async with at_press(path) as here:
        await here.press("k")
        assert "Burr" not in here.text
        await here.press("ctrl+g")
        assert "valid" in here.row_with("Microscope")
        await here.type("0.06")
        assert here.row_with("Burr (at most 0.05 mm)").endswith("OUT: 0.01 mm over the limit")
        await here.type("", "enter")
        await here.type("ana", "ctrl+s")
        assert " first-off on P-07 of CR-28 with G-5 burr=0.06 " in newest(path)[0]
        assert "burr 0.06 is 0.01 mm above the limit of 0.05" in here.text


async def test_a_slug_opens_with_its_caution(path: Path) -> None:
    """Hand cycle, power and air off, before anything is typed; only the slug is asked for."""
    async with at_press(path) as here:
        await here.press("k", "ctrl+t", "6")
        assert "CAUTION. Lock the press off, bleed the air and try to start it" in here.rows[1]
        assert "BY HAND ONLY" in here.text
        assert "Local law and your plant's own procedure decide." in here.text
        assert "Look: brush" not in here.text
        await measured(here, ("1,19",))
        await here.type("ana", "enter", "enter")
        assert " slug on P-07 of CR-28 with G-1 slug-height=1.19 " in newest(path)[0]


async def test_settings_are_written_down_with_order_and_reel(path: Path) -> None:
    """A position that does not exist is said at once and refused in words; the rest stays."""
    async with at_press(path) as here:
        await here.press("k", "ctrl+t", "7")
        await here.type("12", "enter")
        await here.type("4", "ctrl+o")
        assert here.row_with("Cam (").endswith("no such position: 1, 2, 3")
        await here.type("A-17", "enter")
        await here.type("R-5", "ctrl+s")
        await here.type("ana", "ctrl+s")
        assert "has no position 4" in here.text
        await here.press("ctrl+t", "tab", "tab", "tab")
        await here.type("2", "ctrl+s")
        assert " set-up on P-07 of CR-28 dial=12.0 cam=2.0 order A-17 reel R-5 by ana" in newest(path)[0]


async def test_a_gauge_that_does_not_count_says_why(path: Path) -> None:
    """Held: the book refuses its reading in words, and another gauge picked by number saves the same form."""
    with Book.open(path) as book:
        book.load(
            [item("G-3", kind="gauge", gauge_class="crimp micrometer", title="Third")],
            at(NOW),
            "lea",
            at(NOW),
            "as it is now",
        )
        write(book, '2026-03-02 06:58 hold G-1 by lea because "dropped"')
    async with at_press(path) as here:
        await here.press("k")
        assert "Held: dropped" in here.row_with("G-1")
        assert "Not valid: Task calibrate: never done in this book" in here.row_with("G-3")
        await here.press("1")
        await measured(here, GOOD)
        await here.press("g", "g", "g")
        await here.type("ana", "enter", "enter")
        assert "G-1 has been held since 2026-03-02 06:58" in here.text
        await here.press("ctrl+t", "tab", "tab", "2", "ctrl+s")
        assert "G-3 was not valid at that time" in here.text
        assert "with G-3 crimp-height=1.29,1.3 " in newest(path)[0]


async def test_where_a_set_makes_two_crimps_one_number_says_which(path: Path) -> None:
    """Its limits stand beside the fields; values typed under the wrong crimp go along to the right one."""
    with Book.open(path) as book:
        book.load([OTHER], at(NOW), "lea", at(NOW), "as it is now")
    async with at_press(path) as here:
        await here.press("k")
        assert "Crimp press its number ( ) 1 CR-28 Tab 2.8 mm on 0.75 mm2 ( ) 2 CR-29" in here.text
        await here.press("1")
        await measured(here, ("1.39",))
        assert "OUT" in here.row_with("Crimp height 1/2 (1.24 to 1.34 mm)")
        await here.press("shift+tab", "shift+tab", "shift+tab", "2")
        assert here.row_with("Crimp height 1/2 (1.24 to 1.4 mm)").endswith("in limits")
        await here.type("1.3", "enter")
        await here.type("ana", "ctrl+s")
        assert " of CR-29 with G-1 crimp-height=1.39,1.3 " in newest(path)[0]


async def test_the_last_check_says_which_crimp_is_likely(path: Path) -> None:
    """Made the evening before on another press: its crimp is preselected, the occasion is first-off again."""
    with Book.open(path) as book:
        book.load([OTHER], at(NOW), "lea", at(NOW), "as it is now")
        write(book, "2026-03-02 05:00 check DS-031 audit on P-08 of CR-29 with G-1 crimp-height=1.3,1.3 by ana")
    async with at_press(path) as here:
        await here.press("k")
        assert "2 CR-29" in " ".join(here.row_with("Crimp  ").split())
        assert "1  first-off" in here.row_with("Occasion")


async def test_going_back_asks_twice_once_something_was_typed(path: Path) -> None:
    """And writes nothing."""
    before = newest(path)
    async with at_press(path) as here:
        await here.press("k")
        await here.type("1", "escape")
        assert "Press Esc once more to go back" in here.text
        await here.press("escape")
        assert "Fitted here" in here.text
        assert newest(path) == before


async def test_the_check_opens_from_the_board_and_from_the_page_of_a_line(path: Path) -> None:
    """For the module of the line it is the die set in it."""
    async with terminal(lambda: Book.open(path), clock=Clock(at("2026-03-02 07:00"))) as here:
        for keys in (("k",), ("enter", "k")):
            await here.press(*keys)
            assert "Check: DS-031 Tab set, on P-07" in here.rows[0]
            await here.press("escape")


async def test_where_no_set_hangs_or_nobody_said_what_it_makes_a_sentence_says_so(path: Path) -> None:
    """And what to do."""
    clock = Clock(at("2026-03-02 07:00"))
    with Book.open(path) as book:
        write(book, "2026-03-02 06:56 fit M-44 in P-08 by ana")
    async with terminal(lambda: Book.open(path), place="P-08", clock=clock) as here:
        await here.press("escape", "k")
        assert "No die set is fitted at P-08, so nothing is made there. Enter its fitting first." in here.text
        with Book.open(path) as book:
            write(book, "2026-03-02 06:57 fit DS-102 in M-44 by ana")
        await here.press("k")
        assert "It is not known what DS-102 makes" in here.text


async def test_of_several_sets_at_a_place_one_is_picked(path: Path) -> None:
    """A hall holds several presses."""
    with Book.open(path) as book:
        write(book, "2026-03-02 06:56 fit M-44 in P-08 by ana")
        write(book, "2026-03-02 06:57 fit DS-102 in M-44 by ana")
    async with terminal(lambda: Book.open(path), place="hall", clock=Clock(at("2026-03-02 07:00"))) as here:
        await here.press("escape", "k")
        assert "Which die set?" in here.text
        await here.type("031", "enter")
        assert "Check: DS-031 Tab set, on P-07" in here.rows[0]


async def test_a_reading_by_a_wedge_in_one_burst_goes_into_its_field(path: Path) -> None:
    """Value and Enter faster than anybody types."""
    async with at_press(path) as here:
        await here.press("k")
        for key in (*"1.29", "enter", *"1.30", "enter"):
            here.app.post_message(Key(key, key if len(key) == 1 else "\r"))
        await here.settle()
        assert "1.29" in here.row_with("Crimp height 1/2")
        assert "1.30" in here.row_with("Crimp height 2/2")


@pytest.mark.parametrize("size", [(79, 23), (40, 10), (12, 4)])
async def test_a_small_window_loses_nothing(path: Path, size: tuple[int, int]) -> None:
    """The form scrolls; what is typed in it is written."""
    async with at_press(path, size=size) as here:
        await here.press("k")
        await measured(here, GOOD)
        await here.press("n", "n", "n", "ctrl+g", "ctrl+p", "ctrl+o")
        await here.type("A-1", "ctrl+s")
        await here.type("ana", "ctrl+s")
        assert " crimp-height=1.29,1.3 within crimp-height=1.24:1.34 order A-1 by ana" in newest(path)[0]

"""The board at a terminal, driven by keys."""

from __future__ import annotations

from tests.tui.fake_book import MORNING, FakeBook, line_at
from tests.tui.terminal import LARGE, SMALL, terminal
from tui.widgets.line_table import LineTable
from upkeep.due.states import State
from upkeep.entries.faults import Fault
from upkeep.entries.signing import Sign, Verify


async def test_the_board_shows_what_calls_most_urgent_first() -> None:
    """Quiet lines stay away until they are asked for."""
    async with terminal(FakeBook()) as here:
        rows = [row for row in here.rows if row[:2] in ("##", "==", "!!", "! ", "> ")]
        assert [row.split()[1] for row in rows] == ["stop", "held", "overdue", "due", "due", "due", "open"]
        assert "later" not in " ".join(rows)


async def test_all_lines_are_one_key_away_and_so_is_the_way_back() -> None:
    """And the head says which are shown."""
    async with terminal(FakeBook()) as here:
        await here.press("t")
        assert "10 of all states" in here.text
        assert here.row_with(". later".replace(". ", ".  "))
        await here.press("t")
        assert "7 of 7 to do" in here.text


async def test_the_search_finds_as_one_types() -> None:
    """And keeps what it found when one goes back to the lines."""
    async with terminal(FakeBook()) as here:
        await here.press("slash")
        await here.type("press")
        assert "2 of 2 to do" in here.text
        await here.type("-", "backspace")
        await here.press("enter")
        assert '2 of 2 to do, "press"' in here.text
        await here.press("down", "enter")
        assert "Press clean: P-03" in here.text


async def test_a_search_that_finds_nothing_says_how_to_go_on() -> None:
    """One key shows the whole plant again."""
    async with terminal(FakeBook()) as here:
        await here.press("slash")
        await here.type("zebra", "enter")
        assert "No line matches. Press x to show the whole plant again." in here.text
        await here.press("x")
        assert "7 of 7 to do" in here.text


async def test_lines_are_picked_by_area_place_role_and_state() -> None:
    """Each from one list that narrows as one types; they add up."""
    async with terminal(FakeBook()) as here:
        await here.press("w")
        await here.type("hall b", "enter")
        assert "2 of 2 to do, Hall B" in here.text
        await here.press("w")
        await here.type("role operator", "enter")
        assert "1 of 1 to do, Hall B, operator" in here.text
        await here.press("w")
        await here.type("state not req", "enter")
        assert "0 not required" in here.text
        await here.press("x", "w")
        await here.type("place p-03", "enter")
        assert "3 of 3 to do, P-03" in here.text


async def test_a_pick_that_matches_nothing_says_so() -> None:
    """And going back changes nothing."""
    async with terminal(FakeBook()) as here:
        await here.press("w")
        await here.type("zebra", "enter")
        assert "Nothing here contains 'zebra'." in here.text
        await here.press("escape")
        assert "7 of 7 to do" in here.text


async def test_only_the_rows_in_sight_are_fetched() -> None:
    """However long the list: a window of rows, two screenfuls ahead at most, from the first screen to the last."""
    lines = [line_at(f"M-{number:05d}", "clean") for number in range(20_000)]
    book = FakeBook(lines=lines)
    async with terminal(book) as here:
        await here.press("end")
        assert "M-19999" in here.text
        assert "of 20,000 to do" in here.text
        await here.press("pageup", "up")
        table = here.app.screen.query_one(LineTable)
        assert table.selected is not None
        assert max(limit for _, limit in book.asked) <= 4 * SMALL[1]
        await here.press("home")
        assert "M-00000" in here.text


async def test_the_selected_line_stays_selected_when_others_move() -> None:
    """Another terminal signs the first line while this one stands on the third."""
    book = FakeBook()
    async with terminal(book) as here:
        await here.press("down", "down")
        book.write([Sign(at=MORNING, by="ben", task="wear-inspection", item="DS-031", occurrence="x")], MORNING)
        await here.wait(1)
        selected = here.app.screen.query_one(LineTable).selected
        assert selected is not None
        assert selected.line == "P-07/weekly-oiling"
        assert "DS-031" not in here.text


async def test_the_reason_of_the_selected_line_stands_below() -> None:
    """In full words, with the title that the column cut."""
    async with terminal(FakeBook()) as here:
        await here.press("down")
        assert "Feed check, M-44: Held by Ben Sample: feed finger bent." in here.text


async def test_a_line_is_signed_from_the_board_and_taken_back() -> None:
    """The proof stands in the row of sentences."""
    book = FakeBook()
    async with terminal(book, by="ben") as here:
        await here.press("down", "down", "down", "s")
        assert "CAUTION. Unplug, plug in hand." in here.text
        await here.press("enter")
        assert "SIGNED Mon 2026-03-02 06:05 Ben Sample: done by me. Daily clean on M-12" in here.text
        assert isinstance(book.written[-1], Sign)
        assert "6 of 6 to do" in here.text
        await here.press("u")
        assert "UNDONE: Daily clean on M-12, the early shift of Mon 2026-03-02, signed by Ben Sample." in here.text
        assert "7 of 7 to do" in here.text


async def test_a_count_is_taken_from_the_board() -> None:
    """For the press of the selected line, with its expected range in sight."""
    book = FakeBook()
    async with terminal(book, by="ben") as here:
        await here.press("c")
        assert "Count of P-07, by Ben Sample" in here.text
        assert "expected 1,204,300 to 1,209,300" in here.text
        await here.type("5", "enter")
        assert "Press y: it rolled over." in here.text
        await here.press("y")
        assert "COUNTED P-07: 5, by Ben Sample." in here.text
        assert book.counts["P-07"][0] == 5


async def test_a_place_without_a_press_has_nothing_to_count() -> None:
    """It says so instead of writing."""
    book = FakeBook()
    async with terminal(book, by="ben") as here:
        await here.press("t", "slash")
        await here.type("storage", "enter", "c")
        await here.type("12x", "enter")
        assert "There is no press at rack-2, so there is nothing to count." in here.text
        await here.press("escape")
        assert book.written == []


async def test_something_found_is_written_on_the_item() -> None:
    """A number with more words, and whether it stands still; the caution stands there before the name."""
    book = FakeBook()
    async with terminal(book, by="ben") as here:
        await here.press("f", "ctrl+o")
        await here.type("21 left screw", "enter")
        assert "Found on M-12: Loose, broken or missing part: left screw" in here.text
        assert "CAUTION. Lock the press off, bleed the air" in here.text
        await here.press("y", "enter")
        assert "REPORTED on M-12: Loose, broken or missing part: left screw." in here.text
        fault = book.written[-1]
        assert isinstance(fault, Fault)
        assert (fault.item, fault.listed, fault.stopped) == ("M-12", "parts", True)
        assert fault.symptom == "Loose, broken or missing part: left screw"


async def test_it_is_signed_last_by_whoever_says_who_they_are() -> None:
    """Nobody is known at this terminal yet; without the answer to y or n nothing is signed."""
    book = FakeBook()
    async with terminal(book) as here:
        await here.press("f")
        await here.type("squeaks at start", "enter", "enter")
        assert "First say whether it has to stop: y or n." in here.text
        await here.press("n", "enter")
        await here.type("ben", "enter")
        fault = book.written[-1]
        assert isinstance(fault, Fault)
        assert (fault.symptom, fault.listed, fault.stopped, fault.by) == ("squeaks at start", None, False, "ben")


async def test_a_number_that_is_not_in_the_list_is_asked_for_again() -> None:
    """Nothing is written by a slip of the finger."""
    book = FakeBook()
    async with terminal(book, by="ben") as here:
        await here.press("f")
        await here.type("99", "enter")
        assert "Type a number from the list" in here.text
        await here.press("escape")
        assert book.written == []


async def test_a_press_that_double_cycles_stands_still_without_being_asked() -> None:
    """Stop and lock are the first words."""
    book = FakeBook()
    async with terminal(book, by="ben") as here:
        await here.press("f")
        await here.type("13", "enter")
        assert "CAUTION. STOP the press now and lock it off. Maintenance only" in here.text
        await here.press("enter")
        fault = book.written[-1]
        assert isinstance(fault, Fault)
        assert (fault.listed, fault.stopped) == ("double-cycles", True)


async def test_the_second_signature_is_by_another_person() -> None:
    """The person who did the work is refused with the sentence of the book; the other one is taken."""
    book = FakeBook()
    async with terminal(book, by="ana") as here:
        await here.press("v")
        assert "No sign-off on this line is waiting for a second signature." in here.text
        await here.press("t", "slash")
        await here.type("calib", "enter", "v")
        assert "Your name will mean: verified by me." in here.text
        await here.type("ana", "enter")
        assert "Ana Example did the work of #4" in here.text
        await here.press("v")
        await here.type("cleo", "enter")
        assert "VERIFIED #4 by Cleo Pattern: Calibration on G-1." in here.text
        assert book.written == [Verify(at=MORNING, by="cleo", entry=4, recorded_at=MORNING)]


async def test_the_page_of_a_line_opens_and_closes() -> None:
    """The same keys work there."""
    async with terminal(FakeBook(), by="ben") as here:
        await here.press("enter")
        assert "## stop: past its hard stop: must not run until it is done" in here.text
        await here.press("f")
        await here.type("20", "enter", "n", "enter")
        assert "REPORTED on DS-031: Dirt or debris." in here.text
        assert '#1 2026-03-02 06:05 fault DS-031 "Dirt or debris" listed dirt by ben (Ben Sample)' in here.text
        await here.press("escape")
        assert "7 of 7 to do" in here.text


async def test_the_help_names_every_key_and_sign() -> None:
    """On a large screen without scrolling."""
    async with terminal(FakeBook(), LARGE) as here:
        await here.press("question_mark")
        assert "Keys on the board" in here.text
        assert "!! overdue past its latest time" in here.text
        await here.press("escape")
        assert "7 of 7 to do" in here.text


async def test_the_round_of_the_selected_place_and_back_to_the_same_board() -> None:
    """What was searched is still searched."""
    async with terminal(FakeBook()) as here:
        await here.press("slash")
        await here.type("feed", "enter", "r")
        assert here.rows[0].startswith(" P-03  Place P-03   early shift, ends 14:00")
        await here.press("escape", "b")
        assert '1 of 1 to do, "feed"' in here.text
        await here.press("enter", "r")
        assert here.rows[0].startswith(" P-03")


async def test_who_is_here_is_asked_and_shown() -> None:
    """Nobody is found for a wrong id, and the sentence says who is known."""
    async with terminal(FakeBook()) as here:
        await here.press("o")
        await here.type("zoe", "enter")
        assert "Nobody who may sign here has the short id 'zoe'. Known ids: ana, ben and cleo." in here.text
        await here.press(*["backspace"] * 3)
        await here.type("be", "enter")
        assert "'be' is only part of an id. Type all of it: ben." in here.text
        await here.type("n")
        assert "Ben Sample" in here.text
        await here.press("enter")
        assert "here: Ben Sample" in here.rows[0]


async def test_an_empty_book_has_a_board() -> None:
    """Actions say what is missing instead of failing."""
    async with terminal(FakeBook(lines=[], counts={}), by="ben") as here:
        await here.press("end", "pagedown", "enter", "r", "s")
        assert "Select a line first." in here.text
        await here.press("c")
        assert "Select a line on a press first." in here.text
        await here.press("f")
        assert "Select a line first: the fault is reported on its item." in here.text
        await here.press("u")
        assert "There is nothing left to undo here." in here.text
        await here.press("t")
        assert "This book has no lines yet." in here.text


async def test_states_need_no_colour() -> None:
    """Every row carries its sign and its word as text."""
    lines = [line_at(f"M-{number}", "clean", state) for number, state in enumerate(State)]
    async with terminal(FakeBook(lines=lines), LARGE) as here:
        await here.press("t")
        assert all(here.row_with(f" {state.value} ") for state in State)

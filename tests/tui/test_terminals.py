"""What holds on every screen: sizes, text from people, other processes, a book that does not open."""

from __future__ import annotations

import threading
from dataclasses import replace

import pytest

from tests.clock import Clock
from tests.tui.fake_book import MORNING, FakeBook, counted, line_at, showing
from tests.tui.terminal import LARGE, SMALL, terminal
from tui.app import StrokebookApp
from tui.keys import KEYS, Where, bindings_at, cap, foot_at, keys_at
from upkeep.entries.signing import Sign
from upkeep.errors import BookUnavailable
from upkeep.said import said

MARKUP = "[red]stop[/red] [@click=app.quit]x[/] \x1b[31m"
SHOWN = "[red]stop[/red] [@click=app.quit]x[/] [U+001B][31m"


def scribbled() -> FakeBook:
    """A book in which people wrote what looks like commands to a terminal."""
    book = FakeBook(lines=[line_at("M-12", "clean", title=MARKUP, reasons=showing(MARKUP))], held_for={"M-12": MARKUP})
    book.facts = replace(book.facts, name=MARKUP)
    book.counts["P-07"] = (1, MORNING)
    return book


@pytest.mark.parametrize("size", [SMALL, LARGE])
@pytest.mark.parametrize("place", [None, "P-07"])
async def test_text_from_people_is_shown_as_it_is(size: tuple[int, int], place: str | None) -> None:
    """Titles, reasons, names of the plant, holds: no markup, no escape."""
    async with terminal(scribbled(), size, place=place) as here:
        assert "[red]stop[/red]" in here.text
        assert "\x1b" not in here.text
        await here.press("i" if place else "enter")
        assert SHOWN in here.text


async def test_typed_text_is_shown_as_it_is() -> None:
    """Also where it comes back in a sentence."""
    async with terminal(FakeBook(), by="ben") as here:
        await here.press("f")
        await here.type("20 [red]x[/red]", "enter", "n", "enter")
        assert "Dirt or debris: [red]x[/red]." in here.text
        await here.press("slash")
        await here.type("[b]", "enter")
        assert '"[b]"' in here.text


@pytest.mark.parametrize("size", [(79, 24), (80, 23), (40, 10), (12, 4), (2, 2)])
@pytest.mark.parametrize("place", [None, "P-07"])
async def test_a_small_window_says_so_and_goes_on(size: tuple[int, int], place: str | None) -> None:
    """Every key still works or is refused in words; nothing fails."""
    async with terminal(FakeBook(), size, place=place, by="ana") as here:
        assert here.app.screen.query_one("#too-small").display
        await here.press("down", "s", "escape", "question_mark", "escape", "f", "escape", "c", "escape")
        await here.pilot.resize_terminal(*SMALL)
        await here.settle()
        assert not here.app.screen.query_one("#too-small").display


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_window_large_enough_says_nothing(size: tuple[int, int]) -> None:
    """Nobody is told about a size that fits."""
    async with terminal(FakeBook(), size) as here:
        assert "parts are left out" not in here.text


@pytest.mark.parametrize("place", ["P-07", None], ids=["round", "board"])
async def test_a_small_window_keeps_its_rows_for_the_thing_itself(place: str | None) -> None:
    """One row of keys, with the one that shows all of them; why the line is due has its room."""
    async with terminal(FakeBook(), (60, 20), place=place, by="ana") as here:
        await here.press("escape")
        assert "?" in here.rows[-1]
        assert "help" in here.rows[-1]
        assert not here.rows[-2].startswith(" /")
        assert "Window 60 x 20: parts are left out. Best from 80 x 24 on." in here.text


async def test_a_resized_board_keeps_the_selected_line_in_sight() -> None:
    """Smaller and larger again."""
    lines = [line_at(f"M-{number:03d}", "clean") for number in range(60)]
    async with terminal(FakeBook(lines=lines), LARGE) as here:
        await here.press("pagedown")
        await here.pilot.resize_terminal(*SMALL)
        await here.settle()
        selected = here.app.screen.query_one("LineTable").selected  # type: ignore[attr-defined]
        assert selected.item in here.text


async def test_what_another_terminal_signs_leaves_this_board() -> None:
    """Two terminals at one book; the second one looks every second."""
    book = FakeBook()
    async with terminal(book) as here:
        assert here.row_with("Daily clean")
        sign = Sign(at=MORNING, by="ben", task="daily-clean", item="M-12", occurrence="2026-03-02/early")
        book.write([sign], MORNING)
        await here.wait(1)
        assert not here.row_with("Daily clean")


async def test_the_clock_on_the_screen_goes_on() -> None:
    """A new minute is looked at like a new entry."""
    async with terminal(FakeBook()) as here:
        await here.wait(60)
        assert "Mon 2026-03-02 06:06" in here.rows[0]


async def test_a_book_that_does_not_open_ends_the_screens_with_its_sentence() -> None:
    """And the exit code of the refusal."""

    def missing() -> FakeBook:
        raise BookUnavailable(said("There is no book at plant.book."))

    app = StrokebookApp(missing, Clock(MORNING))
    async with app.run_test() as pilot:
        await pilot.pause()
    assert app.return_code == BookUnavailable.exit_code


async def test_an_unknown_person_on_the_command_line_ends_the_screens() -> None:
    """Nobody works under a name the book does not know."""
    async with terminal(FakeBook(), by="zoe") as here:
        assert here.app.return_code == 1


async def test_one_thread_opens_asks_and_closes_the_book() -> None:
    """Connections belong to the thread that made them."""
    threads = set()

    class Watched(FakeBook):
        def version(self) -> int:
            threads.add(threading.current_thread().name)
            return super().version()

        def close(self) -> None:
            threads.add(threading.current_thread().name)
            super().close()

    def opened() -> Watched:
        threads.add(threading.current_thread().name)
        return book

    book = Watched()
    async with terminal(opened) as here:
        await here.wait(1)
    assert book.closed
    assert len(threads) == 1
    assert threads != {threading.current_thread().name}


async def test_a_refusal_while_looking_is_shown_and_looked_past() -> None:
    """A busy book is a sentence, and the next look shows the board again."""

    class Busy(FakeBook):
        busy = False

        def version(self) -> int:
            if self.busy:
                raise BookUnavailable(said("The book is busy."))
            return super().version()

    book = Busy()
    async with terminal(book) as here:
        book.busy = True
        await here.wait(1)
        assert "The book is busy." in here.text
        book.busy = False
        await here.wait(60)
        assert "7 of 7 to do" in here.text


async def test_the_key_that_ends_other_programs_tells_how_to_end_this_one() -> None:
    """A shared terminal does not fall into a shell by accident."""
    async with terminal(FakeBook()) as here:
        await here.press("ctrl+c")
        assert "Press Ctrl+Q to close the screens." in here.text
        await here.press("q")
        assert here.app.return_code == 0


async def test_a_station_is_closed_by_a_keeper_alone() -> None:
    """Whoever else asks for it is told, and it stays open."""
    async with terminal(counted(), place="P-07", by="ana") as here:
        for keys in (("ctrl+q",), ("b", "q")):
            await here.press(*keys)
            assert "A keeper of the book closes this station. Who are you?" in here.text
            await here.type("ana", "enter")
            assert "Ana Example is no keeper of the book; the station stays open." in here.text
            assert here.app.return_code is None


async def test_escape_leads_home_from_anywhere_and_so_does_the_time() -> None:
    """From the board, from the round of another place, and once nobody is there any more."""
    async with terminal(counted(), place="P-07", by="ana") as here:
        await here.press("b")
        assert here.rows[0].startswith(" Crimp shop North")
        await here.press("escape")
        assert here.rows[0].startswith(" P-07")
        await here.press("p")
        await here.type("P-03", "enter", "escape")
        await here.press("escape")
        assert here.rows[0].startswith(" P-07")
        await here.press("b")
        await here.wait(121)
        assert here.rows[0].startswith(" P-07")


def test_no_place_has_two_meanings_for_a_key() -> None:
    """The registry is the truth for bindings, foot and help."""
    for where in Where:
        keys = [key.key for key in keys_at(where)]
        assert len(keys) == len(set(keys)), where


def test_every_key_is_described_and_used() -> None:
    """In a row of the help page at 80 columns."""
    assert all(key.where and 0 < len(key.description) <= 58 for key in KEYS)
    assert {cap(key) for key in keys_at(Where.BOARD)} >= {str(word) for word, _ in foot_at(Where.BOARD)}
    assert ("9", "number(9)", "Signs the line with this number.") in bindings_at(Where.ROUND)

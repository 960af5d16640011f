"""What hangs and stands where, on one page: now, at a past moment, found by any word, and put elsewhere by key."""

from __future__ import annotations

from pathlib import Path

from tests.admission.test_putting import shop
from tests.clock import Clock
from tests.plants import at, write, written_lines
from tests.tui.terminal import terminal
from upkeep.book import Book

MORNING = at("2026-03-02 08:00")


def path_of(tmp_path: Path) -> Path:
    """The file of a book in which DS-102 of a customer was put onto the bench at seven."""
    with shop(tmp_path) as book:
        write(book, "2026-03-02 07:00 put DS-102 to bench in-pieces by ben")
        return book.path


async def test_one_key_shows_the_whole_plant_and_words_narrow_it(tmp_path: Path) -> None:
    """Two actions from the board to one item among all: the key, the words."""
    path = path_of(tmp_path)
    async with terminal(lambda: Book.open(path), by="ben", clock=Clock(MORNING)) as here:
        await here.press("y")
        assert "Where everything is: 12 items" in here.text
        assert "P-07 press hall 4 items" in here.text
        assert "       DS-031" in here.row_with("DS-031")
        await here.press("slash")
        await here.type("pieces harbour")
        assert "Where everything is: 1 item" in here.text
        assert "DS-102 die set in pieces of Harbour Looms (inve" in here.text


async def test_it_is_shown_as_it_stood_then(tmp_path: Path) -> None:
    """Before seven the set lay in its rack; nothing typed goes back to now."""
    path = path_of(tmp_path)
    async with terminal(lambda: Book.open(path), by="ben", clock=Clock(MORNING)) as here:
        await here.press("y", "p")
        await here.type("6:30", "enter")
        assert "as it stood then" in here.text
        assert "Mon 2026-03-02 06:30" in here.text
        assert "bench" not in here.text
        await here.press("p", "enter")
        assert "Where everything is:" in here.text


async def test_an_item_is_put_to_a_place_in_five_actions(tmp_path: Path) -> None:
    """The page, the item found, m, what is done with it, the place."""
    path = path_of(tmp_path)
    async with terminal(lambda: Book.open(path), by="ben", clock=Clock(MORNING)) as here:
        await here.press("y", "slash")
        await here.type("ds-102", "enter", "m")
        await here.type("put it to", "enter")
        await here.type("grinder", "enter")
        await here.press("ctrl+s")
        if "Nothing is written yet." in here.text:
            await here.press("enter")
        assert "WRITTEN: DS-102 put to grinder, by Ben." in here.text
        assert "grinder outside 1 item" in here.text
    with Book.open(path) as book:
        assert "put DS-102 to grinder by ben" in written_lines(book)[-1]
        assert book.prove().clean


async def test_a_page_of_the_plant_is_read_as_it_stood_then(tmp_path: Path) -> None:
    """From the board: the moment, then which page."""
    path = path_of(tmp_path)
    async with terminal(lambda: Book.open(path), by="ben", clock=Clock(MORNING)) as here:
        await here.press("p")
        await here.type("2026-03-01 23:00", "enter")
        await here.type("the board", "enter")
        assert "The board: all lines to do" in here.text
        assert "Sun 2026-03-01 23:00" in here.text


async def test_a_page_is_printed_to_a_file_beside_the_book_with_one_key(tmp_path: Path) -> None:
    """As a PDF of its own name; a second print writes over nothing."""
    path = path_of(tmp_path)
    async with terminal(lambda: Book.open(path), by="ben", clock=Clock(MORNING)) as here:
        await here.press("l")
        await here.type("faults", "enter")
        await here.press("p")
        assert "Ready to print:" in here.text
        here.clock.forward(1)
        await here.press("p")
    files = sorted((path.parent / "printed").iterdir())
    assert [file.name for file in files] == ["page-2026-03-02-080000.pdf", "page-2026-03-02-080001.pdf"]
    assert all(file.read_bytes().startswith(b"%PDF") for file in files)

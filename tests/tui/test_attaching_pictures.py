"""A picture is attached at the screens to what was written there last."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from tests.clock import Clock
from tests.plants import CLEAN, at, book_of, written_lines
from tests.tui.terminal import Terminal, terminal
from tui.screens.press.picture import completed
from upkeep.book import Book

MONDAY = at("2026-03-02 07:00")
FITTED = """
2026-03-01 22:00 fit M-12 in P-07 by ana
2026-03-01 22:00 fit DS-031 in M-12 by ana
2026-03-02 06:00 count P-07 1204300 by ana
2026-03-02 06:55 count P-07 1205000 by ana
"""


@pytest.fixture
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book, and beside it a folder with a picture and a text that is called one; the terminal stands there."""
    with book_of(tmp_path, FITTED, tasks=[CLEAN]) as book:
        found = book.path
    (tmp_path / "photos").mkdir()
    Image.new("RGB", (4, 3), "white").save(tmp_path / "photos" / "burr.png")
    (tmp_path / "photos" / "notes.png").write_text("no picture at all")
    monkeypatch.chdir(tmp_path)
    return found


async def report_burr(here: Terminal) -> None:
    """A fault, as an operator reports it."""
    await here.press("f")
    await here.type("burr", "enter")
    await here.press("n", "enter")


def lines(path: Path) -> list[str]:
    """The text of every entry."""
    with Book.open(path) as book:
        return list(written_lines(book))


async def test_a_picture_is_attached_to_the_fault_reported_last(path: Path) -> None:
    """With its path completed; the file is kept beside the book, and the proof of the book is clean."""
    async with terminal(lambda: Book.open(path), place="P-07", by="ben", clock=Clock(MONDAY)) as here:
        await report_burr(here)
        await here.press("a")
        await here.type("pho", "tab", "b", "tab", "enter")
        assert "ATTACHED: burr.png to #" in here.text
    fault, picture = lines(path)[-2:]
    assert " fault " in fault
    assert " picture " in picture
    assert " by ben" in picture
    with Book.open(path) as book:
        assert f" of #{min(one.entry for one in book.newest_written(2))} " in picture
        assert book.picture_troubles() == ()
        assert book.prove().clean
    assert len(list((path.parent / "pictures").iterdir())) == 1


async def test_a_picture_is_attached_to_a_sign_off_and_taken_back(path: Path) -> None:
    """The same key; undo takes the picture back first, then the sign-off."""
    async with terminal(lambda: Book.open(path), place="P-07", by="ben", clock=Clock(MONDAY)) as here:
        await here.press("1", "enter", "a")
        await here.type("photos/burr.png", "enter")
        assert " picture M-12 " in lines(path)[-1]
        await here.press("u")
        assert "UNDONE: picture for #" in here.text
        await here.press("u", "a")
        assert "A picture belongs to a fault, check or sign-off" in here.text


async def test_what_is_no_picture_is_refused_by_its_content_and_the_path_stays(path: Path) -> None:
    """Nothing is written and nothing kept; a file that is not there is said too."""
    async with terminal(lambda: Book.open(path), place="P-07", by="ben", clock=Clock(MONDAY)) as here:
        await report_burr(here)
        before = lines(path)
        await here.press("a")
        await here.type("photos/notes.png", "enter")
        assert "cannot be read as a picture" in here.text
        await here.type("x", "enter")
        assert "There is no file 'photos/notes.pngx'" in here.text.replace('"', "'")
        await here.press("enter")
    assert lines(path) == before
    assert not (path.parent / "pictures").exists()


async def test_without_an_entry_of_this_terminal_the_key_says_what_comes_first(path: Path) -> None:
    """A count takes no picture."""
    async with terminal(lambda: Book.open(path), place="P-07", by="ben", clock=Clock(MONDAY)) as here:
        await here.press("c")
        await here.type("1205100", "enter")
        await here.press("a")
        assert "write that here first" in here.text


def test_a_path_is_completed_as_far_as_it_is_clear(path: Path) -> None:
    """Folders with their stroke; several names are all told; none is nothing."""
    del path
    assert completed("pho") == ("photos/", ["photos/"])
    assert completed("photos/") == ("photos/", ["burr.png", "notes.png"])
    assert completed("photos/n") == ("photos/notes.png", ["notes.png"])
    assert completed("nowhere/n") == ("nowhere/n", ())

"""What happens to the file of a book while screens show it: replaced, moved away, found damaged."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.clock import Clock
from tests.plants import CLEAN, at, book_of, write, written_lines
from tests.tui.fake_book import counted
from tests.tui.terminal import SMALL, terminal
from upkeep.book import Book
from upkeep.said import said

MONDAY = at("2026-03-02 07:00")
TOLD = """
2026-03-01 22:00 fit M-12 in P-07 by ana
2026-03-02 06:00 count P-07 1204300 by ana
2026-03-02 06:55 count P-07 1205000 by ana
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """The file of a closed book in which M-12 ran this morning."""
    with book_of(tmp_path, TOLD, tasks=[CLEAN]) as book:
        book.backup(tmp_path / "night.book")
        return book.path


def moved_away(path: Path) -> None:
    """As whoever restores is told to do it, while screens are open."""
    for ending in ("", "-wal", "-shm"):
        if Path(f"{path}{ending}").exists():
            os.replace(f"{path}{ending}", f"{path}.lost{ending}")


def restored(path: Path) -> None:
    """Another file stands in the place of the book, with a hold in it."""
    moved_away(path)
    os.replace(path.with_name("night.book"), path)
    with Book.open(path) as book:
        write(book, '2026-03-02 06:58 hold M-12 by lea because "chip seen"')


async def test_a_restored_book_is_shown_within_two_looks(path: Path) -> None:
    """The first look says that the file was replaced, the next one opens it anew."""
    async with terminal(lambda: Book.open(path), clock=Clock(MONDAY)) as here:
        assert "1 held" not in here.text
        restored(path)
        await here.wait(1)
        assert "was replaced or moved away while this program had it open" in here.text
        await here.wait(1)
        assert "1 held" in here.text
        assert "chip seen" in here.text


async def test_no_sign_off_goes_into_the_old_file(path: Path) -> None:
    """Whether the screens have looked meanwhile or the sign-off meets it: it is in the book that is there."""
    async with terminal(lambda: Book.open(path), place="P-07", by="ben", clock=Clock(MONDAY)) as here:
        await here.press("1")
        moved_away(path)
        os.replace(path.with_name("night.book"), path)
        await here.type("ben", "enter")
        if "SIGNED" not in here.text:
            assert "was replaced or moved away" in here.text
            await here.press("enter")
        assert "SIGNED" in here.text
    with Book.open(path.with_name("plant.book.lost")) as lost:
        assert not [line for line in written_lines(lost) if " sign " in line]
    with Book.open(path) as book:
        assert len([line for line in written_lines(book) if " sign M-12/clean" in line]) == 1
        assert book.prove().clean


async def test_a_book_that_is_gone_is_said_until_it_is_back(path: Path) -> None:
    """Nobody makes an empty one in its place."""
    async with terminal(lambda: Book.open(path), clock=Clock(MONDAY)) as here:
        moved_away(path)
        await here.wait(1)
        await here.wait(1)
        assert "There is no book at" in here.text
        assert not path.exists()
        os.replace(path.with_name("night.book"), path)
        await here.wait(1)
        await here.wait(60)
        assert here.row_with("Task clean")
        assert "There is no book" not in here.text


@pytest.mark.parametrize("place", [None, "P-07"])
async def test_a_book_that_does_not_prove_is_told_over_every_screen(place: str | None) -> None:
    """As long as it stands so, on the board and on the round."""
    book = counted()
    async with terminal(book, SMALL, place=place) as here:
        assert "did not prove" not in here.text
        book.found = said("This book did not prove clean. Go by the last printed list.")
        await here.wait(1)
        assert "This book did not prove clean. Go by the last printed list." in here.text
        await here.press("down")
        assert "did not prove clean" in here.text
        book.found = None
        await here.wait(1)
        assert "did not prove" not in here.text


async def test_a_sign_off_into_it_is_taken_at_the_second_try(path: Path) -> None:
    """The first one warns and writes nothing."""
    with Book.open(path) as book:
        book.tell_everybody([said("Line 3 is not what was written.")])
    async with terminal(lambda: Book.open(path), place="P-07", by="ben", clock=Clock(MONDAY)) as here:
        await here.wait(1)
        await here.press("1")
        await here.type("ben", "enter")
        assert "Nothing was written; to write all the same, do it again." in here.text
        with Book.open(path) as book:
            assert not [line for line in written_lines(book) if " sign " in line]
        await here.press("enter")
        assert "SIGNED" in here.text
    with Book.open(path) as book:
        assert [line for line in written_lines(book) if " sign M-12/clean" in line]

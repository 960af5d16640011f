"""How the screens look, compared picture by picture: accepted ones lie beside this file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

import pytest
from textual.app import App
from textual.pilot import Pilot

from tests.clock import Clock
from tests.plants import CLEAN, INSPECT, at, book_of
from tests.tui.fake_book import MORNING, FakeBook
from tests.tui.terminal import LARGE, SMALL, Terminal
from tests.tui.test_check_screen import FITTED, FIVE, SHOP, TASKS
from tests.tui.test_home import OILING, STARTED, WIPE
from tests.tui.test_sign_screen import inspected
from tui.app import StrokebookApp
from tui.screens.frame.book_door import BookDoor
from upkeep.book import Book

SIZES = pytest.mark.parametrize("size", [SMALL, LARGE], ids=["80x24", "160x48"])


class Compare(Protocol):
    """What the snapshot plugin offers."""

    def __call__(self, app: App[None], *, terminal_size: tuple[int, int], run_before: object) -> bool:
        """Whether the app looks as accepted."""


def looks_as_accepted(
    compare: Compare, book: FakeBook, size: tuple[int, int], *keys: str, place: str | None = None, by: str | None = None
) -> bool:
    """Whether the screen over a book after these keys is the accepted picture."""
    return opened_looks_as_accepted(compare, lambda: book, Clock(MORNING), size, *keys, place=place, by=by)


def opened_looks_as_accepted(
    compare: Compare, opener: Callable[[], BookDoor], clock: Clock, size: tuple[int, int], *keys: str,
    place: str | None = None, by: str | None = None, language: str = "en",
) -> bool:  # fmt: skip
    """The same where the book is opened by the screens themselves."""
    app = StrokebookApp(opener, clock, place=place, by=by, language=language)

    async def drive(pilot: Pilot[None]) -> None:
        await Terminal(app, pilot, clock).settle()
        for key in keys:
            await Terminal(app, pilot, clock).press(key)

    return compare(app, terminal_size=size, run_before=drive)


@SIZES
def test_the_board_looks_as_accepted(snap_compare: Compare, size: tuple[int, int]) -> None:
    """With a line in every calling state."""
    assert looks_as_accepted(snap_compare, FakeBook(), size, "down", by="ben")


@SIZES
def test_the_round_looks_as_accepted(snap_compare: Compare, size: tuple[int, int]) -> None:
    """With a hold, a count, and the proof of a sign-off."""
    book = FakeBook(held_for={"M-12": "feed finger cracked, new one on order"}, counts={"P-07": (1_204_300, MORNING)})
    assert looks_as_accepted(snap_compare, book, size, "1", "enter", place="P-07", by="ana")


@SIZES
def test_the_sign_off_form_looks_as_accepted(snap_compare: Compare, size: tuple[int, int]) -> None:
    """With a reading in limits and one out of them."""
    assert looks_as_accepted(snap_compare, inspected(), size, "s", *"1,25", "enter", *"1.4", by="ben")


@pytest.mark.parametrize(("place", "by"), [(None, "ben"), ("P-07", "ana")])
def test_each_home_looks_as_accepted_in_spanish(snap_compare: Compare, place: str | None, by: str) -> None:
    """The board and the round: longer words, in the same 80 columns."""
    book = FakeBook(held_for={"M-12": "feed finger cracked, new one on order"})
    clock = Clock(MORNING)
    assert opened_looks_as_accepted(snap_compare, lambda: book, clock, SMALL, place=place, by=by, language="es")


def test_signing_in_a_round_looks_as_accepted(snap_compare: Compare) -> None:
    """The box with caution, meaning and name."""
    book = FakeBook(counts={"P-07": (1_204_300, MORNING)})
    assert looks_as_accepted(snap_compare, book, SMALL, "1", place="P-07", by="ana")


def test_the_page_of_a_line_looks_as_accepted(snap_compare: Compare) -> None:
    """Why, edges, life, history."""
    assert looks_as_accepted(snap_compare, FakeBook(), SMALL, "enter")


@pytest.mark.parametrize(
    ("size", "plain"), [(SMALL, False), ((120, 40), False), (SMALL, True)], ids=["80x24", "120x40", "monochrome"]
)
def test_the_page_a_lead_begins_with_looks_as_accepted(
    snap_compare: Compare, size: tuple[int, int], plain: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Counts, rows under headings, the week; without any colour it says the same."""
    if plain:
        monkeypatch.setenv("NO_COLOR", "1")
    with book_of(tmp_path, STARTED, tasks=[CLEAN, INSPECT, OILING, WIPE]) as book:
        path = book.path
    clock = Clock(at("2026-03-02 07:00"))
    assert opened_looks_as_accepted(snap_compare, lambda: Book.open(path), clock, size, by="lea")


def test_what_was_found_looks_as_accepted(snap_compare: Compare) -> None:
    """All symptoms with their numbers, nothing in colour alone."""
    assert looks_as_accepted(snap_compare, FakeBook(), SMALL, "f", by="ben")


def test_a_symptom_with_its_caution_looks_as_accepted(snap_compare: Compare) -> None:
    """Picked, and asked whether it stands still."""
    assert looks_as_accepted(snap_compare, FakeBook(), SMALL, "f", "1", "enter", by="ben")


@SIZES
def test_the_check_form_looks_as_accepted(snap_compare: Compare, size: tuple[int, int], tmp_path: Path) -> None:
    """With a height in limits, one out of them, and one being typed."""
    with book_of(tmp_path, FITTED, tasks=TASKS, more=(*SHOP, FIVE)) as book:
        path = book.path
    clock, keys = Clock(at("2026-03-02 07:00")), (*"1,29", "enter", *"1.352", "enter", *"1.3")
    assert opened_looks_as_accepted(snap_compare, lambda: Book.open(path), clock, size, "k", *keys, place="P-07")


def test_what_the_book_answers_looks_as_accepted(snap_compare: Compare, tmp_path: Path) -> None:
    """A bad look: the set is held, said in a box before anything else is done."""
    with book_of(tmp_path, FITTED, tasks=TASKS, more=(*SHOP, FIVE)) as book:
        path = book.path
    keys = ("k", *(key for _ in range(5) for key in (*"1.3", "enter")), "g", "b", "g", *"ana", "ctrl+s")
    clock = Clock(at("2026-03-02 07:00"))
    assert opened_looks_as_accepted(snap_compare, lambda: Book.open(path), clock, SMALL, *keys, place="P-07")

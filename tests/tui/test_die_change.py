"""A change of tools at a terminal: one path, with at most twelve actions besides its values."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.change_of_tools import BEFORE_IT, MORE
from tests.clock import Clock
from tests.plants import CLEAN, at, book_of, write
from tests.tui.terminal import Terminal, terminal
from upkeep.book import Book

MORNING = at("2026-03-02 06:05")


@pytest.fixture
def path(tmp_path: Path) -> Iterator[Path]:
    with book_of(tmp_path, BEFORE_IT, tasks=[CLEAN], more=MORE) as book:
        yield book.path


class Hands:
    """Counts what somebody does at a terminal: a key, or a value with Enter; ``values`` are not counted."""

    def __init__(self, here: Terminal) -> None:
        self.here, self.actions = here, 0

    async def press(self, *keys: str) -> None:
        """Keys that are actions."""
        self.actions += len(keys)
        await self.here.press(*keys)

    async def values(self, *typed: str) -> None:
        """Values, each with Enter; an empty one goes on to the next field, a figure alone picks."""
        for value in typed:
            await self.here.press(*value, *([] if value.isdigit() and len(value) == 1 else ["enter"]))


def told(path: Path, number: int) -> list[str]:
    with Book.open(path) as book:
        return [line.text.split(" ", 2)[2].rpartition(" by ")[0] for line in reversed(book.newest_written(number))]


async def test_the_whole_path_takes_twelve_actions_at_most(path: Path) -> None:
    async with terminal(lambda: Book.open(path), place="P-07", by="ana", clock=Clock(MORNING), size=(120, 40)) as here:
        hands = Hands(here)
        await here.press("escape")
        await hands.press("m", "enter")
        assert "DS-102 Item DS-102, now at rack, for A-1" in here.text
        await hands.press("enter")
        assert "CAUTION" in here.text
        assert "DS-031 out, with its last piece" in here.text
        await hands.values("950", "1.2", "", "1", "", "")
        await hands.press("enter")
        assert "last time 4 step, on P-08" in here.text
        await hands.values("4.5", "", "")
        await hands.press("enter")  # the set is in
        assert "Turn by hand" in here.text
        await hands.press("enter")  # signed by hand
        await hands.values("1.2")
        await hands.press("enter")  # the slug
        await hands.values("1.2", "", "1")
        await hands.press("enter")  # the first piece
        assert "Ask Eva." in here.text  # the certificate of the guard is an appointed person's
        await hands.press("o")
        await hands.values("eva")
        await hands.press("enter", "enter")
        await hands.press("enter")
        assert "No change is open." in here.text
        assert hands.actions <= 12, hands.actions
    lines = told(path, 10)
    assert lines.pop(8).startswith("sign P-07/guard for tool-setting.")
    assert lines == [
        "changeover P-07 begun to DS-102",
        "check DS-031 last-off on P-07 of CR-1 with G-1 height=1.2 bellmouth:good within height=1.15:1.25",
        "unfit DS-031 at P-07 950 to rack",
        "fit DS-102 in M-12 at P-07 950",
        "check DS-102 set-up on P-07 of CR-1 dial=4.5",
        lines[5],
        "check DS-102 slug on P-07 of CR-1 slug-height=1.2 within slug-height=1.0:1.4",
        "check DS-102 first-off on P-07 of CR-1 with G-1 height=1.2 bellmouth:good within height=1.15:1.25",
        "changeover P-07 released",
    ]


async def test_paused_taken_over_and_given_up(path: Path) -> None:
    async with terminal(lambda: Book.open(path), place="P-07", by="ana", clock=Clock(MORNING), size=(120, 40)) as here:
        await here.press("escape", "m", "enter", "enter", "escape", "p", "2")
        await here.type("950", "enter", "enter")
        assert "PAUSED by Ana" in here.text
        assert "waits for a part" in here.text
        await here.wait(60)
        await here.press("o", *"ben", "enter", "enter")
        await here.type("960", "enter", "enter", "escape")
        assert "VOID: the press ran 10 strokes" in here.text
        assert "Ben has it in hand now." in here.text
        await here.press("x")
        await here.type("wrong set", "enter", "enter")
        assert "No change is open." in here.text
    assert told(path, 4)[1:] == [
        "count P-07 960",
        "changeover P-07 resumed",
        'changeover P-07 given-up text "wrong set"',
    ]


async def test_what_is_held_is_told_before_it_begins(path: Path) -> None:
    with Book.open(path) as book:
        write(book, '2026-03-02 06:00 hold DS-102 by lea because "burr"')
    async with terminal(lambda: Book.open(path), place="P-07", by="ana", clock=Clock(MORNING), size=(120, 40)) as here:
        await here.press("escape", "m", "enter", "enter")
        assert "DS-102 must not run: burr." in here.text
        await here.press("enter")
        assert "It must not run until it is released." in here.text
    assert told(path, 1) == ["hold DS-102"]

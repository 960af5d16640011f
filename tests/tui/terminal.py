"""A person at a terminal in a test: keys in, rows of text out, and a clock that moves when the test says so."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta

from textual.pilot import Pilot

from tests.tui.fake_book import MORNING
from tui.app import StrokebookApp
from tui.screens.clerk import BookDoor

SMALL, LARGE = (80, 24), (160, 48)
_ROUNDS = 4
"""Answers of the book that one key may wait for, one after another: a form, a write, a look, rows in sight."""


@dataclass
class Clock:
    """Stands still until it is moved."""

    at: datetime = MORNING

    def __call__(self) -> datetime:
        return self.at

    def forward(self, seconds: float) -> None:
        """Moves on."""
        self.at += timedelta(seconds=seconds)


@dataclass
class Terminal:
    """One running app with its clock."""

    app: StrokebookApp
    pilot: Pilot[None]
    clock: Clock

    async def settle(self) -> None:
        """Waits until the book has answered what was asked so far and the answers are on the screen."""
        for _ in range(_ROUNDS):
            await self.pilot.pause()
            await self.app.desk.clerk.ask(lambda book: None)
        await self.pilot.pause()

    async def press(self, *keys: str) -> None:
        """Presses keys one after another, then waits until the screen is quiet."""
        await self.pilot.press(*keys)
        await self.settle()

    async def type(self, text: str, *then: str) -> None:
        """Types a text, and keys after it."""
        await self.press(*_keys(text), *then)

    async def wait(self, seconds: float) -> None:
        """Lets the clock move on and the screens notice."""
        self.clock.forward(seconds)
        self.app.look_for_changes()
        tick: Callable[[], None] | None = getattr(self.app.screen, "tick", None)
        if tick is not None:
            tick()
        await self.settle()

    @property
    def rows(self) -> list[str]:
        """The rows on the screen, from top to bottom."""
        strips = self.app.screen._compositor.render_strips()
        return ["".join(segment.text for segment in strip).rstrip() for strip in strips]

    @property
    def text(self) -> str:
        """All on the screen, in one line of words; where a box lies over a row, what stands in the box."""
        rows = (row.split("┃")[1] if row.count("┃") == 2 else row for row in self.rows)
        return " ".join(" ".join(rows).split())

    def row_with(self, words: str) -> str:
        """The first row that holds these words."""
        return next((row for row in self.rows if words in row), "")


def _keys(text: str) -> list[str]:
    return ["space" if char == " " else char for char in text]


@asynccontextmanager
async def terminal(
    book: BookDoor | Callable[[], BookDoor],
    size: tuple[int, int] = SMALL,
    *,
    place: str | None = None,
    by: str | None = None,
    clock: Clock | None = None,
) -> AsyncIterator[Terminal]:
    """A terminal at a book (or at what opens one), started and quiet."""
    clock = clock or Clock()
    opener = book if callable(book) else lambda: book
    app = StrokebookApp(opener, clock, place=place, by=by)
    async with app.run_test(size=size) as pilot:
        here = Terminal(app, pilot, clock)
        await here.settle()
        yield here

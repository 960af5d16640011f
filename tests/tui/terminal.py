"""A person at a terminal in a test: keys in, rows of text out, and a clock that moves when the test says so."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from typing import Any

from textual.message_pump import MessagePump
from textual.pilot import Pilot
from textual.worker import Worker

from tests.clock import Clock
from tests.tui.fake_book import MORNING
from tui.app import StrokebookApp
from tui.screens.frame.base import DeskScreen
from tui.screens.frame.book_door import BookDoor

SMALL, LARGE = (80, 24), (160, 48)
_PATIENCE_SECONDS = 120.0
_A_MOMENT = 0.001
"""Seconds between two looks while something is under way."""

_QUIET_LOOKS = 3
"""How often in a row nothing must be under way: what was drawn may still ask for more."""


@dataclass
class Terminal:
    """One running app with its clock."""

    app: StrokebookApp
    pilot: Pilot[None]
    clock: Clock

    async def settle(self) -> None:
        """Waits, however long it takes, until the book has answered all and the answers are on the screen."""
        async with asyncio.timeout(_PATIENCE_SECONDS):
            quiet = 0
            while quiet < _QUIET_LOOKS and self.app._exception is None:
                await asyncio.sleep(0 if quiet else _A_MOMENT)
                quiet = 0 if self._busy() else quiet + 1
                self.app.screen._on_timer_update()  # draws what has changed

    def _busy(self) -> bool:
        """Whether something is under way that needs no person: work with the book, a message not yet heard."""
        at_work = any(not worker.is_finished and not _waits_for_a_person(worker) for worker in self.app.workers)
        pumps = [self.app, *(node for screen in self.app.screen_stack for node in screen.walk_children(with_self=True))]
        return at_work or not all(_listens(pump) for pump in pumps)

    async def press(self, *keys: str) -> None:
        """Presses keys as a person does who looks before the next: the screen is quiet after each."""
        for key in keys:
            await self.app._press_keys((key,))
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


def _listens(pump: MessagePump) -> bool:
    """Whether a part of the screens has heard all its messages and waits for the next, or has left.

    The pilot of Textual sends each part a message and waits until all have come through, several times a key: that was
    three quarters of what a test of a form took.
    """
    heard: Any = pump._message_queue
    waits = heard.empty() and bool(heard.ready_event._waiters)
    return waits or (pump._task is not None and pump._task.done())


def _waits_for_a_person(worker: Worker[Any]) -> bool:
    """Whether the work of a screen waits for the answer of another screen."""
    step = worker._task.get_coro() if worker._task else None
    while step is not None:
        if getattr(step, "__qualname__", "") == DeskScreen.shown.__qualname__:
            return True
        step = getattr(step, "cr_await", None)
    return False


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
    clock = clock or Clock(MORNING)
    opener = book if callable(book) else lambda: book
    app = StrokebookApp(opener, clock, place=place, by=by)
    async with app.run_test(size=size) as pilot:
        here = Terminal(app, pilot, clock)
        await here.settle()
        yield here

"""The one thread that holds a book.  Who asks hands it a question and waits without holding up anybody else."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Generic, Protocol, TypeVar

from upkeep.errors import BookReplaced


class Closing(Protocol):
    """What lets go of a file."""

    def close(self) -> None:
        """Lets go of it."""


Answer = TypeVar("Answer")
Door = TypeVar("Door", bound=Closing)


class Clerk(Generic[Door]):
    """Opens the book in a thread of its own and answers one question after another there.

    SQLite connections belong to the thread that made them, so nobody else touches the book.  A question whose asker
    went away before its turn is dropped.
    """

    def __init__(self, open_book: Callable[[], Door]) -> None:
        self._open_book = open_book
        self._book: Door | None = None
        self._thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="book")
        self._closed = False

    def open(self) -> None:
        """Opens the book and waits for it; raises BookUnavailable or BookDamaged."""
        self._thread.submit(self._opened).result()

    def _opened(self) -> Door:
        if self._book is None:
            self._book = self._open_book()
        return self._book

    async def ask(self, question: Callable[[Door], Answer]) -> Answer:
        """The answer to a question; what the book refuses is raised here.  After a file that was replaced under it the
        book is opened anew for the next question.  Who still asks when the book was closed, at the end of the program,
        is cancelled."""
        if self._closed:
            raise asyncio.CancelledError
        loop = asyncio.get_running_loop()
        return await loop.run_in_executor(self._thread, lambda: self._answer(question))

    def _answer(self, question: Callable[[Door], Answer]) -> Answer:
        try:
            return question(self._opened())
        except BookReplaced:
            self._let_go()
            raise

    def close(self) -> None:
        """Closes the book after the questions already asked, and ends the thread."""
        self._closed = True
        self._thread.submit(self._let_go).result()
        self._thread.shutdown()

    def _let_go(self) -> None:
        if self._book is not None:
            self._book.close()
            self._book = None

"""A small pool of threads that read: each holds the book open for itself."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import TypeVar

from upkeep.book import Book
from upkeep.book.clerk import Clerk

Answer = TypeVar("Answer")


class Readers:
    """Gives each question to a reader that is free; the others wait in order."""

    def __init__(self, open_book: Callable[[], Book], number: int = 2) -> None:
        self._readers = [Clerk(open_book) for _ in range(number)]
        self._free: asyncio.Queue[Clerk[Book]] | None = None

    def open(self) -> None:
        """Opens the book for each; raises BookUnavailable or BookDamaged."""
        for reader in self._readers:
            reader.open()

    async def ask(self, question: Callable[[Book], Answer]) -> Answer:
        """The answer to a question; what the book refuses is raised here."""
        if self._free is None:
            self._free = asyncio.Queue()
            for reader in self._readers:
                self._free.put_nowait(reader)
        reader = await self._free.get()
        try:
            return await reader.ask(question)
        finally:
            self._free.put_nowait(reader)

    def close(self) -> None:
        """Closes the book for each, after the questions already asked."""
        for reader in self._readers:
            reader.close()

"""The books that several measurements share, each made when it is first asked for."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path

from demo_plant.build import build
from tests.benchmarks.big_book import big_book

DEMO_DAYS = 90
DEMO_ENDS = datetime(2026, 5, 18, 9, tzinfo=UTC)
"""A Monday morning."""


class Books:
    """Books in one folder, which is thrown away afterwards."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    @cached_property
    def big(self) -> Path:
        """A book of 100,000 lines."""
        return big_book(self.folder / "big.book")

    @cached_property
    def demo(self) -> Path:
        """The demo plant with 90 days behind it."""
        path = self.folder / "demo.book"
        build(path, end=DEMO_ENDS, days=DEMO_DAYS).close()
        return path

"""The name of a line: a task on an item, ``M-12/clean-module``."""

from __future__ import annotations

from typing import NamedTuple


class LineName(NamedTuple):
    """An item and a task on it; as text the two with a slash between."""

    item: str
    task: str

    def __str__(self) -> str:
        return f"{self.item}/{self.task}"

    @classmethod
    def read(cls, text: str) -> LineName:
        """The name behind a text; where no slash is in it, it names an item and an empty task."""
        item, _, task = text.partition("/")
        return cls(item, task)

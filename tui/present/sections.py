"""A list of rows under headings, as text."""

from __future__ import annotations

from typing import Generic, NamedTuple, TypeVar

Row = TypeVar("Row")


class Shown(NamedTuple, Generic[Row]):
    """A row of the list: its text, and what it stands for; None: the heading of a part, or a row nobody selects."""

    text: str
    row: Row | None

"""Sums over many rows, for figures: made by the file, for a page never looks at single ones."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.store.file import BookFile


class SignedRow(NamedTuple):
    """How often somebody signed a task on an item as done over some time."""

    item: str
    task: str
    by: str
    number: int


class InspectedRow(NamedTuple):
    """How many sign-offs of an item judged something over some time (a grade, a measured value), and how many of them
    found something: a grade of ``WORN`` or worse, a value out of its limits."""

    item: str
    inspected: int
    found: int


WORN = 2
"""The grade from which wear is visible and something follows."""


class Tallied:
    """Counts rows of sign-offs over [start, end)."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def signed(self, start: str, end: str) -> list[SignedRow]:
        """The work that was signed, by item, task and person."""
        return self._file.all(
            SignedRow,
            "SELECT item, task, by, count(*) AS number FROM sign_offs WHERE how = 'done' AND at >= ? AND at < ? "
            "GROUP BY item, task, by",
            (start, end),
        )

    def inspected(self, start: str, end: str) -> list[InspectedRow]:
        """The inspections, by item."""
        return self._file.all(
            InspectedRow,
            "SELECT item, count(*) AS inspected, sum(ifnull(grade, 0) >= ? OR out <> '') AS found FROM sign_offs "
            "WHERE how = 'done' AND at >= ? AND at < ? AND (grade IS NOT NULL OR points <> '{}') GROUP BY item",
            (WORN, start, end),
        )

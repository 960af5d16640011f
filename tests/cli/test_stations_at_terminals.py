"""The screens of a place: they open again by themselves until a keeper closes them."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from upkeep.cli.screens import kept_open
from upkeep.errors import BookUnavailable, NotFound
from upkeep.said import said


def closing(*how: int | Exception) -> Callable[[], int]:
    """A run of the screens that ends so, each time it is opened."""
    ways = list(how)

    def run() -> int:
        way = ways.pop(0)
        if isinstance(way, Exception):
            raise way
        return way

    return run


def test_a_station_opens_again_after_a_fault_of_the_program_and_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    """In a sentence, with nobody named any more; a keeper's closing ends it."""
    waits: list[float] = []
    again = closing(BookUnavailable(said("The disk is away.")), 0)
    assert kept_open(closing(ZeroDivisionError("x")), again, waits.append) == 0
    told = capsys.readouterr().err.splitlines()
    assert told == [
        "The station closed: a fault of the program, ZeroDivisionError: x. It opens again in 5 seconds.",
        "The station closed: The disk is away. It opens again in 5 seconds.",
    ]
    assert waits == [5, 5]


def test_what_is_refused_at_the_first_opening_is_not_tried_again() -> None:
    """An unknown place stays unknown."""
    with pytest.raises(NotFound):
        kept_open(closing(NotFound(said("place"), "P-99")), closing(), lambda seconds: None)

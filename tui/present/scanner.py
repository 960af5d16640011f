"""A scanner is a keyboard: the code of a badge begins with a mark and ends with Enter, whatever field is open."""

from __future__ import annotations

from string import ascii_letters, digits
from typing import Generic, TypeVar

from upkeep.plant.people import BADGE_MARK

SHORTEST = 16
"""Letters of a badge's number: what is shorter was typed by a person."""

_LETTERS = frozenset(ascii_letters + digits)

Pressed = TypeVar("Pressed")
"""A key as whoever listens knows it."""


class Scanner(Generic[Pressed]):
    """Holds keys back from a mark on, until it is clear whether they are the code of a badge; if not, none is lost."""

    def __init__(self) -> None:
        self._held: list[Pressed] = []
        self._number = ""
        self.scanned: str | None = None
        """The number of a badge that came in whole with the last key; None: none did."""

    def passes_on(self, pressed: Pressed, key: str, character: str | None) -> list[Pressed]:
        """Takes a key; gives those, in their order, that are no part of a badge's code."""
        self.scanned = None
        if not self._held:
            if character != BADGE_MARK:
                return [pressed]
            self._held = [pressed]
            return []
        if key == "enter" and len(self._number) >= SHORTEST:
            self.scanned = self._number
            self._held, self._number = [], ""
            return []
        self._held.append(pressed)
        if character is not None and character in _LETTERS:
            self._number += character
            return []
        held, self._held, self._number = self._held, [], ""
        return held

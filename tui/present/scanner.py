"""A scanner is a keyboard: a code begins with a mark and ends with Enter, whatever field is open."""

from __future__ import annotations

from string import ascii_letters, digits
from typing import Generic, TypeVar

from upkeep.scan_codes import MARK, is_like_a_code

_LETTERS = frozenset(f"{ascii_letters}{digits}._-")

Pressed = TypeVar("Pressed")
"""A key as whoever listens knows it."""


class Scanner(Generic[Pressed]):
    """Holds keys back from a mark on, until it is clear whether they are a code; if not, none is lost."""

    def __init__(self) -> None:
        self._held: list[Pressed] = []
        self._typed = ""
        self.scanned: str | None = None
        """What came in with the last key and has the shape of a code; None: nothing did."""

    def passes_on(self, pressed: Pressed, key: str, character: str | None) -> list[Pressed]:
        """Takes a key; gives those, in their order, that are no part of a code."""
        self.scanned = None
        if not self._held:
            if character != MARK:
                return [pressed]
            self._held, self._typed = [pressed], MARK
            return []
        if key == "enter" and is_like_a_code(self._typed):
            self.scanned = self._typed
            self._held, self._typed = [], ""
            return []
        self._held.append(pressed)
        if character is not None and character in _LETTERS:
            self._typed += character
            return []
        held, self._held, self._typed = self._held, [], ""
        return held

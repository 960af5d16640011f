"""The one thing this floor refuses: an answer from fewer numbers than it takes."""

from __future__ import annotations


class TooFew(ValueError):
    """Too few numbers for the answer asked for; ``needed`` of ``what`` it takes, ``found`` there were."""

    def __init__(self, needed: int, what: str, found: int) -> None:
        self.needed, self.what, self.found = needed, what, found
        super().__init__(f"this takes at least {needed} {what}; there are {found}")

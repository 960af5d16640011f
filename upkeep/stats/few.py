"""The one thing this floor refuses: an answer from fewer numbers than it takes."""

from __future__ import annotations

from upkeep.said import Said, said


class TooFew(ValueError):
    """Too few numbers for the answer asked for; ``needed`` of ``what`` it takes, ``found`` there were."""

    def __init__(self, needed: int, what: Said, count: int) -> None:
        self.needed, self.what, self.found = needed, what, count
        self.said = said(
            "at least {needed} {what} are needed; there are only {found}", needed=needed, what=what, found=count
        )
        super().__init__(self.said)

    def __str__(self) -> str:
        return str(self.said)

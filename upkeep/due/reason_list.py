"""All reasons of a line together.  A board carries them unread, so here none of the kinds of reason is imported."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from upkeep.due.reasons import Reason


class Reasons:
    """All reasons of a line, in the order in which they are said; equal where these are."""

    __slots__ = ("_all",)

    def __init__(self, all_reasons: tuple[Reason, ...]) -> None:
        self._all = all_reasons

    @property
    def all(self) -> tuple[Reason, ...]:
        """Each of them."""
        return self._all

    def __eq__(self, other: object) -> bool:
        return self.all == other.all if isinstance(other, Reasons) else NotImplemented

    def __hash__(self) -> int:
        return hash(self.all)

    def __repr__(self) -> str:
        return f"Reasons({self.all!r})"

"""Frozen views of suspect product: windows, their lines, and what became of them."""

from __future__ import annotations

from datetime import datetime

from upkeep.frozen import frozen
from upkeep.said import Said


@frozen
class Quantity:
    """Pieces booked on a press in a line's time: how many, for which order, over [since, until)."""

    pieces: int
    order: str | None
    since: datetime
    until: datetime


@frozen
class Judged:
    """What became of a line: how, by whom, when, why, how many strokes it had then, and how many of its pieces became
    what (none: it was not told piece by piece)."""

    how: str
    by: str
    at: datetime
    strokes: int
    because: str
    entry: int
    pieces: tuple[tuple[str, int], ...] = ()


@frozen
class SuspectLine:
    """Suspect strokes on one press over [since, until).

    ``strokes`` are the most it can be, set-up and dry strokes (``no_product``) taken off; ``low`` and ``best`` beside
    it where they had to be guessed.  ``count_from`` and ``count_to`` are what the counter showed; None where it does
    not say (``about`` where they lie between readings).  ``orders`` are those that checks name and no quantity does;
    ``people`` everybody who set up, ran or checked.
    """

    row: int
    press: str
    since: datetime
    until: datetime
    low: int
    best: int
    strokes: int
    no_product: int
    count_from: int | None
    count_to: int | None
    about: bool
    quantities: tuple[Quantity, ...]
    reels: tuple[str, ...]
    wires: tuple[str, ...]
    people: tuple[str, ...]
    judged: Judged | None
    orders: tuple[str, ...] = ()

    @property
    def open(self) -> bool:
        """Whether nobody has judged it yet, or it has grown since."""
        return self.judged is None or self.judged.strokes < self.strokes


@frozen
class NotCounted:
    """A press on which the item ran from ``since`` on and that was last read at ``read``, before that ended; None: it
    never was.  How much it made is not known."""

    press: str
    read: datetime | None
    since: datetime


@frozen
class HoldList:
    """The suspect product behind one failed check (or a run while held), numbered by the entry that opened it.

    ``point`` is the characteristic that failed, empty for a run while held.  ``passed_over`` are good checks that do
    not count, each with its reason; ``restricted`` says who let the window begin later, and why.  ``also`` are further
    failed checks of the same window.  ``changes`` happened within it and do not shorten it; ``sideways`` is what else
    to look at.  ``not_counted`` are presses that have to be read before anybody knows what is suspect.

    ``strokes`` are the most the item can have done in the window: no more than the sum of its lines, and less where
    several lie in one step between two readings.
    """

    number: int
    item: str
    point: str
    found_at: datetime
    found_by: str
    found: Said
    start: datetime
    start_entry: int | None
    start_why: Said
    passed_over: tuple[Said, ...]
    restricted: Said | None
    end: datetime
    end_why: Said
    lines: tuple[SuspectLine, ...]
    strokes: int
    also: tuple[int, ...]
    changes: tuple[Said, ...]
    sideways: tuple[Said, ...]
    not_counted: tuple[NotCounted, ...] = ()

    @property
    def open(self) -> bool:
        """Whether a line still waits to be judged, or a press to be counted."""
        return bool(self.not_counted) or any(line.open for line in self.lines)

"""What all screens of one terminal share: the way to the book, the moment, who is here, and the last sign-off."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from tui.screens.clerk import Clerk
from upkeep.book.views import Written
from upkeep.entries.kinds import Entry, Strike
from upkeep.plant.model import PlantFacts
from upkeep.units.instants import Zone

IDLE_UNTIL_FORGOTTEN = timedelta(seconds=120)
"""How long a round remembers who is here after the last key (plant default, no source)."""


@dataclass(frozen=True, slots=True)
class Here:
    """A person who said who they are: short id and name."""

    id: str
    name: str


@dataclass(frozen=True, slots=True)
class Signed:
    """A sign-off made at this terminal: the entry, what it says to the person, and until when it can be undone."""

    entry: int
    by: Here
    at: datetime
    what: str
    meaning: str
    undo_until: datetime


@dataclass(slots=True)
class Desk:
    """One terminal.  ``now`` is the moment the screens stand at, ``recording`` the moment of writing;
    ``touched`` is when a key was last pressed."""

    clerk: Clerk
    now: Callable[[], datetime]
    recording: Callable[[], datetime]
    here: Here | None = None
    signed: Signed | None = None
    touched: datetime | None = None
    zone: Zone = field(default_factory=lambda: Zone("UTC"))
    facts: PlantFacts = field(default_factory=PlantFacts)

    async def learn(self) -> None:
        """Learns the plant's zone and facts from the book."""
        self.zone, self.facts = await self.clerk.ask(lambda book: (book.zone, book.facts))

    async def write(self, entry: Entry) -> int:
        """The number of the entry, written now; raises what the book refuses."""
        return (await self.written(entry)).entries[0]

    async def written(self, entry: Entry) -> Written:
        """What the book answers to the entry, written now: its number and what it wants told."""
        recorded_at = self.recording()
        return await self.clerk.ask(lambda book: book.write([entry], recorded_at=recorded_at))

    def can_undo(self) -> Signed | None:
        """The last sign-off made here, while it can be undone."""
        return self.signed if self.signed is not None and self.now() <= self.signed.undo_until else None

    async def undo(self) -> Signed | None:
        """Takes the last sign-off back and tells which it was; None if there is none to undo."""
        signed = self.can_undo()
        if signed is None:
            return None
        await self.write(Strike(at=self.now(), by=signed.by.id, entry=signed.entry, because="undo"))
        self.signed = None
        return signed

    def forget_after_idling(self) -> bool:
        """Forgets who is here when nobody pressed a key for long enough; True if somebody was forgotten."""
        idle = self.here is not None and self.touched is not None and self.now() - self.touched >= IDLE_UNTIL_FORGOTTEN
        if idle:
            self.here = None
        return idle

"""What all screens of one terminal share: the way to the book, the moment, who is here, and the last sign-off."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from tui.present.moments import Now
from tui.screens.frame.book_door import BookDoor
from upkeep.book.clerk import Clerk
from upkeep.errors import ClockAhead, NotProven, Refused
from upkeep.frozen import frozen
from upkeep.plant.names import Names
from upkeep.plant.values.facts import PlantFacts, SignedWith
from upkeep.said import Said, in_turn, said
from upkeep.units.instants import Zone
from upkeep.wording.sentences import ENGLISH, Reader, text

if TYPE_CHECKING:
    from upkeep.book import Proven
    from upkeep.entries.entry import Entry
    from upkeep.views.written import Written


@frozen
class Here:
    """A person who said who they are: short id and name; ``proven``: how that was proven, where the plant wants it."""

    id: str
    name: str
    proven: Proven | None = None


@frozen
class Signed:
    """What was written at this terminal at once: its entries, what they say to the person, until when they can be
    undone, and what the book answered (``notes``).  ``meaning`` is what a signature means, None where none is shown
    as one (a count, a fault); ``item`` what a picture of it would show, None where none belongs to it (a count)."""

    entries: tuple[int, ...]
    by: Here
    at: datetime
    what: Said
    meaning: Said | None
    undo_until: datetime
    notes: tuple[Said, ...] = ()
    item: str | None = None


def readers(book: BookDoor, language: str) -> dict[str | None, Reader]:
    """Who reads at a terminal of a language: whoever comes, and everybody who has a language of their own."""
    found: dict[str | None, Reader] = {None: book.reader(language)}
    spoken = ((person.id, person.language) for person in book.people())
    return found | {key: book.reader(own) for key, own in spoken if own is not None}


@dataclass(slots=True)
class Desk:
    """One terminal.  ``now`` is the moment the screens stand at, ``recording`` the moment of writing;
    ``touched`` is when a key was last pressed; ``done`` what was written here and not undone, the newest
    last; ``language`` is that of the terminal, ``readers`` who reads here by their ids, None for whoever is not named;
    ``takes_picture`` what was written here last that a picture may belong to; ``unproven`` that the book did not
    prove clean; ``station`` the place where this terminal stands; ``area`` the one the lead looks at (None: all)."""

    clerk: Clerk[BookDoor]
    now: Callable[[], datetime]
    recording: Callable[[], datetime]
    here: Here | None = None
    touched: datetime | None = None
    done: list[Signed] = field(default_factory=list)
    takes_picture: Signed | None = None
    language: str = ENGLISH.language
    readers: Mapping[str | None, Reader] = field(default_factory=dict)
    zone: Zone = field(default_factory=lambda: Zone("UTC"))
    facts: PlantFacts = field(default_factory=PlantFacts)
    names: Names = field(default_factory=Names)
    unproven: Said | None = None
    station: str | None = None
    area: str | None = None

    @property
    def reader(self) -> Reader:
        """Who reads: the person at the desk in their language, else whoever comes in that of the terminal."""
        named = self.readers.get(self.here.id) if self.here is not None else None
        return named or self.readers.get(None) or Reader(self.language)

    def words(self, sentence: Said) -> str:
        """A sentence in the words of who reads here."""
        return text(sentence, self.reader)

    async def learn(self) -> None:
        """Learns the plant's zone, its facts, the names of its people and their languages from the book."""
        self.zone, self.facts, self.names, self.readers = await self.clerk.ask(
            lambda book: (book.zone, book.facts, book.names, readers(book, self.language))
        )

    def standing_at(self, at: datetime) -> Now:
        """What the texts of a screen need that stands at a moment."""
        return Now(at, self.zone, self.names, self.reader)

    @property
    def asks_for_codes(self) -> bool:
        """Whether names are proven in this plant."""
        return self.facts.signed_with == SignedWith.CODES

    def is_known(self, person: str) -> Here | None:
        """The person at the desk, where it is this one and their name is proven as the plant wants it."""
        here = self.here
        known = here is not None and here.id == person and (here.proven is not None or not self.asks_for_codes)
        return here if known else None

    async def written(self, *entries: Entry, by: Here | None = None) -> Written:
        """What the book answers to entries, written now, all or none: their numbers and what it wants told.

        ``by`` is who signs them, if that is not the person at the desk.

        The first try to write into a book that did not prove clean, or by a clock far ahead of its last entry, writes
        nothing and warns.
        """
        from upkeep.entries.origin import ON_A_SCREEN

        signs = by or self.here
        proven = signs.proven if signs is not None else None
        try:
            return await self.clerk.ask(lambda book: book.write(entries, self.recording, ON_A_SCREEN, proven))
        except (NotProven, ClockAhead) as warning:
            clock = isinstance(warning, ClockAhead)
            await self.clerk.ask(lambda book: book.write_all_the_same(clock=clock))
            again = said("Nothing was written; to write all the same, do it again.")
            raise Refused(in_turn(again, warning.said)) from None

    def remember(
        self, written: Written, by: Here, at: datetime, what: Said, meaning: Said | None = None, item: str | None = None
    ) -> Signed:
        """What was just written here, kept for the proof, for undo and, where it is about an item, for a picture."""
        until = at + timedelta(seconds=self.facts.undo_seconds)
        signed = Signed(written.entries, by, at, what, meaning, until, written.notes, item)
        self.done = [*(earlier for earlier in self.done if self.now() <= earlier.undo_until), signed]
        if item is not None:
            self.takes_picture = signed
        return signed

    def can_undo(self) -> Signed | None:
        """What was written here last and not undone, while it can be."""
        return self.done[-1] if self.done and self.now() <= self.done[-1].undo_until else None

    async def undo(self, by: Here | None) -> Signed | None:
        """Takes what was written here last back, in the name of who wrote it, and tells which it was; None if there is
        none to undo."""
        from upkeep.entries.bookkeeping import Strike

        signed = self.can_undo()
        if signed is None:
            return None
        at = self.now()
        strikes = (Strike(at=at, by=signed.by.id, entry=entry) for entry in reversed(signed.entries))
        await self.written(*strikes, by=by)
        self.done.remove(signed)
        if self.takes_picture is signed:
            self.takes_picture = None
        return signed

    def forget_after_idling(self) -> bool:
        """Forgets who is here when nobody pressed a key for long enough; True if somebody was forgotten."""
        forgotten = self.here is not None and self.is_left_alone()
        if forgotten:
            self.here = None
        return forgotten

    def is_left_alone(self) -> bool:
        """Whether nobody pressed a key for long enough that whoever was here has gone."""
        idle = timedelta(seconds=self.facts.idle_seconds)
        return self.touched is not None and self.now() - self.touched >= idle

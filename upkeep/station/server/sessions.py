"""Who is at which browser: sessions kept here and nowhere else, dead at once when they end.

A browser holds 128 random bits and nothing else.  Naming oneself makes a new session; leaving, the next person and
quiet time end the old one.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from secrets import token_urlsafe

from upkeep.entries.origin import Proof
from upkeep.frozen import frozen
from upkeep.said import Said
from upkeep.station.pages.page import Band

_BYTES = 16
_MOST = 2000
"""Sessions at once; beyond it the one untouched longest ends."""

_OF_NOBODY = timedelta(hours=12)
"""How long a browser may look at the page that asks who is here."""


@frozen
class Here:
    """Who is here, and how the name was proven."""

    id: str
    name: str
    proof: Proof


@frozen
class Shown:
    """A band that is shown until a moment."""

    band: Band
    until: datetime


@dataclass(slots=True)
class Session:
    """One browser.  ``token`` has to come back with whatever it sends; ``uncounted`` is the shift for which somebody
    said that the count comes later."""

    id: str
    token: str
    touched: datetime
    here: Here | None = None
    shown: Shown | None = None
    uncounted: str | None = None


@frozen
class Done:
    """What somebody wrote and may still take back: its entries, in words, and until when."""

    entries: tuple[int, ...]
    what: Said
    until: datetime


@dataclass(slots=True)
class Sessions:
    """All sessions of a server."""

    clock: Callable[[], datetime]
    idle: timedelta
    _kept: dict[str, Session] = field(default_factory=dict)
    _done: dict[tuple[str, str], list[Done]] = field(default_factory=dict)

    def begin(self, here: Here | None = None) -> Session:
        """A new session, of a person or of nobody."""
        if len(self._kept) >= _MOST:
            self.end(min(self._kept.values(), key=lambda session: (session.here is not None, session.touched)))
        session = Session(token_urlsafe(_BYTES), token_urlsafe(_BYTES), self.clock(), here)
        self._kept[session.id] = session
        return session

    def find(self, key: str) -> Session | None:
        """The session with an id; None where there is none, or it has been quiet for too long."""
        session = self._kept.get(key)
        if session is None:
            return None
        if self.clock() - session.touched >= (self.idle if session.here else _OF_NOBODY):
            self.end(session)
            return None
        return session

    def touch(self, session: Session) -> None:
        """Somebody touched the page."""
        session.touched = self.clock()

    def end(self, session: Session) -> None:
        """Ends a session; its id is worth nothing from here on."""
        self._kept.pop(session.id, None)

    def __len__(self) -> int:
        return len(self._kept)

    # What can be taken back

    def did(self, place: str, person: str, done: Done) -> None:
        """Remembers what somebody wrote at a place."""
        kept = [earlier for earlier in self._done.get((place, person), []) if earlier.until >= self.clock()]
        if all(earlier.entries != done.entries for earlier in kept):  # a form that was sent twice
            kept.append(done)
        self._done[place, person] = kept

    def last_done(self, place: str, person: str) -> Done | None:
        """What somebody wrote last at a place and may still take back."""
        kept = [done for done in self._done.get((place, person), []) if done.until >= self.clock()]
        return kept[-1] if kept else None

    def undone(self, place: str, person: str, done: Done) -> None:
        """Forgets what was taken back."""
        self._done[place, person] = [other for other in self._done.get((place, person), []) if other != done]

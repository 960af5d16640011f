"""Who is at which browser, and what its pages have to show: the sessions themselves stand among the keys of the book.

A browser holds 128 random bits and nothing else.  Naming oneself begins a new session; leaving, the next person and
quiet time end the old one.  What is kept here - a band to show, what can be taken back - is lost with the process and
costs nobody anything.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from secrets import token_urlsafe

from upkeep.entries.origin import Proven
from upkeep.frozen import frozen
from upkeep.said import Said
from upkeep.station.pages.page import Band
from upkeep.wording.sentences import ENGLISH, Reader

_BYTES = 16
_NUMBER = re.compile(r"[A-Za-z0-9_-]{20,64}\Z")

_MOST = 2000
"""Browsers of which something is remembered at once; beyond it the one remembered longest is forgotten."""


@frozen
class Here:
    """Who is here, how the name was proven, and what they read."""

    name: str
    proven: Proven
    reader: Reader = ENGLISH

    @property
    def id(self) -> str:
        """The short id."""
        return self.proven.person


@frozen
class Shown:
    """A band that is shown until a moment."""

    band: Band
    until: datetime


@dataclass(slots=True)
class Remembered:
    """What the pages of one browser have to show; ``uncounted`` is the shift for which somebody said that the count
    comes later."""

    shown: Shown | None = None
    uncounted: str | None = None


@dataclass(slots=True)
class Session:
    """One browser that asks: its number, who is here (None: nobody), what its pages have to show; ``comes`` reads them
    while nobody is here: in the language of the tablet, else of the plant."""

    number: str
    here: Here | None
    pages: Remembered
    comes: Reader

    @property
    def reader(self) -> Reader:
        """Who reads its pages."""
        return self.here.reader if self.here is not None else self.comes

    @property
    def token(self) -> str:
        """What has to come back with whatever the browser sends: made from its number, which no page shows."""
        return hashlib.sha256(f"token of a form {self.number}".encode()).hexdigest()[:32]


class NobodyHere(Exception):
    """A page that belongs to somebody was asked for by a browser at which nobody has said who is here."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session


@frozen
class Done:
    """What somebody wrote and may still take back: its entries, in words, and until when."""

    entries: tuple[int, ...]
    what: Said
    until: datetime


def new_number() -> str:
    """The number of a browser at which nobody is."""
    return token_urlsafe(_BYTES)


def is_number(text: str) -> bool:
    """Whether a text can be the number of a browser."""
    return _NUMBER.match(text) is not None


@dataclass(slots=True)
class Pages:
    """What the pages of all browsers have to show."""

    clock: Callable[[], datetime]
    _kept: dict[str, Remembered] = field(default_factory=dict)
    _done: dict[tuple[str, str], list[Done]] = field(default_factory=dict)

    def of(self, number: str) -> Remembered:
        """What is remembered of a browser."""
        if number not in self._kept and len(self._kept) >= _MOST:
            self._kept.pop(next(iter(self._kept)))
        return self._kept.setdefault(number, Remembered())

    def forget(self, number: str) -> None:
        """Forgets a browser."""
        self._kept.pop(number, None)

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

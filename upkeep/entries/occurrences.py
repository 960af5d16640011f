"""What a sign-off answers: a planned number of strokes, a planned day, a shift, an event, or nothing planned.

Entries, rows and people name an occurrence by a word; here is what the word means::

    200000              that many strokes of the item
    2026-03-09          a planned day
    2026-03-02/early    a shift
    fitting.812         an event, and the entry that tells of it
    shutdown.2026-08-14 the end of a shutdown, by its last day
    extra               work that answers nothing planned
"""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from upkeep.frozen import frozen

EXTRA = "extra"
"""The occurrence of a sign-off that answers none: work done besides, or before the window opened."""

_SHUTDOWN = "shutdown"


@frozen
class Strokes:
    """A planned number of strokes of the item since it came into the book."""

    number: int

    def __str__(self) -> str:
        return str(self.number)


@frozen
class Day:
    """A planned day."""

    day: date

    def __str__(self) -> str:
        return self.day.isoformat()


@frozen
class OfShift:
    """A shift, by the day it begins on and its name."""

    day: date
    shift: str

    def __str__(self) -> str:
        return f"{self.day.isoformat()}/{self.shift}"


@frozen
class OfEvent:
    """Something that happened to the item, and the entry that tells of it."""

    event: str
    entry: int

    def __str__(self) -> str:
        return f"{self.event.replace(' ', '-')}.{self.entry}"


@frozen
class OfShutdown:
    """The end of a shutdown of the plant, by its last day."""

    last_day: date

    def __str__(self) -> str:
        return f"{_SHUTDOWN}.{self.last_day.isoformat()}"


@frozen
class Unplanned:
    """Nothing planned: an extra, or a word that names none of these."""

    word: str

    def __str__(self) -> str:
        return self.word


Occurrence = Strokes | Day | OfShift | OfEvent | OfShutdown | Unplanned
"""What a sign-off answers; as text it is the word that names it."""


@lru_cache(maxsize=4096)
def occurrence_of(word: str) -> Occurrence:
    """What a word names."""
    if word.isascii() and word.isdigit():
        return Strokes(int(word))
    day_text, slash, shift = word.partition("/")
    day = _day(day_text)
    if day is not None:
        return OfShift(day, shift) if slash else Day(day)
    event, dot, number = word.partition(".")
    if event == _SHUTDOWN and (last_day := _day(number)) is not None:
        return OfShutdown(last_day)
    if dot and number.isascii() and number.isdigit():
        return OfEvent(event.replace("-", " "), int(number))
    return Unplanned(word)


def event_of(word: str) -> str | None:
    """The event an occurrence answers, in words; None: it answers none."""
    match occurrence_of(word):
        case OfEvent(event=event):
            return event
        case OfShutdown():
            return _SHUTDOWN
    return None


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None

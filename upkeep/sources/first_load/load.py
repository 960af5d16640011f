"""What a look found, into the book: all of it in one go, or nothing; what the book says already is passed over."""

from __future__ import annotations

from datetime import datetime, timedelta

from upkeep.book import Book, Written
from upkeep.book.door import Clock
from upkeep.entries.counting import BEFORE_THE_BOOK, Count, UncountedStrokes
from upkeep.entries.entry import Entry
from upkeep.entries.origin import FROM_A_FILE, Proven
from upkeep.entries.signing import Stated
from upkeep.frozen import frozen
from upkeep.plant.definition import Definition
from upkeep.sources.first_load.facts import Counted, DoneBefore
from upkeep.sources.first_load.look import Look
from upkeep.units.instants import Zone

WAY = BEFORE_THE_BOOK[2]
"""How strokes are called that an item had done when the book began."""


@frozen
class Loader:
    """Who loads, when, and why."""

    by: str
    at: datetime
    because: str = ""


def entries_of(book: Book, look: Look, loader: Loader) -> list[Entry]:
    """The entries for what the book does not say yet: definitions first, then what was before the book."""
    zone = Zone(_zone_name(book, look))
    facts = look.facts
    stated = book.stated()
    told = [
        *(_count(book, fact, zone, loader) for fact in facts.counted),
        *(_before(book, fact, loader) for fact in facts.before),
    ]
    done = (
        Stated(at=loader.at, by=loader.by, item=fact.item, task=fact.task, done=fact.day.isoformat())
        for fact in facts.last_done
        if stated.get((fact.item, fact.task)) != fact.day.isoformat()
    )
    defined = book.defining(changed(book, look), loader.at, loader.by, loader.because)
    return [*defined, *(entry for entry in told if entry is not None), *done]


def changed(book: Book, look: Look) -> tuple[Definition, ...]:
    """The definitions that are new or differ from those in force."""
    return book.changed(look.definitions)


def _zone_name(book: Book, look: Look) -> str:
    told = next((one.content.get("zone") for one in look.definitions if one.what == "plant"), None)
    return str(told) if told else book.facts.zone


def _count(book: Book, fact: Counted, zone: Zone, loader: Loader) -> Count | None:
    noon = zone.start_of(fact.day) + timedelta(hours=12)
    began = book.known.since.get(fact.press)
    at = noon if began is not None and began < noon < loader.at else loader.at  # nothing happened before the book
    known = any(
        isinstance(entry, Count) and entry.value == fact.value and zone.day(entry.at) == fact.day
        for entry in book.entries_of(fact.press, "count")
    )
    return None if known else Count(at=at, by=loader.by, press=fact.press, value=fact.value)


def _before(book: Book, fact: DoneBefore, loader: Loader) -> UncountedStrokes | None:
    """Strokes so far; where a sheet says another number than before, a correction of what was told then."""
    told = list(book.strokes_before(fact.item))
    if any(entry.strokes == fact.strokes for _, entry in told):
        return None
    because = loader.because or "the sheet says another number now"
    corrects = told[-1] if told else None
    return UncountedStrokes(
        at=corrects[1].at if corrects else loader.at, by=loader.by, item=fact.item, way=WAY, strokes=fact.strokes,
        corrects=corrects[0] if corrects else None, because=because if corrects else "",
    )  # fmt: skip


def load(book: Book, look: Look, loader: Loader, recorded_at: datetime | Clock, proven: Proven | None) -> Written:
    """Writes it; raises :class:`Refused` with the reason, and then nothing was written."""
    return book.write_fresh(
        entries_of(book, look, loader), lambda _: entries_of(book, look, loader), recorded_at, FROM_A_FILE, proven
    )

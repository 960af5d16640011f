"""The table of entries: its columns, and the way from an entry to its row and back."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from upkeep.entries.entry import Entry, Recorded
from upkeep.entries.kind import Filed
from upkeep.entries.origin import NOT_KNOWN, Origin, Proof, WayIn
from upkeep.entries.row import START, EntryRow
from upkeep.entries.text import entry_of, words_of
from upkeep.errors import Unreadable
from upkeep.said import said
from upkeep.units.instants import from_utc_text, utc_text

COLUMNS = ", ".join(EntryRow._fields)
INSERT = f"INSERT INTO entries ({COLUMNS}) VALUES ({', '.join('?' * len(EntryRow._fields))})"


def row_of(number: int, entry: Entry, shift_day: str, place: Filed, salt: bytes) -> EntryRow:
    """The row of an entry, not chained yet: its ``hash`` is the link that stands before the first entry."""
    at, words, origin = utc_text(entry.at), words_of(entry), entry.origin
    recorded_at = at if entry.recorded_at is None else utc_text(entry.recorded_at)
    about = entry.corrects if place.about is None else place.about
    return EntryRow(
        number, at, recorded_at, words[: words.index(" ")], place.item, place.task, words, entry.by, shift_day, about,
        entry.corrects, entry.because, *_head_of(origin), salt, START,
    )  # fmt: skip


def plain_values(recorded: Recorded) -> tuple[object, ...]:
    """An entry as plain values, moments in UTC: number, at, recorded at, shift day, kind, by, words, the entry it
    corrects, because, way in, station, proof, entered by, link in hexadecimal."""
    entry = recorded.entry
    row = row_of(recorded.id, entry, recorded.shift_day, Filed(None), recorded.salt)
    return (
        row.id, row.at, row.recorded_at, row.shift_day, row.kind, row.by, row.words, row.corrects, row.because,
        row.way_in, row.station, row.proof, row.entered_by, recorded.hash,
    )  # fmt: skip


def _head_of(origin: Origin) -> tuple[str | None, str | None, str | None, str | None]:
    way_in = None if origin.way_in is WayIn.NOT_KNOWN else origin.way_in.value
    proof = None if origin.proof is Proof.NOT_KNOWN else origin.proof.value
    return way_in, origin.station, proof, origin.entered_by


def recorded_from(row: tuple[Any, ...]) -> Recorded:
    """The entry behind a row of the table; raises :class:`Unreadable` where it makes no sense."""
    kept = EntryRow._make(row)
    happened = from_utc_text(kept.at)
    entry = entry_of(
        kept.words,
        at=happened,
        by=kept.by,
        recorded_at=happened if kept.recorded_at == kept.at else from_utc_text(kept.recorded_at),
        corrects=kept.corrects,
        because=kept.because,
        origin=_origin(kept.way_in, kept.station, kept.proof, kept.entered_by),
    )
    return Recorded(kept.id, entry, kept.shift_day, kept.hash.hex(), kept.salt)


@lru_cache(maxsize=256)
def _origin(way_in: str | None, station: str | None, proof: str | None, entered_by: str | None) -> Origin:
    if way_in is station is proof is entered_by is None:
        return NOT_KNOWN
    try:
        return Origin(WayIn(way_in or WayIn.NOT_KNOWN), station, Proof(proof or Proof.NOT_KNOWN), entered_by)
    except ValueError as error:
        raise Unreadable(said("The head of an entry cannot be read: {error}.", error=str(error))) from None

"""The proof that something is in the book, large enough to be read from two metres, and what it moved."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from upkeep.said import Numeral, Said, said
from upkeep.station.pages.moments import ClockTime
from upkeep.station.pages.page import Band
from upkeep.units.instants import Zone


def signed_band(
    what: Said, name: str, meaning: Said, at: datetime, zone: Zone, entry: int, more: Sequence[Said]
) -> Band:
    """A signature: printed name, time, meaning (as 21 CFR 11.50 asks of signed electronic records; from memory)."""
    sentence = said("SIGNED {clock} {name}: {meaning}", clock=ClockTime(at, zone), name=name, meaning=meaning)
    return Band("proof", sentence, (_stored(what, entry), *more))


def counted_band(press: str, count: int, name: str, at: datetime, zone: Zone, entry: int, more: Sequence[Said]) -> Band:
    """A count."""
    sentence = said("COUNTED {clock} {press}: {count}", clock=ClockTime(at, zone), press=press, count=count)
    return Band("proof", sentence, (_stored(said("by {name}", name=name), entry), *more))


def reported_band(
    item: str, words: str, name: str, at: datetime, zone: Zone, entry: int, more: Sequence[Said]
) -> Band:  # fmt: skip
    """A report of something found."""
    sentence = said("REPORTED {clock} {item}: {words}", clock=ClockTime(at, zone), item=item, words=words)
    return Band("proof", sentence, (_stored(said("by {name}", name=name), entry), *more))


def stepped_band(what: Said, name: str, at: datetime, zone: Zone, entry: int, more: Sequence[Said]) -> Band:
    """A step of a change of tools."""
    return _told(said("DONE {clock} {name}: {what}", clock=ClockTime(at, zone), name=name, what=what), entry, more)


def written_band(what: Said, name: str, at: datetime, zone: Zone, entry: int, more: Sequence[Said]) -> Band:
    """What was written of a job, a lock or a handover."""
    return _told(said("STORED {clock} {name}: {what}", clock=ClockTime(at, zone), name=name, what=what), entry, more)


def _told(sentence: Said, entry: int, more: Sequence[Said]) -> Band:
    return Band("proof", sentence, (said("Stored in the book as #{entry}.", entry=Numeral(entry)), *more))


def undone_band(what: Said, name: str) -> Band:
    """Something taken back."""
    return Band("proof", said("UNDONE: {what}", what=what), (said("By {name}. Both stay in the book.", name=name),))


def _stored(what: Said, entry: int) -> Said:
    return said("{what}. Stored in the book as #{entry}.", what=what, entry=Numeral(entry))


HELD_NOW = said("It is held: it must not run until it is released.")
PHOTO_KEPT = said("The photo is kept.")


def photo_lost(why: Said) -> Said:
    """That what a photo belongs to is stored and the photo is not."""
    return said("What you wrote is stored, its photo is not: {why}", why=why)

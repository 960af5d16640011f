"""The one-line text of an entry: written by :func:`line_of`, read back to the same entry by :func:`read_line`.

Grammar (one space between words; an id is a letter or figure followed by up to 31 letters, figures, ``.``, ``_``,
``-``; a text is a JSON string; square brackets mark what may be left out)::

    entry   = moment words "by" id ["recorded" moment] ["corrects" "#"number] ["because" text] origin chained
    chained = ["salt" hex] ["link" hex]
    origin  = ["via" way] ["station" text] ["proof" proof] ["entered-by" id]
    words   = verb, and what its kind says after it (:mod:`upkeep.entries.kinds`; DEVELOPERS.md lists them)

A moment is wall time in the plant's zone, as :mod:`upkeep.units.instants` writes it; ``recorded`` is left out when the
entry was written at the moment it tells of.  What ``origin`` leaves out is not known; ``way`` and ``proof`` are words
of :mod:`upkeep.entries.origin`.  Only an export gives the salt and the link of the chain.  Example::

    2026-03-02 06:00 count P-07 1204300 by ana
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kinds import VERBS, kind_named, kind_of
from upkeep.entries.origin import NOT_KNOWN, Origin, Proof, WayIn
from upkeep.entries.reader import ID, Reader, quoted
from upkeep.entries.row import LINK_BYTES, SALT_BYTES
from upkeep.said import listed, said
from upkeep.units.instants import Zone

__all__ = ["ID", "VERBS", "entry_of", "line_of", "line_without_origin", "quoted", "read_line", "words_of"]


def words_of(entry: Entry) -> str:
    """What an entry says, without its envelope: the part between the moment and ``by``."""
    kind = kind_of(type(entry))
    return f"{kind.verb} {kind.write(entry)}"


def line_of(entry: Entry, zone: Zone) -> str:
    """The whole entry on one line, in the plant's wall time."""
    return line_without_origin(entry, zone) + _origin_words(entry.origin)


def line_without_origin(entry: Entry, zone: Zone) -> str:
    """What the entry says and who signed it, on one line in the plant's wall time, but not how it came in."""
    line = f"{zone.show(entry.at)} {words_of(entry)} by {entry.by}"
    if entry.recorded_at is not None and entry.recorded_at != entry.at:
        line += f" recorded {zone.show(entry.recorded_at)}"
    if entry.corrects is not None:
        line += f" corrects #{entry.corrects}"
    return f"{line} because {quoted(entry.because)}" if entry.because else line


def _origin_words(origin: Origin) -> str:
    if origin == NOT_KNOWN:
        return ""
    words = "" if origin.way_in is WayIn.NOT_KNOWN else f" via {origin.way_in}"
    words += f" station {quoted(origin.station)}" if origin.station else ""
    words += "" if origin.proof is Proof.NOT_KNOWN else f" proof {origin.proof}"
    return f"{words} entered-by {origin.entered_by}" if origin.entered_by else words


def _read_origin(reader: Reader) -> Origin:
    read: dict[str, Any] = {}
    if reader.keyword("via"):
        read["way_in"] = WayIn(reader.one_of(tuple(WayIn)[1:]))
    if reader.keyword("station"):
        read["station"] = reader.json(str, said("the quoted name of a station")) or None
    if reader.keyword("proof"):
        read["proof"] = Proof(reader.one_of(tuple(Proof)[1:]))
    if reader.keyword("entered-by"):
        read["entered_by"] = reader.id(said("a person"))
    return Origin(**read) if read else NOT_KNOWN


def _read_words(reader: Reader) -> tuple[type[Entry], dict[str, Any]]:
    verb = reader.word(said("a verb"))
    if verb not in VERBS:
        reader.position -= len(verb)
        raise reader.fail(said("one of {words}", words=listed(VERBS)))
    kind = kind_named(verb)
    return kind.of, kind.read(reader)


def entry_of(words: str, **envelope: Any) -> Entry:
    """The entry behind stored words and envelope (at, by, recorded_at, corrects, because, origin).

    Raises :class:`Unreadable` where the words do not follow the grammar or say more than one entry.
    """
    reader = Reader(words)
    kind, fields = _read_words(reader)
    if words[reader.position :].strip():
        raise reader.fail(said("the end of the entry"))
    return kind(**fields, **envelope)


def read_line(line: str, zone: Zone, recorded_at: datetime | None = None) -> Entry:
    """The entry on one line of text; raises :class:`Unreadable` with the place where it stops making sense.

    ``recorded_at`` is when a line that does not say it was written; None: at the moment it tells of.
    """
    reader = Reader(line.strip())
    at = reader.moment(zone, said("a moment like 2026-03-02 06:00"))
    kind, fields = _read_words(reader)
    reader.expect("by")
    envelope: dict[str, Any] = {"at": at, "by": reader.id(said("a person")), "recorded_at": recorded_at or at}
    if reader.keyword("recorded"):
        envelope["recorded_at"] = reader.moment(zone, said("a moment"))
    if reader.keyword("corrects"):
        envelope["corrects"] = reader.number()
    if reader.keyword("because"):
        envelope["because"] = reader.json(str, said("a quoted reason"))
    envelope["origin"] = _read_origin(reader)
    if reader.keyword("salt"):
        envelope["salt"] = reader.hexadecimal(SALT_BYTES)
    if reader.keyword("link"):  # follows from the entry and those before it: whoever brings a book back compares it
        reader.hexadecimal(LINK_BYTES)
    if reader.line[reader.position :].strip():
        raise reader.fail(said("the end of the line"))
    return kind(**fields, **envelope)

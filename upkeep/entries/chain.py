"""The chain: what is hashed of an entry, how, and how each link follows from the one before it.

The digest of an entry is made over the hashes of its fields, a link over the link before and the digest.  All hashes
are SHA-256 (FIPS 180-4)::

    n(x)     = the length of x in bytes, in decimal figures, ":", x, ","          (a netstring)
    f(name)  = n("strokebook 1 " name), where 1 is the form of the chain
    facts    = SHA-256(f("facts") n(number) n(at) n(recorded at) n(shift day) n(corrects) n(way in) n(proof) n(plain))
    salt(name)          = HMAC-SHA256(the entry's salt, name)                     (RFC 2104)
    hidden(name, value) = SHA-256(f(name) salt(name) value); 32 zero bytes where the entry has no such field
    by, entered by, station, because, text 1, text 2 ... = hidden(name, value)
    digest   = SHA-256(f("entry") facts by entered-by station because text-1 text-2 ...)
    link     = SHA-256(link before, digest)

Hashes and salts stand in as bytes, texts as UTF-8, moments as the file has them (``2026-03-02T06:00:00Z``); a fact that
is missing is the empty text.  ``plain`` are the words of the entry, in which ``{}`` stands for every quoted text, for
the JSON of a definition and for the id of a defined person; these, as they stand on the line, are text 1, text 2 ...

So a name or a text can be kept back, its hash shown in its place, and the chain be checked all the same.  Nobody finds
a short name by trying: its salt is kept back with it, and the salt of one field tells nothing of another's.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from functools import cache
from hashlib import sha256
from hmac import digest as hmac_digest
from typing import NamedTuple

from upkeep.entries.row import SALT_BYTES, EntryRow
from upkeep.frozen import frozen

FORM = 1
"""The form of the chain described here; the first entry of a book says by which one its chain is made."""

_NO_FIELD = bytes(32)
_NAMES = ("by", "entered by", "station", "because")
_HIDDEN = re.compile(r'(?<=\Adefine person )[^ ]+|"(?:[^"\\]|\\.)*"|\{.*', re.DOTALL)


def link(before: bytes, digest: bytes) -> bytes:
    """The link of an entry: its digest chained to the link before it, 32 bytes each."""
    return sha256(before + digest).digest()


def digest(entry: EntryRow) -> bytes:
    """The digest of an entry, 32 bytes."""
    salt, (plain, texts) = entry.salt, _split(entry.words)
    hashes = [
        _facts_hash(*_facts(entry, plain)),
        _hidden(salt, "by", entry.by),
        _hidden(salt, "entered by", entry.entered_by) if entry.entered_by else _NO_FIELD,
        _hidden(salt, "station", entry.station) if entry.station else _NO_FIELD,
        _hidden(salt, "because", entry.because) if entry.because else _NO_FIELD,
    ]
    if texts:
        hashes += [_hidden(salt, _text_name(place), text) for place, text in enumerate(texts, 1)]
    return _over(hashes)


def is_chained(entry: EntryRow, before: bytes) -> bool:
    """Whether an entry carries the link that it should after the link before it, and a salt as long as it should be."""
    # HMAC fills short keys up with zeros: a salt with some at its end would go unnoticed.
    return len(entry.salt) == SALT_BYTES and link(before, digest(entry)) == entry.hash


class Facts(NamedTuple):
    """What is hashed of an entry as it is: neither a name nor a text among it.  All are texts, empty where missing."""

    number: str
    at: str
    recorded_at: str
    shift_day: str
    corrects: str
    way_in: str
    proof: str
    plain: str


class Open(NamedTuple):
    """A hidden field that is shown: the salt of this field alone (32 bytes), and its value."""

    salt: bytes
    value: str


@frozen
class Shown:
    """An entry as somebody outside gets to see it, with all that is needed to work its digest out.

    ``hidden`` holds the fields "by", "entered by", "station", "because" and "text 1", "text 2" ... that the entry has:
    open, or kept back with the hash in their place (32 bytes).
    """

    facts: Facts
    hidden: Mapping[str, Open | bytes]


def hidden_of(entry: EntryRow) -> tuple[str, dict[str, str]]:
    """The plain words of an entry, and its hidden fields by name, those it has."""
    plain, texts = _split(entry.words)
    values = dict(zip(_NAMES, (entry.by, entry.entered_by, entry.station, entry.because), strict=True))
    values |= {_text_name(place): text for place, text in enumerate(texts, 1)}
    return plain, {name: value for name, value in values.items() if value}


def shown(entry: EntryRow, kept_back: Collection[str] = ()) -> Shown:
    """An entry with some of its hidden fields kept back, by name; see :class:`Shown`."""
    plain, values = hidden_of(entry)
    hidden: dict[str, Open | bytes] = {}
    for name, value in values.items():
        salt = _field_salt(entry.salt, name)
        hidden[name] = _sealed(name, salt, value) if name in kept_back else Open(salt, value)
    return Shown(Facts(*_facts(entry, plain)), hidden)


def follows(entry: Shown, before: bytes, after: bytes) -> bool:
    """Whether an entry, as it is shown, stands between these two links of a chain."""
    texts = (_text_name(place) for place in range(1, entry.facts.plain.count("{}") + 1))
    hashes = [_facts_hash(*entry.facts)]
    for name in (*_NAMES, *texts):
        field = entry.hidden.get(name, _NO_FIELD)
        hashes.append(_sealed(name, *field) if isinstance(field, Open) else field)
    return link(before, _over(hashes)) == after


def _split(words: str) -> tuple[str, list[str]]:
    """The plain words, and the hidden texts in their order."""
    if '"' not in words and "{" not in words:
        return words, []
    return _HIDDEN.sub("{}", words), _HIDDEN.findall(words)


def _facts(entry: EntryRow, plain: str) -> tuple[str, str, str, str, str, str, str, str]:
    corrects = "" if entry.corrects is None else str(entry.corrects)
    moments = entry.at, entry.recorded_at, entry.shift_day
    return str(entry.id), *moments, corrects, entry.way_in or "", entry.proof or "", plain


def _facts_hash(
    number: str, at: str, recorded_at: str, day: str, corrects: str, way_in: str, proof: str, plain: str
) -> bytes:
    # One format string: this runs for every reading of a counter, and only the plain words could be beyond ASCII.
    size = len(plain) if plain.isascii() else len(plain.encode())
    netstrings = (
        f"18:strokebook 1 facts,{len(number)}:{number},{len(at)}:{at},{len(recorded_at)}:{recorded_at},"
        f"{len(day)}:{day},{len(corrects)}:{corrects},{len(way_in)}:{way_in},{len(proof)}:{proof},{size}:{plain},"
    )
    return sha256(netstrings.encode()).digest()


def _hidden(salt: bytes, name: str, value: str) -> bytes:
    return _sealed(name, _field_salt(salt, name), value)


def _field_salt(salt: bytes, name: str) -> bytes:
    return hmac_digest(salt, name.encode(), "sha256")


def _sealed(name: str, field_salt: bytes, value: str) -> bytes:
    return sha256(_prefix(name) + field_salt + value.encode()).digest()


def _over(hashes: Iterable[bytes]) -> bytes:
    return sha256(_prefix("entry") + b"".join(hashes)).digest()


def _text_name(place: int) -> str:
    return f"text {place}"


@cache
def _prefix(name: str) -> bytes:
    domain = f"strokebook {FORM} {name}"
    return f"{len(domain)}:{domain},".encode()

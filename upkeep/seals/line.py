"""A seal as a line of a file of seals, and as people type it from a paper.

A file of seals is plain text, one seal a line, the newest last::

    seal 1 book 6f96...64ff entry 812 link 0b53...7639 at 2026-03-06T09:00:00Z
    seal 1 book 6f96...64ff entry 812 letters BNQBLFK5W2IRNLHI3ZP3 at 2026-03-06T09:10:00Z
    seal 1 book 6f96...64ff entry 812 link 0b53...7639 at 2026-03-06T09:00:00Z key d75a...511a signature e556...100b

``1`` is the form of the line.  A paper shows the first 100 bits of the link alone (``letters``, base 32).  A signature
(Ed25519, RFC 8032) is over the bytes of the line before `` signature``.  Lines that begin with ``#`` are for people.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime

from upkeep.errors import Refused
from upkeep.frozen import frozen
from upkeep.said import Quoted, said
from upkeep.scan_codes import Scannable, link_letters, read_code
from upkeep.units.instants import from_utc_text, utc_text

FORM = 1
"""The form of the line described here."""

_LINE = re.compile(
    r"seal 1 book (?P<book>[0-9a-f-]{36}) entry (?P<entry>[0-9]{1,12}) "
    r"(?:link (?P<link>[0-9a-f]{64})|letters (?P<letters>[A-Z2-7]{20})) "
    r"at (?P<at>\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ)"
    r"(?: key (?P<key>[0-9a-f]{64}) signature (?P<signature>[0-9a-f]{128}))?\Z"
)
_TYPED = re.compile(r"[*]?S?#?(?P<entry>[0-9]{1,12})[\s.:]+(?P<rest>[A-Za-z0-9\s-]{21,40})\Z", re.IGNORECASE)
_MISREAD = str.maketrans("0189", "OIBG")
"""What hands write for letters that base 32 has; its figures are 2 to 7."""


@frozen
class SealLine:
    """A seal: of which book (its id; "": not said) and entry, the link of that entry, and when that was so.

    Attributes:
        letters: the first 20 letters of the link in base 32, all that a paper shows of it.
        link: the whole link, hexadecimal; None: only the letters are known.
        at: when the seal was made or typed in, UTC; None: not known.
        key: the public key of who signed it (hexadecimal); None: nobody did.
        signature: the signature, hexadecimal.
    """

    book: str
    entry: int
    letters: str
    link: str | None = None
    at: datetime | None = None
    key: str | None = None
    signature: str | None = None

    @property
    def signed_text(self) -> str:
        """What a signature is over; with a key it names that, too."""
        what = f"letters {self.letters}" if self.link is None else f"link {self.link}"
        moment = "" if self.at is None else f" at {utc_text(self.at)}"
        return f"seal {FORM} book {self.book} entry {self.entry} {what}{moment}{f' key {self.key}' if self.key else ''}"

    @property
    def text(self) -> str:
        """The whole line."""
        return self.signed_text + (f" signature {self.signature}" if self.signature else "")


def seal_of(book: str, entry: int, link: str, at: datetime) -> SealLine:
    """The seal of an entry with a link (hexadecimal), as it stood at a moment."""
    return SealLine(book, entry, link_letters(link), link, at)


def seal_lines(text: str) -> Iterator[SealLine]:
    """The seals in the text of a file, in its order; what is no seal is passed over."""
    for line in text.splitlines():
        found = _LINE.match(line.strip())
        if found is not None:
            letters = found["letters"] or link_letters(found["link"])
            yield SealLine(
                found["book"], int(found["entry"]), letters, found["link"], from_utc_text(found["at"]), found["key"],
                found["signature"],
            )  # fmt: skip


def read_seal(text: str) -> SealLine:
    """The seal that somebody typed or scanned from a paper, or a line of a file of seals.

    Raises :class:`Refused` where it is none, or was not read whole: its check character does not fit.
    """
    text = text.strip()
    whole = next(seal_lines(text), None)
    if whole is not None:
        return whole
    code = read_code(text)
    if code is None:
        code = read_code(_as_scanned(text))
    if code is None or code.kind is not Scannable.SEAL:
        raise _no_seal(text)
    number, _, letters = code.text.partition(".")
    return SealLine("", int(number), letters.upper())


def _as_scanned(text: str) -> str:
    """What a scanner would have typed for a seal that a hand typed: without hyphens, misread figures as letters."""
    typed = _TYPED.match(text)
    letters = "" if typed is None else re.sub(r"[\s-]", "", typed["rest"]).upper()
    if typed is None or len(letters) != 21:
        raise _no_seal(text)
    return f"*S{int(typed['entry'])}.{letters[:20].translate(_MISREAD)}{letters[20]}"


def _no_seal(text: str) -> Refused:
    return Refused(
        said(
            "{text} is no seal. Type it as it stands at the head of a paper, the number and all letters: 812 "
            "BNQBL-FK5W2-IRNLH-I3ZP3-U. Or scan its code, or name a file of seals.",
            text=Quoted(text[:80]),
        )
    )

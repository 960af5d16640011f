"""What is printed to be scanned, in one grammar: badges, items, gauges, rows of a printed week, seals.

A code is ``*``, a letter for its kind, a short text, and a check character::

    *BK3XD0M9T4C7RW2HQB    a badge: its random number
    *IDS-031K              an item: its id
    *GG-038                a gauge: its id
    *R812.12.KX4QP         a row of a printed week: the revision at its head, its number, letters of its line
    *S812.BNQBLFK5W2IRNLHI3ZP3U    a seal: the number of an entry, a dot, the first 20 letters of its link in base 32

A scanner is a keyboard: it types the code and Enter.  The star begins no word that people type, and the check character
(ISO/IEC 7064:2003, MOD 37,36) tells a code that was not read whole.  It counts letters and digits alone, in capitals,
so it is the same on a keyboard with its capitals locked; any one letter that is wrong is noticed.
"""

from __future__ import annotations

import re
from base64 import b32encode
from collections.abc import Iterable
from enum import StrEnum

from upkeep.errors import Refused
from upkeep.frozen import frozen
from upkeep.said import Quoted, said

MARK = "*"
"""The first letter of every code."""

_SEAL_LETTERS = 20
_ROW_LETTERS = 4

_LETTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"


class Scannable(StrEnum):
    """What a code stands for, by the letter of its kind."""

    BADGE = "B"
    ITEM = "I"
    GAUGE = "G"
    ROW = "R"
    SEAL = "S"


_ID = r"[A-Za-z0-9][A-Za-z0-9._-]{0,31}"
_TEXTS = {
    Scannable.BADGE: r"[A-Za-z0-9]{16}",
    Scannable.ITEM: _ID,
    Scannable.GAUGE: _ID,
    Scannable.ROW: r"[0-9]{1,12}\.[0-9]{1,5}(?:\.[A-Za-z2-7]{4})?",
    Scannable.SEAL: r"[0-9]{1,12}\.[A-Za-z2-7]{20}",
}
_SHAPES = "|".join(f"[{kind}{kind.lower()}]{text}" for kind, text in _TEXTS.items())
_WHOLE = re.compile(rf"\*(?P<body>{_SHAPES})(?P<check>[A-Za-z0-9])\Z")


@frozen
class ScanCode:
    """A code: what it stands for and its text, as it was written or as a scanner typed it."""

    kind: Scannable
    text: str

    def __str__(self) -> str:
        """As it is printed, and as a scanner types it."""
        return f"{MARK}{self.kind}{self.text}{_check_character(self.kind + self.text)}"


def row_code(revision: int, row: int, line: str) -> ScanCode:
    """The code of a row of a printed week, by the revision at its head; ``line`` is its item and task."""
    return ScanCode(Scannable.ROW, f"{revision}.{row}.{letters_of([line])}")


def letters_of(lines: Iterable[str]) -> str:
    """Four letters that stand for lines in their order: of other lines, or of another order, they are others but once
    in a million.  They tell a list that is made again from the one that was printed."""
    from hashlib import sha256  # every board knows seals, few print rows

    return link_letters(sha256("\n".join(lines).encode()).hexdigest())[:_ROW_LETTERS]


def seal_code(entry: int, link: str) -> ScanCode:
    """The code of a seal: the number of an entry and its link (hexadecimal)."""
    return ScanCode(Scannable.SEAL, f"{entry}.{link_letters(link)}")


def seal_text(entry: int, link: str) -> str:
    """A seal as people read it aloud and type it: the number, the letters in groups of five, the check character.

    ``812 BNQBL-FK5W2-IRNLH-I3ZP3-U``: what the code of the seal says, letter by letter.
    """
    letters, code = link_letters(link), str(seal_code(entry, link))
    groups = (letters[start : start + 5] for start in range(0, _SEAL_LETTERS, 5))
    return f"{entry} {'-'.join(groups)}-{code[-1]}"


def link_letters(link: str) -> str:
    """The first 100 bits of a link (hexadecimal) in the letters of base 32 (RFC 4648, section 6), which has no 0, 1, 8
    and 9."""
    return b32encode(bytes.fromhex(link)).decode()[:_SEAL_LETTERS]


def is_like_a_code(text: str) -> bool:
    """Whether a text has the shape of a code, whatever its check character says."""
    return _WHOLE.match(text) is not None


def read_code(text: str) -> ScanCode | None:
    """The code that a text is; None: it is none.  Raises :class:`Refused` where its check character does not fit."""
    found = _WHOLE.match(text)
    if found is None:
        return None
    body, check = found["body"], found["check"]
    kind = Scannable(body[0].upper())
    if _check_character(body) == check.upper():
        return ScanCode(kind, body[1:])
    if kind is Scannable.BADGE:  # its number is shown to nobody
        raise Refused(said("This badge was not read whole. Scan it again."))
    raise Refused(said("{code} was not read whole: its last letter does not fit. Scan it again.", code=Quoted(text)))


def taken_out(text: str) -> tuple[str, ScanCode | None]:
    """What was typed into a field, and the code that was scanned behind it (None: none was).

    Raises :class:`Refused` as :func:`read_code` does.
    """
    typed, mark, rest = text.rpartition(MARK)
    code = read_code(mark + rest.rstrip()) if mark else None
    return (text, None) if code is None else (typed, code)


def _check_character(body: str) -> str:
    """The check character over the letters and digits of a text: the hybrid system MOD 37,36."""
    product = 36
    for letter in body.upper():
        if letter in _LETTERS:
            product = ((product + _LETTERS.index(letter)) % 36 or 36) * 2 % 37
    return _LETTERS[(37 - product) % 36]

"""The chain: each entry carries the SHA-256 (FIPS 180-4) of itself and of the hash before it.

Whoever changes one byte of an old entry has to change every hash after it; whoever keeps one printed hash can tell.
"""

from __future__ import annotations

from hashlib import sha256

START = "0" * 64
"""What stands before the first entry."""


def link(
    before: str,
    number: int,
    at: str,
    recorded_at: str,
    by: str,
    words: str,
    corrects: int | None,
    because: str,
    shift_day: str,
) -> str:
    """The hash of an entry, in hexadecimal, from the hash before it and its stored fields.

    The fields are joined by line feeds; none of them can contain one (texts are JSON strings, the reason is escaped).
    """
    fields = f"{before}\n{number}\n{at}\n{recorded_at}\n{by}\n{words}\n{corrects or ''}\n{because}\n{shift_day}"
    return sha256(fields.encode()).hexdigest()

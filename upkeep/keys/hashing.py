"""How secrets are hashed.

Codes and passwords: Argon2id with 19 MiB, 2 passes, 1 lane (OWASP Password Storage Cheat Sheet, "Argon2id"), each with
a salt of its own.  Badges, tokens and sessions are random numbers that nobody can guess: plain SHA-256 (FIPS 180-4).
"""

from __future__ import annotations

import secrets
import unicodedata
from functools import cache
from hashlib import sha256
from threading import BoundedSemaphore
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from argon2 import PasswordHasher

MEMORY_KIB, PASSES, LANES = 19 * 1024, 2, 1

_AT_ONCE = BoundedSemaphore(2)
"""At a change of shift fifty people come at once, each for 19 MiB and a processor: two at a time, the others wait."""

LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""The letters of a badge's number: none that looks like another in print (base 32 without I, L, O, U)."""

BADGE_LETTERS = 16
"""80 bits: a stolen file of keys cannot be searched for the numbers on badges."""

_LOOK_ALIKE = str.maketrans("OIL", "011", " -")


@cache
def _hasher() -> PasswordHasher:
    from argon2 import PasswordHasher, Type  # loaded where a code is asked for

    return PasswordHasher(time_cost=PASSES, memory_cost=MEMORY_KIB, parallelism=LANES, type=Type.ID)


def hash_of_secret(secret: str) -> str:
    """The hash of a code or password, with its parameters and salt in it."""
    with _AT_ONCE:
        return _hasher().hash(_normal(secret))


def is_secret(secret: str, hashed: str) -> bool:
    """Whether a code or password is the one behind a hash."""
    from argon2.exceptions import InvalidHashError, VerificationError

    with _AT_ONCE:
        try:
            return _hasher().verify(hashed, _normal(secret))
        except (VerificationError, InvalidHashError):
            return False


def _normal(secret: str) -> str:
    """One text for what looks the same, whatever keyboard it was typed on."""
    return unicodedata.normalize("NFKC", secret)


def new_number() -> str:
    """128 random bits, as a token or the number of a session: 32 hexadecimal letters."""
    return secrets.token_hex(16)


def new_badge() -> str:
    """A random number for a badge."""
    return "".join(secrets.choice(LETTERS) for _ in range(BADGE_LETTERS))


def hash_of_number(number: str) -> bytes:
    """The hash under which a token or a session is kept."""
    return sha256(number.strip().encode(errors="replace")).digest()


def hash_of_badge(number: str) -> bytes:
    """The hash under which a badge is kept; the same in capitals and small letters, with and without spaces."""
    return sha256(number.upper().translate(_LOOK_ALIKE).encode(errors="replace")).digest()

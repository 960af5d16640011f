"""The key with which quality signs seals: a file of its own, for its owner alone, locked by a password.

It is made once and kept by quality, best on a stick or another machine: whoever keeps the book must not have it.  The
file is PKCS #8 in PEM (RFC 5958, RFC 7468), encrypted as ``cryptography`` holds best; openssl reads it, too.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import TYPE_CHECKING

from upkeep.errors import Refused
from upkeep.said import said

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

LEAST_LETTERS = 12
"""The shortest password of a key."""

_LONGEST = 10_000


class SigningKey:
    """A private key that is open; see :class:`upkeep.seals.signing.Signs`."""

    def __init__(self, private: Ed25519PrivateKey) -> None:
        self._private = private

    @property
    def public(self) -> str:
        """The public key, 64 hexadecimal letters."""
        return self._private.public_key().public_bytes_raw().hex()

    def sign(self, message: bytes) -> bytes:
        """The signature over a message, 64 bytes (RFC 8032, section 5.1.6)."""
        return self._private.sign(message)


def make_key(file: Path, password: str) -> SigningKey:
    """Makes a key in a new file that its owner alone can read.

    Raises :class:`Refused` where the password is too short, or the file is there or cannot be made.
    """
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
    from cryptography.hazmat.primitives.serialization import BestAvailableEncryption, Encoding, PrivateFormat

    if len(password) < LEAST_LETTERS:
        raise Refused(said("The password of a key has {n} letters or more.", n=LEAST_LETTERS))
    private = Ed25519PrivateKey.generate()
    locked = private.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, BestAvailableEncryption(password.encode()))
    try:
        descriptor = os.open(file, os.O_CREAT | os.O_EXCL | os.O_WRONLY, stat.S_IRUSR | stat.S_IWUSR)
    except OSError as error:
        raise Refused(said("{file} cannot be made: {why}.", file=file, why=str(error.strerror))) from None
    with os.fdopen(descriptor, "wb") as written:
        written.write(locked)
        written.flush()
        os.fsync(written.fileno())
    return SigningKey(private)


def open_key(file: Path, password: str) -> SigningKey:
    """The key in a file; raises :class:`Refused` where others can read it, or the password does not open it."""
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
    from cryptography.hazmat.primitives.serialization import load_pem_private_key

    try:
        with file.open("rb") as opened:
            _refuse_where_others_read(file, os.fstat(opened.fileno()))
            private = load_pem_private_key(opened.read(_LONGEST), password.encode())
    except OSError as error:
        raise Refused(said("{file} cannot be read: {why}.", file=file, why=str(error.strerror))) from None
    except (ValueError, TypeError):
        raise Refused(said("{file} is no key for seals, or this is not its password.", file=file)) from None
    if not isinstance(private, Ed25519PrivateKey):
        raise Refused(said("{file} is a key of another kind; make one with 'strokebook seal key'.", file=file))
    return SigningKey(private)


def _refuse_where_others_read(file: Path, status: os.stat_result) -> None:
    if os.name != "nt" and status.st_mode & (stat.S_IRWXG | stat.S_IRWXO):
        raise Refused(
            said(
                "{file} can be read by others than its owner, so what it signs proves nothing. Close it to them (chmod "
                "600 {file}), and make a new key if it was open for long.",
                file=file,
            )
        )

"""Signed seals: Ed25519 (RFC 8032) over the line of a seal, with keys as hexadecimal text."""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol

from upkeep.seals.line import SealLine


class Signs(Protocol):
    """A private key that is open."""

    @property
    def public(self) -> str:
        """The public key that belongs to it, 64 hexadecimal letters."""
        ...

    def sign(self, message: bytes) -> bytes:
        """The signature over a message, 64 bytes."""
        ...


def signed(seal: SealLine, key: Signs) -> SealLine:
    """The seal with the public key and the signature of whoever has the key."""
    named = replace(seal, key=key.public, signature=None)
    return replace(named, signature=key.sign(named.signed_text.encode("ascii")).hex())


def signature_fits(seal: SealLine) -> bool:
    """Whether the signature of a seal was made over this very line with the key it names; not whose that is."""
    from cryptography.exceptions import InvalidSignature
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

    if seal.key is None or seal.signature is None:
        return False
    try:
        public = Ed25519PublicKey.from_public_bytes(bytes.fromhex(seal.key))
        public.verify(bytes.fromhex(seal.signature), seal.signed_text.encode("ascii"))
    except (InvalidSignature, ValueError):
        return False
    return True
